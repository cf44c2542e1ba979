"""The periods of change control in force on a day."""

from __future__ import annotations

from datetime import date

from sqlalchemy.orm import Session

from supports.queries.laid_down import NumberLaidDown, numbers_in_force, numbers_laid_down
from supports.queries.limits import limits_in_force
from supports.rules.workflow.periods import FROM_LIMITS, Periods, proposed_periods

PERIOD_SCOPE = "change control"


def periods_laid_down(session: Session) -> list[NumberLaidDown]:
    """Return all that was ever laid down for the periods, oldest first."""
    return numbers_laid_down(session, PERIOD_SCOPE)


def periods_in_force(session: Session, today: date) -> Periods:
    """Return the proposed periods with the site's own in their place."""
    settings = limits_in_force(session, today).settings
    limits = {name: getattr(settings, limit) for name, limit in FROM_LIMITS.items()}
    return proposed_periods().with_values(numbers_in_force(session, PERIOD_SCOPE, today) | limits)
