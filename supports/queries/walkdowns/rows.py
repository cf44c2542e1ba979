"""What the walkers wrote in a campaign, put together row by row."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.freezing import from_plain
from supports.model import (
    Campaign,
    CampaignItem,
    WalkChoice,
    WalkEntry,
    WalkForm,
    WalkFormHolder,
    WalkReturn,
)
from supports.queries.walkdowns.lookups import items_of
from supports.rules.walkdown.compare import Settled, settled
from supports.rules.walkdown.reading import Found


@dataclass(frozen=True, slots=True)
class EntryView:
    """One entry of one walker."""

    id: int
    walker: str
    keyed_by: str
    values: dict[str, Any]
    written: dict[str, str]
    doubts: dict[str, str]


@dataclass(frozen=True, slots=True)
class WalkedRow:
    """A row of a campaign with all its entries, and what they come to."""

    item: CampaignItem
    entries: tuple[EntryView, ...]
    chosen: int | None
    settled: Settled

    @property
    def found(self) -> Found:
        """Return what was found, once entries are put together."""
        doubts = {
            name: why
            for entry in self.entries
            for name, why in entry.doubts.items()
            if name not in self.settled.values
        }
        plain = {**self.settled.values, "walkers": self.settled.walkers, "doubts": doubts}
        return from_plain(Found, plain)


def walked_rows(session: Session, campaign: Campaign) -> list[WalkedRow]:
    """Return the rows of a campaign in walking order with what came back on them."""
    entries, chosen = _entries(session, campaign), _choices(session, campaign)
    rows = []
    for item in items_of(session, campaign.id):
        held = tuple(entries.get(item.id, ()))
        said = [(one.id, one.walker, one.values) for one in held]
        pick = chosen.get(item.id)
        rows.append(WalkedRow(item, held, pick, settled(said, pick)))
    return rows


def _entries(session: Session, campaign: Campaign) -> dict[int, list[EntryView]]:
    query = (
        select(WalkEntry, WalkReturn.keyed_by)
        .join(WalkReturn, WalkEntry.return_id == WalkReturn.id)
        .join(WalkForm, WalkReturn.form_id == WalkForm.id)
        .where(WalkForm.campaign_id == campaign.id)
        .order_by(WalkEntry.id)
    )
    found: dict[int, list[EntryView]] = defaultdict(list)
    for entry, keyed_by in session.execute(query):
        found[entry.item_id].append(
            EntryView(entry.id, entry.walker, keyed_by, entry.values, entry.written, entry.doubts)
        )
    return found


def _choices(session: Session, campaign: Campaign) -> dict[int, int]:
    query = (
        select(WalkChoice)
        .join(CampaignItem, WalkChoice.item_id == CampaignItem.id)
        .where(CampaignItem.campaign_id == campaign.id)
        .order_by(WalkChoice.id)
    )
    return {one.item_id: one.entry_id for one in session.scalars(query)}


def forms_out(session: Session, campaign: Campaign) -> list[str]:
    """Return who took a form out and brought none back, by name."""
    holders = session.scalars(
        select(WalkFormHolder.holder)
        .join(WalkForm, WalkFormHolder.form_id == WalkForm.id)
        .where(WalkForm.campaign_id == campaign.id)
        .order_by(WalkFormHolder.id)
    )
    back = set(
        session.scalars(
            select(WalkReturn.walker)
            .join(WalkForm, WalkReturn.form_id == WalkForm.id)
            .where(WalkForm.campaign_id == campaign.id)
        )
    )
    return [name for name in dict.fromkeys(holders) if name not in back]


def people_of_returns(session: Session, campaign: Campaign) -> set[str]:
    """Return all who walked or keyed in."""
    query = (
        select(WalkReturn)
        .join(WalkForm, WalkReturn.form_id == WalkForm.id)
        .where(WalkForm.campaign_id == campaign.id)
    )
    returns = session.scalars(query).all()
    entries = [one.walker for row in walked_rows(session, campaign) for one in row.entries]
    return {one.walker for one in returns} | {one.keyed_by for one in returns} | set(entries)
