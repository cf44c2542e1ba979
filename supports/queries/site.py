"""The site's settings in force on a day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import SiteSetting
from supports.plant_time import TIME_ZONE
from supports.rules.site_settings import SiteSettings, proposed_settings

PLANT_NAME, FORM_KEY = "plant name", "form key"
_NAMELESS = "plant without a name"
WORDS = {PLANT_NAME, FORM_KEY, TIME_ZONE}
"""Settings that are words, where the others are numbers."""


def plant_name(session: Session) -> str:
    """Return the plant's name, as it is printed on papers."""
    return _text(session, PLANT_NAME) or _NAMELESS


def plant_and_zone(session: Session) -> tuple[str, str]:
    """Return the plant's name and the name of its time zone, '' where none is laid down."""
    query = (
        select(SiteSetting)
        .where(SiteSetting.name.in_({PLANT_NAME, TIME_ZONE}), SiteSetting.scope == "")
        .order_by(SiteSetting.valid_from, SiteSetting.id)
    )
    held = {row.name: str(row.value["text"]) for row in session.scalars(query)}
    return held.get(PLANT_NAME) or _NAMELESS, held.get(TIME_ZONE, "")


@dataclass(frozen=True, slots=True)
class ZoneLaidDown:
    """A time zone of the plant, from the day on which it was laid down."""

    zone: str
    valid_from: date
    owner: str
    reason: str


def zones_laid_down(session: Session) -> tuple[ZoneLaidDown, ...]:
    """Return every time zone that was laid down for the plant, the newest first."""
    query = (
        select(SiteSetting)
        .where(SiteSetting.name == TIME_ZONE, SiteSetting.scope == "")
        .order_by(SiteSetting.valid_from.desc(), SiteSetting.id.desc())
    )
    return tuple(
        ZoneLaidDown(str(row.value["text"]), row.valid_from, row.owner or "", row.source or "")
        for row in session.scalars(query)
    )


def form_key(session: Session) -> str:
    """Return the key that seals the rows of forms to be filled."""
    return _text(session, FORM_KEY)


def form_key_rows(session: Session) -> tuple[int, ...]:
    """Return the ids of the settings that hold such keys, so that no list prints them."""
    return tuple(session.scalars(select(SiteSetting.id).where(SiteSetting.name == FORM_KEY)))


def _text(session: Session, name: str) -> str:
    query = (
        select(SiteSetting)
        .where(SiteSetting.name == name)
        .order_by(SiteSetting.valid_from.desc(), SiteSetting.id.desc())
        .limit(1)
    )
    row = session.scalar(query)
    return str(row.value["text"]) if row else ""


def settings_in_force(session: Session, today: date) -> SiteSettings:
    """Return the proposed limits with the site's own in their place."""
    query = (
        select(SiteSetting)
        .where(SiteSetting.name.not_in(WORDS), SiteSetting.scope == "")
        .where(SiteSetting.valid_from <= today)
        .order_by(SiteSetting.valid_from, SiteSetting.id)
    )
    laid_down = {row.name: float(row.value["si"]) for row in session.scalars(query)}
    return proposed_settings().with_values(laid_down)
