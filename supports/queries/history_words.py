"""What a row of a change's history says, for somebody who was not there: unit, value, names."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from itertools import chain
from typing import Any, TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import (
    Assessment,
    Base,
    ChangeProof,
    EmergencyAct,
    Line,
    PropEvent,
    Reading,
    Signature,
    StepReading,
    TravelStopEvent,
    Unit,
    WorkOrder,
    WorkOrderCopy,
    WorkOrderLine,
)
from supports.queries.asked_once import ask_together, beside_each_other, by_first
from supports.queries.narrowing import only
from supports.queries.orders import name_of_line
from supports.queries.stops import where_unit_hangs
from supports.queries.unit_history import units_marked
from supports.units import Kind, shown

_Row = TypeVar("_Row", bound=Base)


@contextmanager
def rows_at_hand(session: Session, rows: Iterable[tuple[str, int]]) -> Iterator[None]:
    """Read together what rows are going to say, and not row by row."""
    named = by_first(rows)

    def whole(table: type[_Row], ids: Iterable[int] = ()) -> Sequence[_Row]:
        wanted = {*ids, *named.get(table.__tablename__, ())}
        return (
            session.scalars(only(select(table), table.__table__.c.id, wanted)).all()
            if wanted
            else ()
        )

    with beside_each_other(session):
        readings, steps, stops = whole(Reading), whole(StepReading), whole(TravelStopEvent)
        signed, props, copies = whole(Signature), whole(PropEvent), whole(WorkOrderCopy)
        about = {one.subject_id for one in signed if one.subject == "work order line"}
        lines = whole(WorkOrderLine, about | {one.work_order_line_id for one in steps})
        held = (
            whole(ChangeProof), whole(Assessment), whole(EmergencyAct), props, copies,
            whole(Line, {one.line_id for one in props}),
            whole(WorkOrder, {one.work_order_id for one in copies}),
        )  # fmt: skip
        ask_together(session, WorkOrderLine, (one.id for one in lines))
        ask_together(session, Unit, (one.unit_id for one in chain[Any](readings, stops, lines)))
        yield
        del held


def words_of_row(session: Session, table: str, row: int) -> str:
    """Return what a row says in a few words; '' where its batch says it already."""
    said = _SAID.get(table)
    return said(session, row) if said else ""


def _reading(session: Session, row: int) -> str:
    one = session.get_one(Reading, row)
    scale, pointer = units_marked(session, one.unit_id)
    unit, load = where_unit_hangs(session, one.unit_id)[0], shown(one.scale_load, scale, Kind.LOAD)
    parts = [
        f"{unit} {one.occasion} {load}",
        f"pointer {shown(one.pointer, pointer, Kind.LENGTH)}",
        f"{one.plant_state}, read by {one.read_by} on {one.read_on}",
    ]
    if one.second_reader:
        parts.append(f"second reader {one.second_reader}")
    return ", ".join(parts)


def _step(session: Session, row: int) -> str:
    one = session.get_one(StepReading, row)
    line = session.get_one(WorkOrderLine, one.work_order_line_id)
    scale, _ = units_marked(session, line.unit_id)
    load = shown(one.load, scale, Kind.LOAD)
    return f"{name_of_line(session, line)} round {one.round_no}: {load}, read by {one.read_by}"


def _stop(session: Session, row: int) -> str:
    one = session.get_one(TravelStopEvent, row)
    unit = where_unit_hangs(session, one.unit_id)[0]
    witness = f", witness {one.witness}" if one.witness else ""
    freed = f", seen free by {one.freed_by}" if one.freed_by else ""
    return f"pin {one.pin_number} {one.direction} at {unit} by {one.done_by}{witness}{freed}"


def _prop(session: Session, row: int) -> str:
    one = session.get_one(PropEvent, row)
    line = session.get_one(Line, one.line_id).number
    witness = f", witness {one.witness}" if one.witness else ""
    return (
        f"prop {one.prop_number} {one.direction} at {one.along:.2f} m of {line} by "
        f"{one.done_by}{witness}"
    )


def _signature(session: Session, row: int) -> str:
    one = session.get_one(Signature, row)
    about = ""
    if one.subject == "work order line":
        about = f" {name_of_line(session, session.get_one(WorkOrderLine, one.subject_id))}"
    return f"signed as {one.role}: {one.meaning}{about}"


def _proof(session: Session, row: int) -> str:
    one = session.get_one(ChangeProof, row)
    return f"put off until {one.put_off_until}" if one.put_off_until else ""


def _copy(session: Session, row: int) -> str:
    one = session.get_one(WorkOrderCopy, row)
    order = session.get_one(WorkOrder, one.work_order_id)
    return f"{order.number} copy {one.copy_no} ({one.given_to})"


def _assessment(session: Session, row: int) -> str:
    one = session.get_one(Assessment, row)
    return f"revision {one.revision}, prepared by {one.prepared_by}"


def _emergency(session: Session, row: int) -> str:
    one = session.get_one(EmergencyAct, row)
    return f"{one.what}, cleared by {one.shift_leader} and {one.engineer}, done by {one.done_by}"


_SAID: Mapping[str, Callable[[Session, int], str]] = {
    Reading.__tablename__: _reading,
    StepReading.__tablename__: _step,
    TravelStopEvent.__tablename__: _stop,
    PropEvent.__tablename__: _prop,
    Signature.__tablename__: _signature,
    ChangeProof.__tablename__: _proof,
    WorkOrderCopy.__tablename__: _copy,
    Assessment.__tablename__: _assessment,
    EmergencyAct.__tablename__: _emergency,
}
