"""Findings as views: whose, how old, overdue."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Campaign, FieldFinding, FindingStep, SupportTag
from supports.rules.walkdown_flow import FindingState


@dataclass(frozen=True, slots=True)
class FindingStepView:
    """One step of a finding."""

    act: str
    went_to: str
    done_by: str
    done_on: date
    words: str


@dataclass(frozen=True, slots=True)
class FindingView:
    """A finding with where it stands."""

    number: str
    campaign: str
    tag: str
    code: str
    severity: str
    what: str
    how_soon: str
    state: FindingState
    found_on: date
    found_by: str
    told: str = ""
    owner: str = ""
    due_on: date | None = None
    answer: str = ""
    reference: str = ""
    done_by: str = ""
    verified_by: str = ""
    accepted_until: date | None = None
    steps: tuple[FindingStepView, ...] = ()

    def wants_something(self, today: date) -> bool:
        """Return whether it is not at its end, or its acceptance has run out."""
        if self.state is FindingState.ACCEPTED:
            return self.accepted_until is not None and self.accepted_until < today
        return self.state is not FindingState.CLOSED

    def overdue(self, today: date) -> bool:
        """Return whether its day has passed; no day is not overdue but ownerless."""
        day = self.accepted_until if self.state is FindingState.ACCEPTED else self.due_on
        return self.wants_something(today) and day is not None and day < today

    @property
    def ownerless(self) -> bool:
        """Return whether nobody, or no day, is named."""
        return not self.owner or not (self.due_on or self.accepted_until)


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
            FindingStepView(one.act, one.went_to, one.done_by, one.done_at.date(), one.words or "")
        )
    return held
