"""The record of a campaign, as it stands and as it was frozen at the sign-off."""

from __future__ import annotations

from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.freezing import from_plain
from supports.model import (
    Campaign,
    CampaignItem,
    CampaignStep,
    FieldFinding,
    WalkChoice,
    WalkCloseout,
)
from supports.queries.plant_days import day_at
from supports.queries.site import plant_name
from supports.queries.walkdowns.findings import finding_views
from supports.queries.walkdowns.form_content import printed_tag, supports_of
from supports.queries.walkdowns.judged import judged_campaign
from supports.queries.walkdowns.lookups import form_of, walk_limits_in_force
from supports.queries.walkdowns.rows import EntryView, WalkedRow, walked_rows
from supports.rules.walkdown.compare import settled
from supports.rules.walkdown.flow import CampaignState
from supports.rules.walkdown.record import (
    CampaignRecord,
    DifferingView,
    EarlierWalk,
    StepView,
)
from supports.rules.walkdown.words import Half
from supports.vocabulary import PlantState

BEFORE = 4
"""Walks before that are counted beside this one."""


def campaign_record(session: Session, campaign: Campaign, today: date) -> CampaignRecord:
    """Return all that is known of a campaign on a day."""
    return CampaignRecord(
        plant=plant_name(session),
        campaign=campaign.number,
        title=campaign.title,
        half=Half(campaign.half),
        state_wanted=PlantState(campaign.state_wanted),
        walk_on=campaign.walk_on,
        state=CampaignState(campaign.state),
        today=today,
        form_revision=form_of(session, campaign).revision,
        limits=walk_limits_in_force(session, today),
        rows=tuple(judged for _, judged in judged_campaign(session, campaign, today)),
        findings=tuple(finding_views(session, campaign)),
        steps=tuple(steps_of(session, campaign)),
        differing=tuple(differing(session, campaign)),
        previous=tuple(walks_before(session, campaign)),
    )


def closeout_of(session: Session, campaign: Campaign) -> WalkCloseout | None:
    """Return the record frozen when a campaign was signed off; None before that."""
    return session.scalar(select(WalkCloseout).where(WalkCloseout.campaign_id == campaign.id))


def frozen_record(closeout: WalkCloseout) -> CampaignRecord:
    """Return what a campaign's record said at the sign-off."""
    return from_plain(CampaignRecord, closeout.content)


def steps_of(session: Session, campaign: Campaign) -> list[StepView]:
    """Return the steps of a campaign, oldest first."""
    query = select(CampaignStep).where(CampaignStep.campaign_id == campaign.id)
    return [
        StepView(one.act, one.went_to, one.done_by, day_at(session, one.done_at), one.reason or "")
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
        choice = choices.get(row.item.id) if row.chosen is not None else None
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


def walks_before(session: Session, campaign: Campaign) -> list[EarlierWalk]:
    """Return the walks before, oldest first."""
    query = (
        select(Campaign).where(Campaign.id < campaign.id).order_by(Campaign.id.desc()).limit(BEFORE)
    )
    return [
        EarlierWalk(
            one.number, _count(session, CampaignItem, one.id), _count(session, FieldFinding, one.id)
        )
        for one in reversed(session.scalars(query).all())
    ]


def _count(session: Session, model: type[CampaignItem | FieldFinding], campaign: int) -> int:
    query = select(func.count(model.id)).where(model.campaign_id == campaign)
    return session.scalar(query) or 0
