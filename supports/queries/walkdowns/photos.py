"""Photos of earlier walks: the newest of each subject at each row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from sqlalchemy import Row, func, select
from sqlalchemy.orm import Session

from supports.model import CampaignItem, WalkEntry, WalkPhoto
from supports.queries.plant_days import day_at
from supports.rules.walkdown.form import LastPhoto
from supports.rules.walkdown.words import PhotoSubject

Place = tuple[int, int | None]
"""A support point and the unit at it; None where it has none."""


def last_photos(session: Session, campaign: int) -> Mapping[Place, tuple[LastPhoto, ...]]:
    """Return the newest photo of each subject at the places of a campaign, in their order."""
    newest: dict[Place, dict[PhotoSubject, LastPhoto]] = {}
    for photo, point, unit, read_on in _photos(session, campaign):
        subject = PhotoSubject(photo.subject)
        day = read_on or day_at(session, photo.stored_at)
        taken = LastPhoto(subject, photo.number, day, photo.content_hash)
        held = newest.setdefault((point, unit), {})
        known = held.get(subject)
        if known is None or taken.taken_on >= known.taken_on:
            held[subject] = taken
    order = list(PhotoSubject)
    return {
        place: tuple(sorted(held.values(), key=lambda one: order.index(one.subject)))
        for place, held in newest.items()
    }


def _photos(
    session: Session, campaign: int
) -> Sequence[Row[WalkPhoto, int, int | None, date | None]]:
    days = (
        select(WalkEntry.item_id, func.max(WalkEntry.read_on).label("read_on"))
        .group_by(WalkEntry.item_id)
        .subquery()
    )
    points = select(CampaignItem.point_id).where(CampaignItem.campaign_id == campaign)
    query = (
        select(WalkPhoto, CampaignItem.point_id, CampaignItem.unit_id, days.c.read_on)
        .join(CampaignItem, WalkPhoto.item_id == CampaignItem.id)
        .outerjoin(days, days.c.item_id == CampaignItem.id)
        .where(CampaignItem.point_id.in_(points))
        .order_by(WalkPhoto.id)
    )
    return session.execute(query).all()
