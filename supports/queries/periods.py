"""The periods of change control in force on a day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import SiteSetting
from supports.queries.limits import limits_in_force
from supports.rules.workflow.periods import FROM_LIMITS, Periods, proposed_periods

PERIOD_SCOPE = "change control"


@dataclass(frozen=True, slots=True)
class PeriodLaidDown:
    """What was laid down for a period, by whom and from when."""

    name: str
    number: float
    source: str
    owner: str
    valid_from: date


def periods_laid_down(session: Session) -> list[PeriodLaidDown]:
    """Return all that was ever laid down for the periods, oldest first."""
    query = (
        select(SiteSetting)
        .where(SiteSetting.scope == PERIOD_SCOPE)
        .order_by(SiteSetting.valid_from, SiteSetting.id)
    )
    return [
        PeriodLaidDown(
            row.name, float(row.value["number"]), row.source or "", row.owner or "", row.valid_from
        )
        for row in session.scalars(query)
    ]


def periods_in_force(session: Session, today: date) -> Periods:
    """Return the proposed periods with the site's own in their place."""
    laid_down = {
        one.name: one.number for one in periods_laid_down(session) if one.valid_from <= today
    }
    settings = limits_in_force(session, today).settings
    limits = {name: getattr(settings, limit) for name, limit in FROM_LIMITS.items()}
    return proposed_periods().with_values(laid_down | limits)
