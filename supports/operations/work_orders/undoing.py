"""Orders that take a called-off change back, unit by unit, from what each was left at."""

from __future__ import annotations

from datetime import datetime

from supports.database import Register
from supports.errors import NotReady
from supports.model import Assessment, Change, WorkOrder, WorkOrderLine
from supports.operations.acting import Deed, deed
from supports.operations.work_orders.from_plans import (
    follow,
    line_state_of,
    plans_followed,
    way_back_lines,
)
from supports.operations.work_orders.making import make_order
from supports.operations.work_orders.writing import WRITERS
from supports.queries.change_views import content_of, latest_assessment
from supports.queries.lookups import change_of
from supports.queries.orders import lines_of_change, name_of_line
from supports.queries.site import settings_in_force
from supports.queries.support_views import support_views
from supports.rules.assessment import AssessmentContent
from supports.rules.reset_planning.wish import PlanKind
from supports.rules.work_plan import PlannedLine
from supports.rules.workflow import ChangeState, LineState, OrderKind, require_roles
from supports.rules.workflow.way_back import standing_of, way_back
from supports.sentences import Sentence


def write_undo_order(
    register: Register, change_number: str, *, line_state: str, acting: str, now: datetime
) -> str:
    """Write the order that puts units back to their former setting; return its number.

    Every unit that is to be put right and was not kept gets a line that starts from its newest
    reading and goes back to what it was set to before the change.

    Raises
    ------
    NotReady
        The change was not called off half-way, or nothing is left to be put right.
    """
    with deed(register, acting, now, action="write an undo order", subject=change_number) as act:
        require_roles("write a work order", WRITERS, act.person.roles)
        change = change_of(act.session, change_number)
        lines = [
            line
            for line in lines_of_change(act.session, change.id)
            if line.state == LineState.TO_BE_PUT_RIGHT
        ]
        if change.state != ChangeState.TO_BE_PUT_RIGHT or not lines:
            raise NotReady(
                Sentence("nothing of {change_number} is to be undone", change_number=change_number),
                (Sentence("it stands at: {state}", state=change.state),),
            )
        followed = plans_followed(act.session, change, (PlanKind.UNDO,))
        line_state = line_state_of(followed, line_state)
        by_plan = way_back_lines(followed, _assessed(act, change), lines)
        rest = [_back(act, line, line_state) for line in lines if line.unit_id not in by_plan]
        planned = [*by_plan.values(), *rest]
        first = act.session.get_one(WorkOrder, lines[0].work_order_id)
        assessment = act.session.get_one(Assessment, first.assessment_id)
        order = make_order(act, change, assessment, OrderKind.UNDO, line_state, planned)
        follow(act.session, order, followed)
        _tie(act, order, lines)
        return order.number


def _assessed(act: Deed, change: Change) -> AssessmentContent:
    return content_of(latest_assessment(act.session, change.id))


def _back(act: Deed, line: WorkOrderLine, line_state: str) -> PlannedLine:
    (view,) = support_views(act.session, [line.point_id])
    unit = next(unit for unit in view.units if unit.id == line.unit_id)
    order = act.session.get_one(WorkOrder, line.work_order_id)
    content = content_of(act.session.get_one(Assessment, order.assessment_id))
    present = None if unit.setting is None else unit.setting.load
    former = line.from_load
    standing = standing_of(unit, content, line_state)
    if standing is not None and unit.setting is not None:
        present = standing.here(unit, present, unit.setting.plant_state)
        former = standing.here(unit, former, order.line_state_needed)
    if present is None or former is None:
        raise NotReady(
            "the way back is not known",
            (
                Sentence(
                    "{unit}: present or former setting is not known",
                    unit=name_of_line(act.session, line),
                ),
            ),
            remedy="An engineer decides: keep it with an analysis, or read it first",
        )
    settings = settings_in_force(act.session, act.today)
    return way_back(line.point_id, unit, present, former, settings, standing)


def _tie(act: Deed, order: WorkOrder, lines: list[WorkOrderLine]) -> None:
    by_unit = {line.unit_id: line for line in lines}
    for new in lines_of_change(act.session, order.change_id, OrderKind.UNDO):
        old = by_unit.get(new.unit_id)
        if new.work_order_id == order.id and old is not None:
            new.undoes_id, old.state = old.id, LineState.BEING_UNDONE
