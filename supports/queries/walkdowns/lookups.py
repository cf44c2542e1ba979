"""Campaigns, their rows and their findings, found by the names that people use."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.errors import NotFound
from supports.freezing import from_plain
from supports.model import Campaign, CampaignItem, FieldFinding, WalkForm
from supports.queries.lookups import or_nearest, point_of, unit_of
from supports.queries.site import settings_in_force
from supports.rules.walkdown.form import FormContent
from supports.rules.walkdown.limits import WalkLimits, walk_limits
from supports.sentences import Sentence


@dataclass(frozen=True, slots=True)
class CampaignRow:
    """A campaign in one line."""

    number: str
    title: str
    half: str
    state: str
    walk_on: date
    items: int
    open_findings: int


def campaign_of(session: Session, number: str) -> Campaign:
    """Return a campaign by its number."""
    found = session.scalar(select(Campaign).where(Campaign.number == number))
    return or_nearest(session, found, "campaign", number, select(Campaign.number))


def campaign_rows(session: Session) -> list[CampaignRow]:
    """Return all campaigns, the newest first."""
    return [
        CampaignRow(
            one.number,
            one.title,
            one.half,
            one.state,
            one.walk_on,
            len(items_of(session, one.id)),
            _open_count(session, one.id),
        )
        for one in session.scalars(select(Campaign).order_by(Campaign.id.desc()))
    ]


def _open_count(session: Session, campaign: int) -> int:
    ends = ("closed", "accepted as it is")
    query = select(func.count(FieldFinding.id)).where(
        FieldFinding.campaign_id == campaign, FieldFinding.state.not_in(ends)
    )
    return session.scalar(query) or 0


def items_of(session: Session, campaign: int) -> list[CampaignItem]:
    """Return the rows of a campaign in walking order."""
    query = select(CampaignItem).where(CampaignItem.campaign_id == campaign)
    return list(session.scalars(query.order_by(CampaignItem.order_no)))


def item_of(session: Session, campaign: Campaign, tag: str, position: str = "") -> CampaignItem:
    """Return the row of a support, or of one unit of it, in a campaign.

    Raises
    ------
    NotFound
        The support is not in the campaign.
    """
    point = point_of(session, tag)
    held = [one for one in items_of(session, campaign.id) if one.point_id == point]
    if len(held) > 1 or position:
        unit = unit_of(session, tag, position)
        held = [one for one in held if one.unit_id == unit.id]
    if not held:
        raise NotFound(
            Sentence(
                "support {tag} is not in campaign {campaign}", tag=tag, campaign=campaign.number
            ),
            remedy=Sentence(
                "See what is in it with: supports walkdown show {campaign}",
                campaign=campaign.number,
            ),
        )
    return held[0]


def form_of(session: Session, campaign: Campaign, revision: int | None = None) -> WalkForm:
    """Return an issued form; the newest unless a revision is named.

    Raises
    ------
    NotFound
        No form was issued, or not of this revision.
    """
    query = select(WalkForm).where(WalkForm.campaign_id == campaign.id)
    if revision is not None:
        query = query.where(WalkForm.revision == revision)
    form = session.scalar(query.order_by(WalkForm.revision.desc()).limit(1))
    if form is None:
        lacking = "campaign {campaign} has no form of revision {revision}"
        lacking = lacking if revision is not None else "campaign {campaign} has no form"
        raise NotFound(
            Sentence(lacking, campaign=campaign.number, revision=str(revision)),
            remedy=Sentence(
                "Issue one with: supports walkdown package {campaign}", campaign=campaign.number
            ),
        )
    return form


def newest_revision(session: Session, campaign: Campaign) -> int | None:
    """Return the revision of the newest form; None before the first is issued."""
    query = select(func.max(WalkForm.revision)).where(WalkForm.campaign_id == campaign.id)
    return session.scalar(query)


def content_of_form(form: WalkForm) -> FormContent:
    """Return what a form was issued with."""
    return from_plain(FormContent, form.content)


def finding_of(session: Session, number: str) -> FieldFinding:
    """Return a finding by its number."""
    found = session.scalar(select(FieldFinding).where(FieldFinding.number == number))
    return or_nearest(session, found, "finding", number, select(FieldFinding.number))


def findings_of(session: Session, campaigns: Collection[int] | None = None) -> list[FieldFinding]:
    """Return findings by number; of all campaigns if None."""
    query = select(FieldFinding).order_by(FieldFinding.id)
    if campaigns is not None:
        query = query.where(FieldFinding.campaign_id.in_(campaigns))
    return list(session.scalars(query))


def walk_limits_in_force(session: Session, today: date) -> WalkLimits:
    """Return the limits of walkdowns out of the settings of the site in force."""
    return walk_limits(settings_in_force(session, today))
