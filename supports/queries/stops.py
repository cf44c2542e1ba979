"""Travel stops that are in: pin, unit, who put it in, when and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import (
    Assembly,
    Attachment,
    Change,
    ChangeLine,
    Line,
    SupportTag,
    TravelStopEvent,
    UnitPlacement,
)
from supports.queries.orders import units_of_change
from supports.queries.plant_days import clock_at


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
    def in_short(self) -> str:
        """Return where it is in, as one of several things in the way."""
        return f"{self.unit}: travel stop {self.number} is in"

    def __str__(self) -> str:
        """Return it as a sentence."""
        return (
            f"travel stop {self.number} is in {self.unit}, put in by {self.put_in_by} on "
            f"{self.since:%Y-%m-%d} ({self.reason or 'no reason given'})"
        )


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
    return [_pin(session, event) for event in session.scalars(query)]


def pins_of_change(session: Session, change: Change) -> list[PinIn]:
    """Return the travel stops that are in at any unit of a change's lines or orders."""
    query = select(Line.number).join(ChangeLine, ChangeLine.line_id == Line.id)
    lines = set(session.scalars(query.where(ChangeLine.change_id == change.id)))
    units = units_of_change(session, change.id)
    return [pin for pin in pins_in(session) if lines & set(pin.lines) or pin.unit_id in units]


def stops_put_in(session: Session, since: datetime) -> set[str]:
    """Return the units with a travel stop in, or put in since a moment, by tag and by position."""
    query = select(TravelStopEvent.unit_id).where(
        TravelStopEvent.direction == "in", TravelStopEvent.happened_at >= since
    )
    units = {*session.scalars(query), *(pin.unit_id for pin in pins_in(session))}
    names = {where_unit_hangs(session, unit)[0] for unit in units}
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
    return [
        PinMoved(
            event.pin_number, where_unit_hangs(session, event.unit_id)[0], event.direction,
            event.happened_at, event.done_by, event.witness or "", event.reason or "",
            event.freed_by or "",
        )
        for event in session.scalars(query)
    ]  # fmt: skip


def _pin(session: Session, event: TravelStopEvent) -> PinIn:
    unit, lines = where_unit_hangs(session, event.unit_id)
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
    query = (
        select(UnitPlacement.position, Assembly.point_id, SupportTag.tag)
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .join(SupportTag, SupportTag.point_id == Assembly.point_id)
        .where(UnitPlacement.unit_id == unit_id, SupportTag.valid_to.is_(None))
        .order_by(UnitPlacement.id.desc())
        .limit(1)
    )
    place = session.execute(query).one_or_none()
    if place is None:
        return f"unit {unit_id}, not in place", ()
    lines = (
        select(Line.number)
        .join(Attachment, Attachment.line_id == Line.id)
        .where(Attachment.point_id == place.point_id)
        .order_by(Line.number)
    )
    return f"{place.tag}/{place.position}", tuple(session.scalars(lines))
