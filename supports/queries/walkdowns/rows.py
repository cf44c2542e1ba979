"""What the walkers wrote in a campaign, put together row by row."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session

from supports.freezing import from_plain
from supports.model import (
    Campaign,
    CampaignItem,
    WalkChoice,
    WalkEntry,
    WalkForm,
    WalkFormHolder,
    WalkNoted,
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
        pick = next((one.id for one in held if one.id == chosen.get(item.id)), None)
        rows.append(WalkedRow(item, held, pick, settled(said, pick)))
    return rows


def _entries(session: Session, campaign: Campaign) -> dict[int, list[EntryView]]:
    query = (
        select(WalkEntry, WalkReturn.keyed_by)
        .join(WalkReturn, WalkEntry.return_id == WalkReturn.id)
        .join(WalkForm, WalkReturn.form_id == WalkForm.id)
        .where(WalkForm.campaign_id == campaign.id, still_said())
        .order_by(WalkEntry.id)
    )
    found: dict[int, list[EntryView]] = defaultdict(list)
    for entry, keyed_by in session.execute(query):
        found[entry.item_id].append(
            EntryView(entry.id, entry.walker, keyed_by, entry.values, entry.written, entry.doubts)
        )
    return found


def still_said() -> ColumnElement[bool]:
    """Return the condition that nothing stands in for an entry from the tablet it came from."""
    replaced = select(WalkNoted.replaces_id).where(WalkNoted.replaces_id.is_not(None))
    return WalkEntry.id.not_in(replaced)


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


@dataclass(frozen=True, slots=True)
class CopyOut:
    """A copy that was taken out, and what came back from a tablet under its holder's name."""

    revision: int
    copy_number: int
    holder: str
    rows_sent: int
    last_sent: datetime | None


def copies_out(session: Session, campaign: Campaign) -> list[CopyOut]:
    """Return every copy of a campaign that was taken out, oldest first."""
    rows = func.count(WalkNoted.item_id.distinct())
    sent = (
        select(WalkNoted.form_id, WalkNoted.person, rows, func.max(WalkNoted.sent_at))
        .group_by(WalkNoted.form_id, WalkNoted.person)
    )  # fmt: skip
    known = {(form, person): (count, last) for form, person, count, last in session.execute(sent)}
    query = (
        select(WalkFormHolder, WalkForm.revision)
        .join(WalkForm, WalkFormHolder.form_id == WalkForm.id)
        .where(WalkForm.campaign_id == campaign.id)
        .order_by(WalkFormHolder.id)
    )
    return [
        CopyOut(
            revision, one.copy_number, one.holder, *known.get((one.form_id, one.holder), (0, None))
        )
        for one, revision in session.execute(query)
    ]


@dataclass(frozen=True, slots=True)
class CopyHeld:
    """A copy of a form that is out.

    Parameters
    ----------
    place
        Which of all copies of the campaign it is, counted from 1.
    """

    copy_number: int
    place: int


def copy_held(session: Session, form: WalkForm, holder: str) -> CopyHeld | None:
    """Return the newest copy of a form that somebody took out; None if nobody of that name did."""
    forms = select(WalkForm.id).where(WalkForm.campaign_id == form.campaign_id)
    query = select(WalkFormHolder).where(WalkFormHolder.form_id.in_(forms))
    copies = session.scalars(query.order_by(WalkFormHolder.id)).all()
    own = (
        CopyHeld(copy.copy_number, place)
        for place, copy in enumerate(copies, start=1)
        if copy.form_id == form.id and copy.holder == holder
    )
    return max(own, key=lambda one: one.place, default=None)


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


@dataclass(frozen=True, slots=True)
class NotedBefore:
    """What one tablet said of one row: the newest revision, by whom, and the entry it came to."""

    revision: int
    person: str
    entry_id: int | None


def noted_before(session: Session, form: WalkForm, tablet: str) -> dict[int, NotedBefore]:
    """Return what a tablet sent of a form, by item id."""
    query = (
        select(WalkNoted)
        .where(WalkNoted.form_id == form.id, WalkNoted.tablet == tablet)
        .order_by(WalkNoted.revision)
    )
    found: dict[int, NotedBefore] = {}
    for one in session.scalars(query):
        before = found.get(one.item_id)
        entry = one.entry_id or (before.entry_id if before else None)
        found[one.item_id] = NotedBefore(one.revision, one.person, entry)
    return found
