"""How much of the plant was seen, area by area, and which supports are overdue."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy.orm import Session

from supports.queries.support_views import support_views
from supports.queries.walkdowns.lookups import walk_limits_in_force
from supports.queries.walkdowns.scope import last_seen
from supports.rules.walkdown.coverage import Coverage, Seen, coverage
from supports.rules.walkdown.limits import WalkLimits
from supports.tags import natural_key
from supports.vocabulary import InService

MOST_OVERDUE = 500
"""Supports overdue that a page names; a campaign takes all of them in."""


@dataclass(frozen=True, slots=True)
class CoveragePage:
    """Counts by area and over all, and the supports overdue with their day; None is never seen."""

    areas: tuple[tuple[str, Coverage], ...]
    whole: Coverage
    overdue: tuple[tuple[Seen, date | None], ...]


def coverage_page(session: Session, today: date) -> CoveragePage:
    """Return how much of the plant was seen, as of a day."""
    limits = walk_limits_in_force(session, today)
    views = [one for one in support_views(session) if one.in_service is InService.IN_PLACE]
    seen = last_seen(session, views)
    areas = sorted({one.area for one in seen}, key=natural_key)
    return CoveragePage(
        areas=tuple(
            (area, coverage([one for one in seen if one.area == area], today, limits))
            for area in areas
        ),
        whole=coverage(seen, today, limits),
        overdue=_overdue(seen, today, limits),
    )


def _overdue(
    seen: Sequence[Seen], today: date, limits: WalkLimits
) -> tuple[tuple[Seen, date | None], ...]:
    late = [(one, one.due(limits)) for one in seen if one.overdue(today, limits)]
    late.sort(key=lambda pair: (pair[0].criticality or "Z", pair[1] or date.min))
    return tuple(late[:MOST_OVERDUE])
