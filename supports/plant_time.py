"""The plant's clock: which day and time it is where the plant stands; moments are kept in UTC."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, tzinfo
from functools import cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from supports.errors import BadInput

Zone = tzinfo | None
"""Time zone of the plant; None where nobody laid one down: days are then those of UTC."""


TIME_ZONE = "time zone"
"""Under this the site lays it down."""
ZONE = "zone of the plant"
"""Under this a session keeps the zone that its register goes by."""


@cache
def zone_named(name: str) -> ZoneInfo:
    """Return a time zone by the name that it was laid down with.

    >>> zone_named("Europe/Berlin").key
    'Europe/Berlin'

    Raises
    ------
    BadInput
        This machine knows none of that name.
    """
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise _no_zone(name) from None


def require_zone(name: str) -> None:
    """Raise BadInput unless the IANA database has a time zone of that name.

    All its names are looked through, a tenth of a second: it is asked where one is laid down, not
    whenever a register is opened.
    """
    if name not in available_timezones():
        raise _no_zone(name)


def _no_zone(name: str) -> BadInput:
    return BadInput(
        "there is no such time zone",
        found=name,
        expected="a name of the IANA database, e.g. Europe/Berlin, America/Chicago or UTC",
    )


def at_plant(moment: datetime, zone: Zone) -> datetime:
    """Return a moment of UTC as the plant's clock shows it, with its zone; else as it stands.

    >>> at_plant(datetime(2031, 5, 4, 2, 30), zone_named("America/Chicago")).isoformat()
    '2031-05-03T21:30:00-05:00'
    >>> at_plant(datetime(2031, 5, 4, 2, 30), None).isoformat()
    '2031-05-04T02:30:00'
    """
    return moment if zone is None else moment.replace(tzinfo=UTC).astimezone(zone)


def in_utc(moment: datetime) -> datetime:
    """Return a moment with its zone, told in UTC; one without a zone is of UTC.

    >>> in_utc(datetime(2031, 5, 3, 21, 30, tzinfo=zone_named("America/Chicago"))).isoformat()
    '2031-05-04T02:30:00+00:00'
    """
    return moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)


def day_of(moment: datetime, zone: Zone) -> date:
    """Return the day at the plant of a moment of UTC.

    >>> day_of(datetime(2031, 5, 4, 2, 30), zone_named("America/Chicago")).isoformat()
    '2031-05-03'
    """
    return at_plant(moment, zone).date()


def end_of(day: date, zone: Zone) -> datetime:
    """Return the last moment, in UTC, of a day at the plant.

    >>> end_of(date(2031, 5, 3), zone_named("America/Chicago")).isoformat()
    '2031-05-04T04:59:59.999999'
    """
    last = datetime.combine(day, time.max)
    if zone is None:
        return last
    return last.replace(tzinfo=zone).astimezone(UTC).replace(tzinfo=None)


def to_the_minute(moment: datetime) -> str:
    """Write a moment as it stands, with its zone if it has one.

    >>> to_the_minute(datetime(2031, 5, 4, 2, 30))
    '2031-05-04 02:30'
    """
    return f"{moment:%Y-%m-%d %H:%M} {moment.tzname() or ''}".rstrip()


def clock_words(moment: datetime, zone: Zone) -> str:
    """Write a moment of UTC to the minute as the plant's clock shows it, with its zone.

    >>> clock_words(datetime(2031, 5, 4, 2, 30), zone_named("America/Chicago"))
    '2031-05-03 21:30 CDT'
    >>> clock_words(datetime(2031, 5, 4, 2, 30), None)
    '2031-05-04 02:30 UTC'
    """
    shown = at_plant(moment, zone)
    return f"{shown:%Y-%m-%d %H:%M} {shown.tzname() or 'UTC'}"
