"""Write the work order of a cleared change; a later one takes over what an earlier left."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from supports.database import Register
from supports.errors import NotReady
from supports.model import Assessment, Change, WorkOrderLine
from supports.operations.acting import Deed, deed
from supports.operations.order_states import recall_copies, refresh_orders
from supports.operations.work_orders.from_plans import (
    Followed,
    follow,
    line_state_of,
    lines_following,
    plans_followed,
    same_order,
)
from supports.operations.work_orders.making import make_order
from supports.queries.change_record import work_blockers
from supports.queries.change_views import content_of, latest_assessment
from supports.queries.lookups import change_of
from supports.queries.orders import lines_of_change, name_of_line
from supports.rules.work_plan import planned_lines
from supports.rules.workflow import ChangeState, LineState, OrderKind, require_roles
from supports.sentences import Sentence
from supports.vocabulary import Role

WRITERS = {Role.PLANNER, Role.STRESS_ENGINEER, Role.COORDINATOR}


def write_work_order(
    register: Register, change_number: str, *, line_state: str, acting: str, now: datetime
) -> str:
    """Write the work order of a cleared change; return its number.

    Where a plan was chosen, turns, order, readings and the state of the line are the plan's.

    Parameters
    ----------
    line_state
        State of the line that the work needs; '' leaves it to the plan.

    Raises
    ------
    NotReady
        The change is not cleared, has its work order already, units are still to be compared with
        a newer assessment, or its lines have no unit to read or turn.
    """
    with deed(register, acting, now, action="write a work order", subject=change_number) as act:
        require_roles("write a work order", WRITERS, act.person.roles)
        change = change_of(act.session, change_number)
        followed = plans_followed(act.session, change)
        assessment = _cleared_assessment(act, change, followed)
        line_state = line_state_of(followed, line_state)
        done = _taken_over(act, change)
        content = content_of(assessment)
        planned = lines_following(content, followed, planned_lines(content, line_state))
        lines = [line for line in planned if line.unit_id not in done]
        if not lines:
            raise NotReady("no unit is left to be turned or read under this change")
        recall_copies(act, change)
        refresh_orders(act.session, change)
        order = make_order(act, change, assessment, OrderKind.RE_SET, line_state, lines)
        follow(act.session, order, followed)
        return order.number


def _cleared_assessment(act: Deed, change: Change, followed: Sequence[Followed]) -> Assessment:
    if ChangeState(change.state) not in {ChangeState.CLEARED, ChangeState.BEING_DONE}:
        raise NotReady(
            "only a change that is cleared to build gets a work order",
            (Sentence("{change} stands at: {state}", change=change.number, state=change.state),),
        )
    if blockers := work_blockers(act.session, change):
        raise NotReady(Sentence("{change} gets no work order", change=change.number), blockers)
    assessment = latest_assessment(act.session, change.id)
    if known := same_order(act.session, change, assessment, followed):
        raise NotReady(
            Sentence("{change} has its work order already", change=change.number), (known,)
        )
    return assessment


_REPLACED = {LineState.STOPPED, LineState.TO_BE_DONE_AGAIN}


def _taken_over(act: Deed, change: Change) -> set[int]:
    """Take over what earlier orders left undone; return the units that are done."""
    lines = lines_of_change(act.session, change.id, OrderKind.RE_SET)
    open_ones = [line for line in lines if _keeps_waiting(line)]
    if open_ones:
        raise NotReady(
            "units of the earlier order are not settled against the new assessment",
            [
                Sentence("{unit}: {state}", unit=name_of_line(act.session, line), state=line.state)
                for line in open_ones
            ],
            remedy="Compare them: supports work-order compare; stop what is in hand: "
            "supports work-order stop",
        )
    for line in lines:
        if LineState(line.state) in _REPLACED:
            line.state = LineState.TAKEN_OVER
        elif LineState(line.state).is_untouched and line.state != LineState.READ:
            line.state, line.waits_for = LineState.WITHDRAWN, None
    return {line.unit_id for line in lines if line.state == LineState.KEPT}


def _keeps_waiting(line: WorkOrderLine) -> bool:
    state = LineState(line.state)
    return not (state.is_settled or state.is_untouched or state in _REPLACED)
