"""Work orders with what was read at each unit."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from supports.model import (
    Assembly,
    Change,
    Nameplate,
    Reading,
    StepReading,
    SupportTag,
    Unit,
    UnitPlacement,
    WorkOrder,
    WorkOrderLine,
)
from supports.queries.asked_once import by_first
from supports.queries.lookups import work_order_of
from supports.queries.orders import orders_on_change
from supports.snapshots import ReadingView, WorkOrderLineView, WorkOrderView
from supports.vocabulary import Occasion


def work_order_view(session: Session, number: str) -> WorkOrderView:
    """Return a work order with its lines in order."""
    order = work_order_of(session, number)
    return _views(session, [order], session.get_one(Change, order.change_id))[0]


def _views(session: Session, orders: Sequence[WorkOrder], change: Change) -> list[WorkOrderView]:
    lines = _lines(session, [order.id for order in orders])
    return [_view(order, change.number, lines.get(order.id, ())) for order in orders]


def _view(order: WorkOrder, change: str, lines: tuple[WorkOrderLineView, ...]) -> WorkOrderView:
    return WorkOrderView(
        id=order.id,
        number=order.number,
        change=change,
        assessment_id=order.assessment_id,
        state=order.state,
        line_state_needed=order.line_state_needed,
        written_on=order.written_on,
        written_by=order.written_by,
        crew=order.crew,
        hours=order.hours,
        lines=lines,
        kind=order.kind,
        scaffold_group=order.scaffold_group or "",
        scaffold_hours=order.scaffold_hours,
    )


def order_numbers(session: Session) -> list[str]:
    """Return the numbers of all work orders, oldest first."""
    return list(session.scalars(select(WorkOrder.number).order_by(WorkOrder.id)))


def orders_of_change(session: Session, change_id: int) -> list[WorkOrderView]:
    """Return all work orders of a change, oldest first."""
    orders = orders_on_change(session, change_id)
    return _views(session, orders, session.get_one(Change, change_id)) if orders else []


def readings_on_line(session: Session, line_id: int) -> dict[str, ReadingView]:
    """Return the newest reading of each occasion on a work order line."""
    return readings_on_lines(session, [line_id])[line_id]


def readings_on_lines(
    session: Session, line_ids: Sequence[int]
) -> dict[int, dict[str, ReadingView]]:
    """Return the newest reading of each occasion on work order lines, by line."""
    found: dict[int, dict[str, ReadingView]] = {line_id: {} for line_id in line_ids}
    query = select(Reading).where(Reading.work_order_line_id.in_(line_ids)).order_by(Reading.id)
    for reading in session.scalars(query):
        found[reading.work_order_line_id or 0][reading.occasion] = ReadingView(
            read_on=reading.read_on,
            plant_state=reading.plant_state,
            scale_load=reading.scale_load,
            pointer=reading.pointer,
            read_by=reading.read_by,
            occasion=reading.occasion,
            second_reader=reading.second_reader or "",
        )
    return found


def readers_of_line(session: Session, line_id: int) -> set[str]:
    """Return who read what a unit was left at, and who read it a second time."""
    left = readings_on_line(session, line_id).get(Occasion.AS_LEFT)
    return set() if left is None else {left.read_by, left.second_reader} - {""}


def rounds_on_line(session: Session, line_id: int) -> dict[int, float]:
    """Return the load read after each round of turns on a work order line [N]."""
    query = select(StepReading).where(StepReading.work_order_line_id == line_id)
    return {one.round_no: one.load for one in session.scalars(query.order_by(StepReading.id))}


def _lines(session: Session, orders: Collection[int]) -> dict[int, tuple[WorkOrderLineView, ...]]:
    query = (
        select(
            WorkOrderLine,
            SupportTag.tag,
            UnitPlacement.position,
            Unit.serial,
            Nameplate.scale_unit,
        )
        .join(Unit, WorkOrderLine.unit_id == Unit.id)
        .join(UnitPlacement, UnitPlacement.unit_id == Unit.id)
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .outerjoin(Nameplate, Nameplate.unit_id == Unit.id)
        .join(SupportTag, SupportTag.point_id == WorkOrderLine.point_id)
        .where(WorkOrderLine.work_order_id.in_(orders), SupportTag.valid_to.is_(None))
        .where(UnitPlacement.id.in_(_last_placements()))
        .order_by(WorkOrderLine.order_no)
    )
    rows = session.execute(query).all()
    readings = readings_on_lines(session, [line.id for line, *_ in rows])
    return by_first(
        (
            line.work_order_id,
            _line(line, (tag, position), serial or "", scale or "", readings[line.id]),
        )
        for line, tag, position, serial, scale in rows
    )


def _last_placements() -> Select[int]:
    """Return the newest place of every unit, so that a unit taken out keeps its lines."""
    return select(func.max(UnitPlacement.id)).group_by(UnitPlacement.unit_id)


def _line(
    line: WorkOrderLine, place: tuple[str, str], serial: str, scale_unit: str,
    readings: Mapping[str, ReadingView],
) -> WorkOrderLineView:  # fmt: skip
    tag, position = place
    return WorkOrderLineView(
        id=line.id,
        order_no=line.order_no,
        point_id=line.point_id,
        tag=tag,
        unit_id=line.unit_id,
        position=position,
        serial=serial,
        action=line.action,
        state=line.state,
        from_load=line.from_load,
        to_load=line.to_load,
        window_low=line.window_low,
        window_high=line.window_high,
        turns=line.turns,
        flats=line.flats,
        direction=line.direction or "",
        remark=line.remark or "",
        as_found=readings.get("as found"),
        as_left=readings.get("as left"),
        waits_for=line.waits_for or "",
        scale_unit=scale_unit,
    )
