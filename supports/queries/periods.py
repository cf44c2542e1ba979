"""The periods of change control in force on a day."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import SiteSetting
from supports.rules.workflow.periods import Periods, proposed_periods

PERIOD_SCOPE = "change control"


def periods_in_force(session: Session, today: date) -> Periods:
    """Return the proposed periods with the site's own in their place."""
    query = (
        select(SiteSetting)
        .where(SiteSetting.scope == PERIOD_SCOPE, SiteSetting.valid_from <= today)
        .order_by(SiteSetting.valid_from, SiteSetting.id)
    )
    laid_down = {row.name: float(row.value["number"]) for row in session.scalars(query)}
    return proposed_periods().with_values(laid_down)
