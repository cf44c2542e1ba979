"""Work orders, written from an approved assessment."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import NotReady
from supports.model import Assessment, Change, WorkOrder, WorkOrderLine
from supports.operations.acting import actor
from supports.queries.change_views import content_of, latest_assessment
from supports.queries.lookups import change_of
from supports.rules.work_plan import RE_SET, PlannedLine, planned_lines
from supports.rules.workflow import ChangeState, LineState, require_roles
from supports.vocabulary import Role


def write_work_order(
    register: Register, change_number: str, *, line_state: str, acting: str, now: datetime
) -> str:
    """Write the work order of a cleared change; return its number.

    Raises
    ------
    NotReady
        The change is not cleared, has its work order already, or nothing is to be re-set.
    """
    with register.writing(acting, "", now, action="write a work order") as writing:
        session, person = writing.session, actor(writing.session, acting, now.date())
        allowed = {Role.PLANNER, Role.STRESS_ENGINEER, Role.COORDINATOR}
        require_roles("write a work order", allowed, person.roles)
        change = change_of(session, change_number)
        assessment = _cleared_assessment(session, change)
        lines = list(planned_lines(content_of(assessment)))
        if not any(line.action == RE_SET for line in lines):
            raise NotReady("nothing is to be re-set under this change")
        order = WorkOrder(
            number=_next_number(session, now.year),
            change_id=change.id,
            assessment_id=assessment.id,
            state="given out",
            line_state_needed=line_state,
            written_on=now.date(),
            written_by=person.name,
        )
        session.add(order)
        session.flush()
        for place, line in enumerate(lines, start=1):
            session.add(_row(order.id, place, line))
        return order.number


def _row(order_id: int, place: int, line: PlannedLine) -> WorkOrderLine:
    return WorkOrderLine(
        work_order_id=order_id, order_no=place, state=LineState.WRITTEN, **asdict(line)
    )


def _cleared_assessment(session: Session, change: Change) -> Assessment:
    if change.state != ChangeState.CLEARED:
        raise NotReady(
            "only a change that is cleared to build gets a work order",
            (f"{change.number} stands at: {change.state}",),
        )
    if session.scalar(select(WorkOrder.id).where(WorkOrder.change_id == change.id)):
        raise NotReady(f"{change.number} has its work order already")
    return latest_assessment(session, change.id)


def _next_number(session: Session, year: int) -> str:
    count = session.scalar(select(func.count(WorkOrder.id))) or 0
    return f"WO-{year}-{count + 1:03d}"
