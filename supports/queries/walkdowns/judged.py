"""A campaign's rows with their history, judged."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Campaign, CampaignItem, WalkReading
from supports.model import Reading as ReadingRow
from supports.queries.unit_history import readings_of
from supports.queries.walkdowns.form_content import (
    operating_temperatures,
    printed_tag,
    supports_of,
)
from supports.queries.walkdowns.lookups import walk_limits_in_force
from supports.queries.walkdowns.rows import WalkedRow, walked_rows
from supports.rules.walkdown.facts import ItemFacts, as_reading
from supports.rules.walkdown.judgement import JudgedItem, judge
from supports.rules.walkdown.reading import Found
from supports.rules.walkdown.words import half_of
from supports.snapshots import ReadingView, UnitView
from supports.vocabulary import PlantState


def judged_campaign(
    session: Session, campaign: Campaign, today: date
) -> list[tuple[CampaignItem, JudgedItem]]:
    """Return every row of a campaign with the answers of all rules, in walking order."""
    limits = walk_limits_in_force(session, today)
    return [(item, judge(facts, limits)) for item, facts in campaign_facts(session, campaign)]


def campaign_facts(session: Session, campaign: Campaign) -> list[tuple[CampaignItem, ItemFacts]]:
    """Return every row of a campaign with what is known of it."""
    rows = walked_rows(session, campaign)
    views = supports_of(session, {row.item.point_id for row in rows})
    temperatures = operating_temperatures(session)
    earlier = _earlier(session, campaign, rows)
    pairs = _pairs(session, campaign)
    made = []
    for row in rows:
        view = views[row.item.point_id]
        unit = next((one for one in view.units if one.id == row.item.unit_id), None)
        found, held = row.found, earlier.get(row.item.unit_id or 0, ())
        facts = ItemFacts(
            tag=printed_tag(view, unit),
            support=view,
            unit=unit,
            found=found,
            earlier=held,
            pair=pairs.get(row.item.unit_id or 0) or _last_of_other_half(unit, found, held),
            operating_temperature=temperatures.get(view.lines[0]) if view.lines else None,
        )
        made.append((row.item, facts))
    return made


def _earlier(
    session: Session, campaign: Campaign, rows: Sequence[WalkedRow]
) -> dict[int, tuple[ReadingView, ...]]:
    """Return readings by unit, without those of this campaign and those after its last day."""
    own = _own_readings(session, campaign)
    units = [row.item.unit_id for row in rows if row.item.unit_id is not None]
    days = [row.found.read_on for row in rows if row.found.read_on is not None]
    last = max(days, default=None)
    held: dict[int, tuple[ReadingView, ...]] = {}
    for unit, readings in readings_of(session, units).items():
        own_ones = own.get(unit, [])
        held[unit] = tuple(
            one
            for one in readings
            if (last is None or one.read_on <= last) and not _is_own(one, own_ones)
        )
    return held


def _own_readings(session: Session, campaign: Campaign) -> dict[int, list[ReadingRow]]:
    query = (
        select(ReadingRow)
        .join(WalkReading, WalkReading.reading_id == ReadingRow.id)
        .join(CampaignItem, WalkReading.item_id == CampaignItem.id)
        .where(CampaignItem.campaign_id == campaign.id)
    )
    held: dict[int, list[ReadingRow]] = {}
    for one in session.scalars(query):
        held.setdefault(one.unit_id, []).append(one)
    return held


def _is_own(view: ReadingView, own: Sequence[ReadingRow]) -> bool:
    return any(
        (one.read_on, one.pointer, one.scale_load, one.occasion)
        == (view.read_on, view.pointer, view.scale_load, view.occasion)
        for one in own
    )


def _pairs(session: Session, campaign: Campaign) -> dict[int, ReadingView]:
    """Return by unit what the paired campaign found."""
    if campaign.pair_id is None:
        return {}
    other = session.get_one(Campaign, campaign.pair_id)
    found = {
        row.item.unit_id: as_reading(row.found)
        for row in walked_rows(session, other)
        if row.item.unit_id is not None
    }
    return {unit: one for unit, one in found.items() if unit is not None and one is not None}


def _last_of_other_half(
    unit: UnitView | None, found: Found, held: Sequence[ReadingView]
) -> ReadingView | None:
    """Return the newest reading of the other half since the last setting."""
    if unit is None or found.half is None:
        return None
    since = unit.setting.happened_on if unit.setting else None
    fitting = [
        one
        for one in held
        if half_of(PlantState(one.plant_state)) is found.half.other
        and (since is None or one.read_on >= since)
    ]
    return fitting[-1] if fitting else None
