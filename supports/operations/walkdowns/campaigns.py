"""Campaigns planned, issued as forms, and taken out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput, Conflict
from supports.freezing import fingerprint, to_plain
from supports.model import (
    Campaign,
    CampaignItem,
    CampaignStep,
    WalkForm,
    WalkFormHolder,
)
from supports.operations.acting import Deed, deed
from supports.queries.walkdowns.form_content import form_content
from supports.queries.walkdowns.lookups import (
    campaign_of,
    form_of,
    newest_revision,
    walk_limits_in_force,
)
from supports.queries.walkdowns.scope import Scope, chosen_supports
from supports.rules.walkdown.flow import CAMPAIGN_STEPS, CampaignState, require
from supports.rules.walkdown.route import walking_order
from supports.rules.walkdown.words import Half, half_of
from supports.rules.workflow import require_roles
from supports.sentences import Sentence
from supports.snapshots import SupportView
from supports.vocabulary import PlantState, Role

_PLANNERS = frozenset({Role.INSPECTOR, Role.PLANNER, Role.STRESS_ENGINEER, Role.COORDINATOR})


@dataclass(frozen=True, slots=True)
class CampaignPlan:
    """What a campaign is to be."""

    title: str
    state_wanted: PlantState
    walk_on: date
    scope: Scope
    reason: str = ""
    pair: str = ""
    number: str = ""


def plan_campaign(register: Register, plan: CampaignPlan, *, acting: str, now: datetime) -> str:
    """Plan a campaign: its supports in walking order; return its number.

    Raises
    ------
    BadInput
        The plant state tells nothing of movement, or no support is left.
    Conflict
        The number is taken.
    """
    half = half_of(plan.state_wanted)
    if half is None:
        raise BadInput("a campaign is walked operating or shut down", found=str(plan.state_wanted))
    with deed(register, acting, now, action="plan a walkdown", reason=plan.reason) as act:
        require_roles("plan a walkdown", _PLANNERS, act.person.roles)
        limits = walk_limits_in_force(act.session, act.today)
        views = chosen_supports(act.session, plan.scope, act.today, limits)
        campaign = _campaign(act, plan, half)
        _add_items(act.session, campaign, walking_order(views))
        return campaign.number


def _campaign(act: Deed, plan: CampaignPlan, half: Half) -> Campaign:
    number = plan.number or _next_number(act.session, act.today.year)
    if act.session.scalar(select(Campaign.id).where(Campaign.number == number)):
        raise Conflict(Sentence("campaign {number} is in the register already", number=number))
    pair = _pair(act.session, plan.pair, half) if plan.pair else None
    campaign = Campaign(
        number=number,
        title=plan.title,
        reason=plan.reason or None,
        half=half,
        state_wanted=plan.state_wanted,
        scope={name: list(v) if isinstance(v, tuple) else v for name, v in _plain(plan.scope)},
        walk_on=plan.walk_on,
        state=CampaignState.PLANNED,
        pair_id=pair.id if pair else None,
        planned_by=act.person.name,
        planned_on=act.today,
    )
    act.session.add(campaign)
    act.session.flush()
    if pair is not None:
        pair.pair_id = campaign.id
    return campaign


def _plain(scope: Scope) -> Sequence[tuple[str, object]]:
    return list(asdict(scope).items())


def _pair(session: Session, number: str, half: Half) -> Campaign:
    other = campaign_of(session, number)
    if other.half != half.other or other.pair_id is not None:
        why = "campaign {number} is walked {half} too"
        why = why if other.pair_id is None else "campaign {number} is paired already"
        raise BadInput(
            Sentence(why, number=number, half=other.half),
            expected=Sentence("an unpaired campaign walked {half}", half=half.other),
        )
    return other


def _next_number(session: Session, year: int) -> str:
    count = session.scalar(select(func.count(Campaign.id))) or 0
    return f"WD-{year}-{count + 1:03d}"


def _add_items(session: Session, campaign: Campaign, ordered: Sequence[SupportView]) -> None:
    order = 0
    for view in ordered:
        units: list[int | None] = [unit.id for unit in view.units]
        for unit in units or [None]:
            order += 1
            session.add(
                CampaignItem(
                    campaign_id=campaign.id, order_no=order, point_id=view.id, unit_id=unit
                )
            )


def issue_form(register: Register, number: str, *, acting: str, now: datetime) -> int:
    """Freeze the form as it stands now; return its revision. An unchanged form keeps its own."""
    with deed(register, acting, now, action="issue a walkdown form", subject=number) as act:
        campaign = campaign_of(act.session, number)
        out = campaign.state in {CampaignState.OUT, CampaignState.BACK}
        newest = newest_revision(act.session, campaign)
        revision = (newest or 0) + 1
        content = form_content(act.session, campaign, revision, act.today)
        if newest is not None and _says_the_same(act.session, campaign, content_of(content)):
            return newest
        move(act, campaign, "issue again" if out else "issue")
        plain = to_plain(content)
        act.session.add(
            WalkForm(
                campaign_id=campaign.id,
                revision=revision,
                issued_at=act.now,
                issued_by=act.person.name,
                content=plain,
                fingerprint=fingerprint(plain),
            )
        )
        return revision


def content_of(content: object) -> dict[str, object]:
    """Return what a form says apart from its revision."""
    return {name: value for name, value in to_plain(content).items() if name != "revision"}


def _says_the_same(session: Session, campaign: Campaign, content: dict[str, object]) -> bool:
    held = {k: v for k, v in form_of(session, campaign).content.items() if k != "revision"}
    return fingerprint(held) == fingerprint(content)


def take_out(register: Register, number: str, holder: str, *, acting: str, now: datetime) -> int:
    """Record that somebody takes a copy of the newest form out; return the copy's number."""
    with deed(register, acting, now, action="take a walkdown form out", subject=number) as act:
        campaign = campaign_of(act.session, number)
        form = form_of(act.session, campaign)
        move(act, campaign, "go out", holder)
        copies = select(func.count(WalkFormHolder.id)).where(WalkFormHolder.form_id == form.id)
        copy = (act.session.scalar(copies) or 0) + 1
        act.session.add(WalkFormHolder(form_id=form.id, copy_number=copy, holder=holder))
        return copy


def move(act: Deed, campaign: Campaign, word: str, reason: str = "") -> None:
    """Move a campaign on by one step of the table, and keep the step.

    Raises
    ------
    NotReady, NotAllowed
        The campaign stands elsewhere, or the person holds none of the roles.
    """
    state = CampaignState(campaign.state)
    step = require(
        CAMPAIGN_STEPS,
        word,
        state,
        act.person.roles,
        Sentence("campaign {number}", number=campaign.number),
    )
    campaign.state = step.to
    act.session.add(
        CampaignStep(
            campaign_id=campaign.id,
            act=word,
            came_from=state,
            went_to=step.to,
            done_by=act.person.name,
            done_at=act.now,
            reason=reason or None,
        )
    )
