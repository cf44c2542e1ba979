"""Days at the plant, by the zone that the session's register goes by."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy.orm import Session

from supports.plant_time import ZONE, Zone, at_plant, day_of, end_of


def zone_of(session: Session) -> Zone:
    """Return the zone of the plant; None where none was laid down."""
    zone: Zone = session.info.get(ZONE)
    return zone


def day_at(session: Session, moment: datetime) -> date:
    """Return the day at the plant of a moment of UTC."""
    return day_of(moment, zone_of(session))


def end_of_day(session: Session, day: date) -> datetime:
    """Return the last moment, in UTC, of a day at the plant."""
    return end_of(day, zone_of(session))


def clock_at(session: Session, moment: datetime) -> datetime:
    """Return a moment of UTC as the plant's clock shows it, with its zone if one is laid down."""
    return at_plant(moment, zone_of(session))
