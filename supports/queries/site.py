"""The site's settings in force on a day."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import SiteSetting
from supports.rules.site_settings import SiteSettings, proposed_settings


def settings_in_force(session: Session, today: date) -> SiteSettings:
    """Return the proposed limits with the site's own in their place."""
    query = (
        select(SiteSetting)
        .where(SiteSetting.scope == "", SiteSetting.valid_from <= today)
        .order_by(SiteSetting.valid_from, SiteSetting.id)
    )
    laid_down = {row.name: float(row.value["si"]) for row in session.scalars(query)}
    return proposed_settings().with_values(laid_down)
