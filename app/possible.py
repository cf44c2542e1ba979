"""What is worth offering now on a change, a work order or a unit of it, and to whom.

Nothing is allowed here: the operation alone decides. An act is offered by the tables that the
operations go by, so that nobody is shown a button that can only be refused.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Change, Plan, WorkOrder, WorkOrderBefore, WorkOrderLine
from supports.operations.changes.deciding import THREE_PEOPLE
from supports.operations.changes.meeting import MEETERS
from supports.operations.changes.proving import PLACES
from supports.operations.plans.choosing import CHOOSERS
from supports.operations.plans.storing import PLANNERS
from supports.operations.work_orders.issuing import CHECKERS, GIVERS, TAKERS
from supports.operations.work_orders.planning import BEFORE_DONE, ORDER_PLANNERS
from supports.operations.work_orders.writing import WRITERS
from supports.queries.change_record import change_record, hands_on, unmet_changes
from supports.queries.change_views import latest_assessment_or_none
from supports.queries.order_copies import copies_of
from supports.queries.orders import (
    holds_not_released,
    lines_of_change,
    readers_of_change,
)
from supports.queries.plans import content_of_plan, plans_of_order, void_reasons
from supports.queries.proofs import items_wanting
from supports.queries.work_order_views import readers_of_line
from supports.rules.work_plan import READ_ONLY
from supports.rules.workflow import STEPS, ChangeState, LineState, OrderState
from supports.rules.workflow.unit_acts import UNIT_ACTS
from supports.vocabulary import Duration, Role


@dataclass(frozen=True, slots=True)
class Possible:
    """One act that can be done now.

    Parameters
    ----------
    roles
        Who may; empty: anybody who holds a role.
    not_by
        Who may not, whatever their roles, for the reason in `why`.
    """

    act: str
    roles: frozenset[Role] = frozenset()
    not_by: frozenset[str] = frozenset()
    why: str = ""

    def for_whom(self, person: str, roles: Collection[Role]) -> bool:
        """Return whether it is worth offering to a person with these roles."""
        held = self.roles & set(roles) if self.roles else set(roles)
        return bool(held) and person not in self.not_by


def on_change(session: Session, change: Change, today: date) -> tuple[Possible, ...]:
    """Return what can be done now with a change, in the order of its road."""
    state = ChangeState(change.state)
    return (
        *_writing(session, change, state),
        *_steps(session, change, state),
        *_around_the_work(session, change, state, today),
    )


def _writing(session: Session, change: Change, state: ChangeState) -> Iterator[Possible]:
    if not state.is_being_prepared:
        return
    yield Possible("describe")
    yield Possible("add weights")
    needs = frozenset(map(Role, change_record(session, change).needs))
    if needs and latest_assessment_or_none(session, change.id) is not None:
        yield Possible("agree", needs)
        yield Possible("object", needs)
    if next(unmet_changes(session, change), None) is not None:
        yield Possible("put together", frozenset(MEETERS))


_ONLY_TEMPORARY = {"put in force", "ask for the renewal of"}


def _steps(session: Session, change: Change, state: ChangeState) -> Iterator[Possible]:
    off: set[Role] = set()
    for step in STEPS:
        if state not in step.frm or not step.roles:
            continue
        if step.act in _ONLY_TEMPORARY and change.duration != Duration.TEMPORARY:
            continue
        if step.act.startswith("call off"):
            off |= step.roles
            continue
        not_by, why = _not_by(session, change, step.act)
        yield Possible(step.act, step.roles, not_by, why)
    if off:
        yield Possible("call off", frozenset(off))


def _not_by(session: Session, change: Change, act: str) -> tuple[frozenset[str], str]:
    assessment = latest_assessment_or_none(session, change.id)
    if act in {"check", "approve"} and assessment is not None:
        return frozenset(hands_on(session, assessment)), THREE_PEOPLE
    if act == "close":
        why = "whoever turned or read a unit does not close the change"
        return frozenset(readers_of_change(session, change.id)), why
    return frozenset(), ""


def _around_the_work(
    session: Session, change: Change, state: ChangeState, today: date
) -> Iterator[Possible]:
    if not state.is_over and latest_assessment_or_none(session, change.id) is not None:
        if state is ChangeState.TO_BE_PUT_RIGHT:
            yield Possible("plan the way back", PLANNERS)
            yield Possible("write the undo order", frozenset(WRITERS))
        else:
            yield Possible("make a plan", PLANNERS)
    if state is ChangeState.CLEARED and not lines_of_change(session, change.id, "re-set"):
        yield Possible("write the work order", frozenset(WRITERS))
    if state is ChangeState.BEING_DONE and _waits_for_order(session, change):
        yield Possible("write the work order", frozenset(WRITERS))
    wanting = items_wanting(session, change, today)
    if state in PLACES and wanting:
        yield Possible("prove", frozenset(role for item in wanting for role in item.roles))


_LEFT_UNDONE = {LineState.ON_HOLD, LineState.STOPPED, LineState.TO_BE_DONE_AGAIN}


def _waits_for_order(session: Session, change: Change) -> bool:
    """Return whether something of the earlier order is left for a later one."""
    lines = lines_of_change(session, change.id, "re-set")
    return any(LineState(line.state) in _LEFT_UNDONE for line in lines)


def on_plan(session: Session, plan: Plan) -> tuple[Possible, ...]:
    """Return what can be done now with a re-set plan."""
    content = content_of_plan(plan)
    sound = any(one.can_be_done and one.safe for one in content.alternatives)
    if content.missing or not sound or next(void_reasons(session, plan), None) is not None:
        return ()
    why = "whoever made the plan does not choose it"
    return (Possible("choose", CHOOSERS, frozenset({plan.made_by}), why),)


def on_order(session: Session, order: WorkOrder) -> tuple[Possible, ...]:
    """Return what can be done now with a work order as a whole."""
    return tuple(_on_order(session, order, OrderState(order.state)))


def _on_order(session: Session, order: WorkOrder, state: OrderState) -> Iterator[Possible]:
    if state is OrderState.WRITTEN:
        why = "whoever wrote the order does not check it"
        yield Possible("check", CHECKERS, frozenset({order.written_by}), why)
    over = state in {OrderState.ACCEPTED, OrderState.WITHDRAWN}
    if not over:
        yield Possible("plan", frozenset(ORDER_PLANNERS))
    if state not in {OrderState.WRITTEN, OrderState.ON_HOLD} and not over:
        yield Possible("give out", GIVERS)
        yield Possible("take a form back")
    if _differs(session, order) and len(plans_of_order(session, order.id)) == 1:
        yield Possible("plan again", PLANNERS)
    if any(not copy.fate for copy in copies_of(session, order.number)):
        yield Possible("take a copy back", TAKERS)
    jobs = select(WorkOrderBefore).where(WorkOrderBefore.work_order_id == order.id)
    if any(job.done_on is None for job in session.scalars(jobs.order_by(WorkOrderBefore.id))):
        yield Possible("job before is done", BEFORE_DONE)


def _differs(session: Session, order: WorkOrder) -> bool:
    lines = lines_of_change(session, order.change_id)
    return any(
        line.work_order_id == order.id and line.state == LineState.BACK_TO_ENGINEER
        for line in lines
    )


def on_unit(session: Session, order: WorkOrder, line: WorkOrderLine) -> tuple[Possible, ...]:
    """Return what can be done now at one unit of a work order."""
    return tuple(_on_unit(session, order, line))


_AFTER_GIVING_OUT = {OrderState.GIVEN_OUT, OrderState.IN_HAND, OrderState.FINISHED,
                     OrderState.ON_HOLD, OrderState.ACCEPTED}  # fmt: skip


def _on_unit(session: Session, order: WorkOrder, line: WorkOrderLine) -> Iterator[Possible]:
    if OrderState(order.state) not in _AFTER_GIVING_OUT:
        return
    state, only_read = LineState(line.state), line.action == READ_ONLY
    why = "whoever read it does not accept it"
    for act in UNIT_ACTS:
        if state in act.states(read_only=only_read):
            accepts = act.act.startswith("accept")
            readers = readers_of_line(session, line.id) if accepts else set()
            yield Possible(act.act, act.roles, frozenset(readers), why if accepts else "")
    if state.is_settled or only_read:
        return
    holds = holds_not_released(session, line)
    if holds:
        roles = (Role(one) for hold in holds for one in hold.released_by.split(", "))
        yield Possible("release hold", frozenset(roles))
