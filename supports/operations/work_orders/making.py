"""What every kind of work order has in common when it is written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import Assessment, Change, WorkOrder, WorkOrderHold, WorkOrderLine
from supports.operations.acting import Deed
from supports.queries.change_views import content_of
from supports.rules.work_plan import PlannedLine
from supports.rules.workflow import LineState, OrderKind, OrderState
from supports.vocabulary import Known, Role

_AFTER_ROUND_ONE = (
    "after round 1: the scale has moved as expected; at a unit near a load-limited nozzle",
    (Role.STRESS_ENGINEER, Role.RESPONSIBLE_ENGINEER),
)
AS_FOUND_HOLD, ROUND_ONE_HOLD = 1, 2


def make_order(
    act: Deed, change: Change, assessment: Assessment, kind: OrderKind, line_state: str,
    lines: Sequence[PlannedLine],
) -> WorkOrder:  # fmt: skip
    """Write an order with its lines and the hold points that its nozzles ask for."""
    order = WorkOrder(
        number=_next_number(act.session, act.now.year),
        change_id=change.id,
        assessment_id=assessment.id,
        kind=kind,
        state=OrderState.WRITTEN,
        line_state_needed=line_state,
        written_on=act.today,
        written_by=act.person.name,
    )
    act.session.add(order)
    act.session.flush()
    act.session.add_all(_rows(order.id, lines))
    if any(nozzle.machine is Known.YES for nozzle in content_of(assessment).nozzles):
        what, roles = _AFTER_ROUND_ONE
        act.session.add(
            WorkOrderHold(
                work_order_id=order.id,
                hold_no=ROUND_ONE_HOLD,
                what=what,
                released_by=", ".join(roles),
            )
        )
    act.session.flush()
    return order


def _rows(order_id: int, lines: Iterable[PlannedLine]) -> list[WorkOrderLine]:
    return [
        WorkOrderLine(
            work_order_id=order_id, order_no=place, state=LineState.WRITTEN, **asdict(line)
        )
        for place, line in enumerate(lines, start=1)
    ]


def _next_number(session: Session, year: int) -> str:
    count = session.scalar(select(func.count(WorkOrder.id))) or 0
    return f"WO-{year}-{count + 1:03d}"
