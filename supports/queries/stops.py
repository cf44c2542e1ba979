"""Travel stops that are in: pin, unit, who put it in, when and why."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import (
    Assembly,
    Attachment,
    Change,
    Line,
    SupportTag,
    TravelStopEvent,
    Unit,
    UnitPlacement,
)
from supports.queries.asked_once import of_many
from supports.queries.change_views import lines_changed
from supports.queries.narrowing import only
from supports.queries.orders import lines_of_change
from supports.queries.plant_days import clock_at
from supports.sentences import Sentence


@dataclass(frozen=True, slots=True)
class PinIn:
    """A travel stop that is in."""

    number: str
    unit_id: int
    unit: str
    lines: tuple[str, ...]
    since: datetime
    put_in_by: str
    witness: str
    reason: str

    @property
    def in_short(self) -> Sentence:
        """Return where it is in, as one of several things in the way."""
        return Sentence("{unit}: travel stop {number} is in", unit=self.unit, number=self.number)

    @property
    def in_words(self) -> Sentence:
        """Return where it is in, who put it in, when and why."""
        return Sentence(
            "travel stop {number} is in {unit}, put in by {person} on {day} ({reason})",
            number=self.number, unit=self.unit, person=self.put_in_by,
            day=f"{self.since:%Y-%m-%d}", reason=self.reason or "no reason given",
        )  # fmt: skip

    def __str__(self) -> str:
        return str(self.in_words)


def pins_in(session: Session) -> list[PinIn]:
    """Return every travel stop that is in, in the order in which they went in."""
    newest = select(func.max(TravelStopEvent.id)).group_by(
        TravelStopEvent.unit_id, TravelStopEvent.pin_number
    )
    query = (
        select(TravelStopEvent)
        .where(TravelStopEvent.id.in_(newest), TravelStopEvent.direction == "in")
        .order_by(TravelStopEvent.happened_at, TravelStopEvent.id)
    )
    events = session.scalars(query).all()
    hangs = where_units_hang(session, {event.unit_id for event in events})
    return [_pin(session, event, *hangs[event.unit_id]) for event in events]


def pins_of_change(session: Session, change: Change) -> list[PinIn]:
    """Return the travel stops that are in at any unit of a change's lines or orders."""
    lines = {line.number for line in lines_changed(session, change.id)}
    units = {line.unit_id for line in lines_of_change(session, change.id)}
    return [pin for pin in pins_in(session) if lines & set(pin.lines) or pin.unit_id in units]


def stops_put_in(session: Session, since: datetime) -> set[str]:
    """Return the units with a travel stop in, or put in since a moment, by tag and by position."""
    query = select(TravelStopEvent.unit_id).where(
        TravelStopEvent.direction == "in", TravelStopEvent.happened_at >= since
    )
    units = {*session.scalars(query), *(pin.unit_id for pin in pins_in(session))}
    names = {name for name, _ in where_units_hang(session, units).values()}
    return names | {name.rpartition("/")[0] for name in names}


@dataclass(frozen=True, slots=True)
class PinMoved:
    """One travel stop that went in or out."""

    number: str
    unit: str
    direction: str
    at: datetime
    by: str
    witness: str
    reason: str
    freed_by: str


def last_moves(session: Session, count: int) -> list[PinMoved]:
    """Return the last travel stops that went in or out, the newest first."""
    query = select(TravelStopEvent).order_by(TravelStopEvent.id.desc()).limit(count)
    events = session.scalars(query).all()
    hangs = where_units_hang(session, {event.unit_id for event in events})
    return [
        PinMoved(
            event.pin_number, hangs[event.unit_id][0], event.direction,
            event.happened_at, event.done_by, event.witness or "", event.reason or "",
            event.freed_by or "",
        )
        for event in events
    ]  # fmt: skip


def _pin(session: Session, event: TravelStopEvent, unit: str, lines: tuple[str, ...]) -> PinIn:
    return PinIn(
        number=event.pin_number,
        unit_id=event.unit_id,
        unit=unit,
        lines=lines,
        since=clock_at(session, event.happened_at),
        put_in_by=event.done_by,
        witness=event.witness or "",
        reason=event.reason,
    )


def where_unit_hangs(session: Session, unit_id: int) -> tuple[str, tuple[str, ...]]:
    """Return a unit's name as people say it, and the lines that it holds."""
    return where_units_hang(session, (unit_id,))[unit_id]


def where_units_hang(
    session: Session, units: Collection[int]
) -> dict[int, tuple[str, tuple[str, ...]]]:
    """Return by unit its name as people say it, and the lines that it holds."""
    found = of_many(session, Unit, _hang, units)
    return {unit: found[unit] or (f"unit {unit}, not in place", ()) for unit in units}


def _hang(session: Session, units: Collection[int]) -> dict[int, tuple[str, tuple[str, ...]]]:
    query = (
        select(
            UnitPlacement.unit_id, UnitPlacement.id, UnitPlacement.position, SupportTag.tag,
            Line.number,
        )
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .join(SupportTag, SupportTag.point_id == Assembly.point_id)
        .outerjoin(Attachment, Attachment.point_id == Assembly.point_id)
        .outerjoin(Line, Line.id == Attachment.line_id)
        .where(SupportTag.valid_to.is_(None))
        .order_by(UnitPlacement.id, Line.number)
    )  # fmt: skip
    places: dict[int, tuple[int, str, list[str]]] = {}
    for unit, place, position, tag, line in session.execute(
        only(query, UnitPlacement.unit_id, units)
    ):
        if unit not in places or places[unit][0] != place:
            places[unit] = (place, f"{tag}/{position}", [])
        if line is not None:
            places[unit][2].append(line)
    return {unit: (name, tuple(lines)) for unit, (_, name, lines) in places.items()}
