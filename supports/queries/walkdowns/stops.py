"""What walkers saw of travel stops."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import CampaignItem, WalkEntry
from supports.queries.walkdowns.rows import still_said


def stops_seen(session: Session) -> dict[int, str]:
    """Return by unit what was seen of its travel stop the last time that anybody looked."""
    word = WalkEntry.values["stop"].as_string()
    query = (
        select(CampaignItem.unit_id, word)
        .join(CampaignItem, WalkEntry.item_id == CampaignItem.id)
        .where(CampaignItem.unit_id.is_not(None), word.is_not(None), still_said())
        .order_by(WalkEntry.read_on, WalkEntry.id)
    )
    return {unit: seen for unit, seen in session.execute(query) if unit is not None}
