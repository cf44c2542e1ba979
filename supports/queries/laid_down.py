"""Numbers that the site laid down, each with its source: periods of change control, norms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import SiteSetting


@dataclass(frozen=True, slots=True)
class NumberLaidDown:
    """What was laid down under a name, by whom and from when."""

    name: str
    number: float
    source: str
    owner: str
    valid_from: date


def numbers_laid_down(session: Session, scope: str) -> list[NumberLaidDown]:
    """Return all that was ever laid down for one kind of numbers, oldest first."""
    query = (
        select(SiteSetting)
        .where(SiteSetting.scope == scope)
        .order_by(SiteSetting.valid_from, SiteSetting.id)
    )
    return [
        NumberLaidDown(
            row.name, float(row.value["number"]), row.source or "", row.owner or "", row.valid_from
        )
        for row in session.scalars(query)
    ]


def numbers_in_force(session: Session, scope: str, today: date) -> dict[str, float]:
    """Return the numbers of one kind that hold on a day, by name."""
    held = numbers_laid_down(session, scope)
    return {one.name: one.number for one in held if one.valid_from <= today}


def number_in_force(
    laid_down: Sequence[NumberLaidDown], name: str, today: date
) -> NumberLaidDown | None:
    """Return what holds under a name on a day out of what was laid down, oldest first."""
    held = (one for one in reversed(laid_down) if one.name == name and one.valid_from <= today)
    return next(held, None)
