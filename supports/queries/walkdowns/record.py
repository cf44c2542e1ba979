"""The record of a campaign: its steps, its contradictions, and the walks before it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import Campaign, CampaignItem, CampaignStep, FieldFinding, WalkChoice
from supports.queries.walkdowns.form_content import printed_tag, supports_of
from supports.queries.walkdowns.rows import EntryView, WalkedRow, walked_rows
from supports.rules.walkdown.compare import settled

BEFORE = 4
"""Walks before that are counted beside this one."""


@dataclass(frozen=True, slots=True)
class StepView:
    """One step of a campaign."""

    act: str
    went_to: str
    done_by: str
    done_on: date
    words: str


@dataclass(frozen=True, slots=True)
class DifferingView:
    """A row on which walkers differed."""

    tag: str
    entries: tuple[tuple[str, str], ...]
    chosen: str = ""
    chosen_by: str = ""
    reason: str = ""


def steps_of(session: Session, campaign: Campaign) -> list[StepView]:
    """Return the steps of a campaign, oldest first."""
    query = select(CampaignStep).where(CampaignStep.campaign_id == campaign.id)
    return [
        StepView(one.act, one.went_to, one.done_by, one.done_at.date(), one.reason or "")
        for one in session.scalars(query.order_by(CampaignStep.id))
    ]


def differing(session: Session, campaign: Campaign) -> list[DifferingView]:
    """Return every row on which walkers differed, chosen or not, with all that they wrote."""
    rows = [
        row
        for row in walked_rows(session, campaign)
        if settled([(e.id, e.walker, e.values) for e in row.entries], None).conflicts
    ]
    views = supports_of(session, {row.item.point_id for row in rows})
    choices = _choices(session, campaign)
    made = []
    for row in rows:
        view = views[row.item.point_id]
        unit = next((one for one in view.units if one.id == row.item.unit_id), None)
        choice = choices.get(row.item.id)
        picked = next((e.walker for e in row.entries if choice and e.id == choice.entry_id), "")
        made.append(
            DifferingView(
                tag=printed_tag(view, unit),
                entries=tuple((e.walker, _words(e, row)) for e in row.entries),
                chosen=picked,
                chosen_by=choice.chosen_by if choice else "",
                reason=choice.reason if choice else "",
            )
        )
    return made


def _words(entry: EntryView, row: WalkedRow) -> str:
    open_ones = settled([(e.id, e.walker, e.values) for e in row.entries], None).conflicts
    return ", ".join(
        f"{name.replace('_', ' ')} {entry.written.get(name, entry.values[name])}"
        for name in open_ones
        if name in entry.values
    )


def _choices(session: Session, campaign: Campaign) -> dict[int, WalkChoice]:
    query = (
        select(WalkChoice)
        .join(CampaignItem, WalkChoice.item_id == CampaignItem.id)
        .where(CampaignItem.campaign_id == campaign.id)
        .order_by(WalkChoice.id)
    )
    return {one.item_id: one for one in session.scalars(query)}


def walks_before(session: Session, campaign: Campaign) -> list[tuple[str, int, int]]:
    """Return (number, rows, findings) of the walks before, oldest first."""
    query = (
        select(Campaign).where(Campaign.id < campaign.id).order_by(Campaign.id.desc()).limit(BEFORE)
    )
    return [
        (one.number, _count(session, CampaignItem, one.id), _count(session, FieldFinding, one.id))
        for one in reversed(session.scalars(query).all())
    ]


def _count(session: Session, model: type[CampaignItem | FieldFinding], campaign: int) -> int:
    query = select(func.count(model.id)).where(model.campaign_id == campaign)
    return session.scalar(query) or 0
