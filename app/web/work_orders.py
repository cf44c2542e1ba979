"""What the pages of a work order show, gathered from the register; nothing is decided here."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.possible import Possible, on_order, on_unit
from app.web.acts.unit_acts import line_at, scale_units
from supports.calc.turns import TurnCount
from supports.model import (
    Change,
    WorkOrder,
    WorkOrderBefore,
    WorkOrderHold,
    WorkOrderMaterial,
)
from supports.queries.change_record import work_blockers
from supports.queries.change_views import signatures_on
from supports.queries.lookups import work_order_of
from supports.queries.order_copies import copies_of
from supports.queries.orders import holds_not_released
from supports.queries.plans import plan_blockers, plans_of_order
from supports.queries.rounds import RoundRead, rounds_read
from supports.queries.site import settings_in_force
from supports.queries.unit_history import stops_in
from supports.queries.waiting import OpenOrder
from supports.queries.work_order_views import work_order_view
from supports.rules.work_plan import as_found_window
from supports.rules.workflow import LineState, OrderKind, OrderState
from supports.rules.workflow.steps import roles_an_order_waits_for
from supports.snapshots import CopyView, SignatureView, WorkOrderLineView, WorkOrderView


def orders_over(session: Session) -> tuple[OpenOrder, ...]:
    """Return the orders that are at their end, the newest first."""
    query = (
        select(WorkOrder, Change.number)
        .join(Change, WorkOrder.change_id == Change.id)
        .where(WorkOrder.state.in_({OrderState.ACCEPTED, OrderState.WITHDRAWN}))
        .order_by(WorkOrder.id.desc())
        .limit(100)
    )
    return tuple(
        OpenOrder(one.number, change, one.kind, one.state, one.written_on, ())
        for one, change in session.execute(query)
    )


@dataclass(frozen=True, slots=True)
class Hold:
    """A point at which work waits for the word of one of these roles."""

    hold_no: int
    what: str
    released_by: str


@dataclass(frozen=True, slots=True)
class Material:
    """A part that the work needs."""

    item: str
    quantity: float
    status: str
    due_on: date | None


@dataclass(frozen=True, slots=True)
class JobBefore:
    """A job that must be done before the work may start."""

    job: str
    done_on: date | None
    done_by: str


@dataclass(frozen=True, slots=True)
class OrderFile:
    """All that the page of a work order shows."""

    order: WorkOrderView
    waits_for: tuple[str, ...]
    blockers: tuple[str, ...]
    possible: tuple[Possible, ...]
    holds: tuple[Hold, ...]
    copies: tuple[CopyView, ...]
    materials: tuple[Material, ...]
    befores: tuple[JobBefore, ...]
    signed: tuple[SignatureView, ...]
    plans: tuple[str, ...]

    @property
    def settled(self) -> int:
        """Return how many units are settled."""
        return sum(LineState(line.state).is_settled for line in self.order.lines)


def order_file(session: Session, number: str) -> OrderFile:
    """Return all that the page of a work order shows."""
    order, view = work_order_of(session, number), work_order_view(session, number)
    return OrderFile(
        order=view,
        waits_for=tuple(map(str, roles_an_order_waits_for(OrderState(order.state)))),
        blockers=tuple(_blockers(session, order)),
        possible=on_order(session, order),
        holds=tuple(
            Hold(one.hold_no, one.what, one.released_by)
            for one in _rows(session, WorkOrderHold, order)
        ),
        copies=copies_of(session, number),
        materials=tuple(
            Material(one.item, one.quantity, one.status, one.due_on)
            for one in _rows(session, WorkOrderMaterial, order)
        ),
        befores=tuple(
            JobBefore(one.job, one.done_on, one.done_by or "")
            for one in _rows(session, WorkOrderBefore, order)
        ),
        signed=tuple(signatures_on(session, "work order", order.id)),
        plans=tuple(plan.number for plan, _ in plans_of_order(session, order.id)),
    )


_Part = TypeVar("_Part", WorkOrderHold, WorkOrderMaterial, WorkOrderBefore)


def _rows(session: Session, table: type[_Part], order: WorkOrder) -> list[_Part]:
    query = select(table).where(table.work_order_id == order.id).order_by(table.id)
    return list(session.scalars(query))


def _blockers(session: Session, order: WorkOrder) -> list[str]:
    """Return why work under an order may not go on."""
    over = OrderState(order.state) in {OrderState.ACCEPTED, OrderState.WITHDRAWN}
    if over or order.kind != OrderKind.RE_SET:
        return []
    change = session.get_one(Change, order.change_id)
    return [*work_blockers(session, change), *plan_blockers(session, order.id)]


@dataclass(frozen=True, slots=True)
class UnitFile:
    """All that the page of one unit of a work order shows; loads [N]."""

    order: WorkOrderView
    line: WorkOrderLineView
    units: tuple[str, str]
    """In which its scale and its pointer are marked."""
    found_window: tuple[float, float] | None
    turns: str
    rounds: tuple[RoundRead, ...]
    holds: tuple[WorkOrderHold, ...]
    stops: tuple[str, ...]
    signed: tuple[SignatureView, ...]
    possible: tuple[Possible, ...]

    @property
    def stands(self) -> LineState:
        """Return where the work at the unit stands."""
        return LineState(self.line.state)


def unit_file(session: Session, where: tuple[str, str, str], today: date) -> UnitFile:
    """Return all that the page of one unit shows."""
    row, order = line_at(session, where), work_order_of(session, where[0])
    view = work_order_view(session, where[0])
    line = next(one for one in view.lines if one.id == row.id)
    share = settings_in_force(session, today).step_disagreement
    return UnitFile(
        order=view,
        line=line,
        units=scale_units(session, row),
        found_window=_found_window(line),
        turns="" if line.turns is None else str(TurnCount(line.turns, line.flats or 0)),
        rounds=rounds_read(session, row, share),
        holds=tuple(holds_not_released(session, row)) if line.action == "re-set" else (),
        stops=stops_in(session, [row.unit_id]).get(row.unit_id, ()),
        signed=tuple(signatures_on(session, "work order line", row.id)),
        possible=on_unit(session, order, row),
    )


def _found_window(line: WorkOrderLineView) -> tuple[float, float] | None:
    start, low, high = line.from_load, line.window_low, line.window_high
    if start is None or low is None or high is None:
        return None
    return as_found_window(start, low, high)
