"""What walkers read of the gap under a pipe."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import CampaignItem, WalkEntry
from supports.queries.walkdowns.rows import still_said


def gaps_seen(session: Session) -> dict[int, float]:
    """Return by support point the gap [m] read there the last time that anybody measured."""
    gap = WalkEntry.values["gap"].as_float()
    query = (
        select(CampaignItem.point_id, gap)
        .join(CampaignItem, WalkEntry.item_id == CampaignItem.id)
        .where(gap.is_not(None), still_said())
        .order_by(WalkEntry.read_on, WalkEntry.id)
    )
    return {row[0]: row[1] for row in session.execute(query)}
