"""Findings with their steps, as views."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Campaign, FieldFinding, FindingStep, SupportTag
from supports.queries.plant_days import day_at
from supports.rules.walkdown.findings import FindingStepView, FindingView
from supports.rules.walkdown.flow import FindingState


def finding_views(
    session: Session, campaign: Campaign | None = None, number: str = ""
) -> list[FindingView]:
    """Return findings with their steps, oldest first; of one campaign or one number if named."""
    query = (
        select(FieldFinding, Campaign.number, SupportTag.tag)
        .join(Campaign, FieldFinding.campaign_id == Campaign.id)
        .join(
            SupportTag,
            (SupportTag.point_id == FieldFinding.point_id) & SupportTag.valid_to.is_(None),
        )
        .order_by(FieldFinding.id)
    )
    if campaign is not None:
        query = query.where(FieldFinding.campaign_id == campaign.id)
    if number:
        query = query.where(FieldFinding.number == number)
    steps = _steps(session)
    return [_view(one, held, tag, steps) for one, held, tag in session.execute(query)]


def _view(
    one: FieldFinding, campaign: str, tag: str, steps: dict[int, list[FindingStepView]]
) -> FindingView:
    return FindingView(
        number=one.number,
        campaign=campaign,
        tag=tag,
        code=one.code,
        severity=one.severity,
        what=one.what,
        how_soon=one.how_soon,
        state=FindingState(one.state),
        found_on=one.found_on,
        found_by=one.found_by,
        told=one.told or "",
        owner=one.owner or "",
        due_on=one.due_on,
        answer=one.answer or "",
        reference=one.reference or "",
        done_by=one.done_by or "",
        verified_by=one.verified_by or "",
        accepted_until=one.accepted_until,
        steps=tuple(steps.get(one.id, ())),
    )


def _steps(session: Session) -> dict[int, list[FindingStepView]]:
    held: dict[int, list[FindingStepView]] = {}
    for one in session.scalars(select(FindingStep).order_by(FindingStep.id)):
        held.setdefault(one.finding_id, []).append(
            FindingStepView(
                one.act, one.went_to, one.done_by, day_at(session, one.done_at), one.words or ""
            )
        )
    return held
