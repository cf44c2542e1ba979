"""A support with the loads that hold for it, and what was ordered there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Calculation, Change, WorkOrder, WorkOrderLine
from supports.queries.change_views import calculation_view, loads_apply_from, nozzle_limits
from supports.queries.limits import limits_in_force
from supports.queries.support_views import support_views
from supports.rules.judgement import SupportJudgement, judge_supports
from supports.snapshots import CalculationView, SupportView
from supports.vocabulary import Known


@dataclass(frozen=True, slots=True)
class JudgedSupport:
    """A support judged as it is set today, with the calculations that its loads are from."""

    support: SupportView
    judgement: SupportJudgement
    basis: tuple[CalculationView, ...]


@dataclass(frozen=True, slots=True)
class OrderedThere:
    """A line of a work order at a support."""

    order: str
    change: str
    written_on: date
    action: str
    state: str


def judged_supports(
    session: Session, points: Sequence[int], today: date
) -> tuple[JudgedSupport, ...]:
    """Judge supports as set today, by the calculations that hold for their lines."""
    loads = loads_apply_from(session, points, None)
    views = support_views(session, points, loads)
    lines = {line for view in views for line in view.lines}
    limits = limits_in_force(session, today)
    nozzles = nozzle_limits(session, lines)
    judged = judge_supports(
        views,
        limits.settings,
        overrides=limits.overrides,
        near_nozzle={one.line for one in nozzles},
        near_machine={one.line for one in nozzles if one.machine is Known.YES},
    )
    named = {
        line: calculation_view(session.get_one(Calculation, number))
        for line, number in loads.items()
    }
    return tuple(
        JudgedSupport(
            view, one, tuple(named[line] for line in view.lines if line in named and view.required)
        )
        for view, one in zip(views, judged, strict=True)
    )


def ordered_at(session: Session, point: int) -> tuple[OrderedThere, ...]:
    """Return every line of a work order at a support, the newest first."""
    query = (
        select(WorkOrderLine, WorkOrder, Change.number)
        .join(WorkOrder, WorkOrderLine.work_order_id == WorkOrder.id)
        .join(Change, WorkOrder.change_id == Change.id)
        .where(WorkOrderLine.point_id == point)
        .order_by(WorkOrder.id.desc(), WorkOrderLine.order_no)
    )
    return tuple(
        OrderedThere(order.number, change, order.written_on, line.action, line.state)
        for line, order, change in session.execute(query)
    )
