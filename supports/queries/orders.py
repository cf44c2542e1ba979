"""Lines of work orders by name, what a signature on one covers, and the units of a change."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.freezing import fingerprint
from supports.model import (
    Change,
    Reading,
    Signature,
    SupportTag,
    UnitPlacement,
    WorkOrder,
    WorkOrderHold,
    WorkOrderLine,
)


def lines_of_change(session: Session, change_id: int, kind: str = "") -> list[WorkOrderLine]:
    """Return all lines of a change's orders, in order; of one kind of order if asked."""
    query = (
        select(WorkOrderLine)
        .join(WorkOrder, WorkOrderLine.work_order_id == WorkOrder.id)
        .where(WorkOrder.change_id == change_id)
        .order_by(WorkOrder.id, WorkOrderLine.order_no)
    )
    return list(session.scalars(query.where(WorkOrder.kind == kind) if kind else query))


def change_of_line(session: Session, line: WorkOrderLine) -> Change:
    """Return the change that a line's order belongs to."""
    order = session.get_one(WorkOrder, line.work_order_id)
    return session.get_one(Change, order.change_id)


def name_of_unit(session: Session, point_id: int, unit_id: int) -> str:
    """Return a unit's name as people say it: the present tag and its position."""
    tag = session.scalar(
        select(SupportTag.tag).where(SupportTag.point_id == point_id, SupportTag.valid_to.is_(None))
    )
    position = session.scalar(
        select(UnitPlacement.position)
        .where(UnitPlacement.unit_id == unit_id)
        .order_by(UnitPlacement.id.desc())
        .limit(1)
    )
    return f"{tag}/{position}"


def name_of_line(session: Session, line: WorkOrderLine) -> str:
    """Return the name of the unit that a line is about."""
    return name_of_unit(session, line.point_id, line.unit_id)


def units_of_change(session: Session, change_id: int) -> dict[int, str]:
    """Return the names of all units on the work orders of a change, by id."""
    lines = lines_of_change(session, change_id)
    names = names_of_lines(session, lines)
    return {line.unit_id: name for line, name in zip(lines, names, strict=True)}


def names_of_lines(session: Session, lines: Sequence[WorkOrderLine]) -> list[str]:
    """Return the names of the units that lines are about, each as `name_of_unit` says it."""
    tags = select(SupportTag.point_id, SupportTag.tag).where(
        SupportTag.point_id.in_({line.point_id for line in lines}), SupportTag.valid_to.is_(None)
    )
    places = (
        select(UnitPlacement.unit_id, UnitPlacement.position)
        .where(UnitPlacement.unit_id.in_({line.unit_id for line in lines}))
        .order_by(UnitPlacement.id)
    )
    # a result has keys of its own, so dict() would not take its rows
    tag_at = {point_id: tag for point_id, tag in session.execute(tags)}  # noqa: C416  as above
    position = {unit_id: place for unit_id, place in session.execute(places)}  # noqa: C416  too
    return [f"{tag_at.get(line.point_id)}/{position.get(line.unit_id)}" for line in lines]


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
