"""Lines of work orders by name, what a signature on one covers, and the units of a change."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from supports.freezing import fingerprint
from supports.model import (
    Change,
    Reading,
    Signature,
    SupportTag,
    Unit,
    UnitPlacement,
    WorkOrder,
    WorkOrderHold,
    WorkOrderLine,
)
from supports.queries.asked_once import ask_together, by_first, of_many, of_one


def orders_on_change(session: Session, change_id: int) -> tuple[WorkOrder, ...]:
    """Return the work orders of a change, oldest first."""
    rows = of_one(session, Change, _orders, change_id) or ()
    return tuple(dict.fromkeys(order for order, _ in rows))


def lines_of_change(session: Session, change_id: int, kind: str = "") -> list[WorkOrderLine]:
    """Return all lines of a change's orders, in order; of one kind of order if asked."""
    rows = of_one(session, Change, _orders, change_id) or ()
    return [line for order, line in rows if line is not None and kind in {"", order.kind}]


def _orders(
    session: Session, changes: Collection[int]
) -> dict[int, tuple[tuple[WorkOrder, WorkOrderLine | None], ...]]:
    """Return the lines of all orders by change, with their order; an order may have no line."""
    query = (
        select(WorkOrder, WorkOrderLine)
        .outerjoin(WorkOrderLine, WorkOrderLine.work_order_id == WorkOrder.id)
        .where(WorkOrder.change_id.in_(changes))
        .order_by(WorkOrder.id, WorkOrderLine.order_no)
    )
    rows = [(order, line) for order, line in session.execute(query)]
    lines = [line for _, line in rows if line is not None]
    ask_together(session, WorkOrderLine, (line.id for line in lines))
    ask_together(session, Unit, (line.unit_id for line in lines))
    return by_first((order.change_id, (order, line)) for order, line in rows)


def change_of_line(session: Session, line: WorkOrderLine) -> Change:
    """Return the change that a line's order belongs to."""
    order = session.get_one(WorkOrder, line.work_order_id)
    return session.get_one(Change, order.change_id)


def name_of_line(session: Session, line: WorkOrderLine) -> str:
    """Return the name of the unit that a line is about."""
    return names_of_lines(session, [line])[0]


def units_of_change(session: Session, change_id: int) -> dict[int, str]:
    """Return the names of all units on the work orders of a change, by id."""
    lines = lines_of_change(session, change_id)
    names = names_of_lines(session, lines)
    return {line.unit_id: name for line, name in zip(lines, names, strict=True)}


def names_of_lines(session: Session, lines: Sequence[WorkOrderLine]) -> list[str]:
    """Return the names of the units that lines are about: the present tag, and the position."""
    found = of_many(session, WorkOrderLine, _names, (line.id for line in lines))
    return [str(found[line.id]) for line in lines]


def _names(session: Session, lines: Collection[int]) -> dict[int, str]:
    place, newer = aliased(UnitPlacement), aliased(UnitPlacement)
    newest = (
        select(func.max(newer.id))
        .where(newer.unit_id == WorkOrderLine.unit_id)
        .correlate(WorkOrderLine)
    )
    query = (
        select(WorkOrderLine.id, SupportTag.tag, place.position)
        .outerjoin(
            SupportTag,
            (SupportTag.point_id == WorkOrderLine.point_id) & SupportTag.valid_to.is_(None),
        )
        .outerjoin(place, place.id == newest.scalar_subquery())
        .where(WorkOrderLine.id.in_(lines))
    )
    return {line: f"{tag}/{position}" for line, tag, position in session.execute(query)}


def readers_of_change(session: Session, change_id: int) -> set[str]:
    """Return everybody who turned or read a unit under a change."""
    query = (
        select(Reading.read_by, Reading.second_reader)
        .join(WorkOrderLine, Reading.work_order_line_id == WorkOrderLine.id)
        .join(WorkOrder, WorkOrderLine.work_order_id == WorkOrder.id)
        .where(WorkOrder.change_id == change_id)
    )
    return {name for pair in session.execute(query) for name in pair if name}


def line_content(session: Session, line: WorkOrderLine) -> dict[str, str]:
    """Return the fingerprint of what a signature on a line covers, part by part."""
    parts: dict[str, object] = {
        "target": [line.action, line.to_load, line.window_low, line.window_high],
    }
    query = (
        select(Reading.occasion, func.max(Reading.id))
        .where(Reading.work_order_line_id == line.id)
        .group_by(Reading.occasion)
    )
    for occasion, newest in session.execute(query):
        read = session.get_one(Reading, newest)
        parts[occasion] = [read.id, read.scale_load, read.pointer, read.read_by]
    return {name: fingerprint(part) for name, part in parts.items()}


def standing_on_line(session: Session, line: WorkOrderLine, meaning: str) -> list[Signature]:
    """Return the signatures of one meaning on a line that still say what was signed."""
    present = fingerprint(line_content(session, line))
    query = select(Signature).where(
        Signature.subject == "work order line",
        Signature.subject_id == line.id,
        Signature.meaning == meaning,
    )
    return [signed for signed in session.scalars(query) if signed.fingerprint == present]


def holds_not_released(session: Session, line: WorkOrderLine) -> list[WorkOrderHold]:
    """Return the hold points of a line's order that nobody released at this unit."""
    holds = select(WorkOrderHold).where(WorkOrderHold.work_order_id == line.work_order_id)
    query = select(Signature.meaning).where(
        Signature.subject == "work order line", Signature.subject_id == line.id
    )
    given = set(session.scalars(query))
    return [
        hold
        for hold in session.scalars(holds.order_by(WorkOrderHold.hold_no))
        if release_words(hold.hold_no) not in given
    ]


def release_words(hold_no: int) -> str:
    """Return what a signature says that releases a hold point."""
    return f"released hold {hold_no}"
