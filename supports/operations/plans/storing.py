"""What every kind of plan has in common: what it is made from, and how it is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput, NotAllowed, NotReady
from supports.freezing import to_plain
from supports.model import Assessment, Calculation, Change, Plan
from supports.operations.acting import Deed, actor, deed
from supports.queries.change_record import superseded_by
from supports.queries.change_views import content_of, latest_assessment
from supports.queries.lookups import change_of, line_of
from supports.queries.plans import mark_of, present_settings
from supports.queries.plant_days import day_at
from supports.queries.route_views import route_view
from supports.queries.site import settings_in_force
from supports.rules.assessment import AssessmentContent
from supports.rules.reset_planning.content import PlanContent
from supports.rules.reset_planning.wish import PlanWish
from supports.rules.site_settings import SiteSettings
from supports.rules.workflow import ChangeState, require_roles
from supports.sentences import Sentence
from supports.snapshots import RouteView
from supports.vocabulary import Role

ACTION = "make a re-set plan"
PLANNERS = frozenset({Role.STRESS_ENGINEER})
_ASSUMED = ("plan_", "scaffold_", "reach", "close_use", "tolerance", "variable_tolerance", "band")


@dataclass(frozen=True, slots=True)
class Basis:
    """What a plan of one line is made from, as the register knew it."""

    change: str
    line: str
    assessment_id: int
    fingerprint: str
    content: AssessmentContent
    route: RouteView
    settings: SiteSettings

    @property
    def standing(self) -> dict[str, float]:
        """Return the set load of every unit of the line [N], by its id as text."""
        return present_settings(self.route)


@dataclass(frozen=True, slots=True)
class MadeFrom:
    """Where a plan comes from besides its basis: an earlier plan, a work order that was read."""

    follows: str = ""
    read_from: str = ""


def basis_of(
    session: Session, change_number: str, line: str, today: date, *, back: bool = False
) -> Basis:
    """Return what a plan of one line of a change is made from.

    Parameters
    ----------
    back
        Whether the way back of a called-off change is planned.

    Raises
    ------
    BadInput
        The line is not one of the change.
    NotReady
        The change is over or stands elsewhere, was not assessed, or its calculation was superseded.
    """
    change = change_of(session, change_number)
    _require_live(change, back=back)
    assessment = latest_assessment(session, change.id)
    content = content_of(assessment)
    if line not in content.change.lines:
        known = ", ".join(content.change.lines)
        raise BadInput(
            Sentence(
                "change {change_number} does not touch line {line}",
                change_number=change_number,
                line=line,
            ),
            expected=known,
        )
    newer = superseded_by(session, session.get_one(Calculation, assessment.calculation_id))
    if newer and not back:
        raise NotReady(
            "a plan stands on the present calculation",
            (Sentence("superseded by {newer}", newer=newer),),
            remedy="Assess by the present revision: supports change assess",
        )
    return Basis(
        change=change_number,
        line=line,
        assessment_id=assessment.id,
        fingerprint=assessment.fingerprint,
        content=content,
        route=route_view(session, line),
        settings=settings_in_force(session, today),
    )


def _require_live(change: Change, *, back: bool) -> None:
    state = ChangeState(change.state)
    called_off = state is ChangeState.TO_BE_PUT_RIGHT
    if state.is_over or called_off is not back:
        what = "the way back is planned for a change called off half-way"
        raise NotReady(
            what if back else "a plan is made for a change that goes on",
            (Sentence("{change} stands at: {state}", change=change.number, state=state),),
            remedy="" if back or not called_off else "Plan the way back: supports plan back",
        )


def require_planner(register: Register, subject: str, acting: str, now: datetime) -> None:
    """Raise NotAllowed early, before minutes are spent on a plan that nobody may keep."""
    with register.reading() as session:
        try:
            roles = actor(session, acting, day_at(session, now)).roles
        except NotAllowed:
            roles = frozenset()
    if not roles & PLANNERS:
        with deed(register, acting, now, action=ACTION, subject=subject) as act:
            require_roles(ACTION, PLANNERS, act.person.roles)


def keep(
    register: Register, basis: Basis, wish: PlanWish, content: PlanContent,
    made_from: MadeFrom, *, acting: str, now: datetime,
) -> str:  # fmt: skip
    """Keep a plan with all that it was made from; return its number.

    Raises
    ------
    NotReady
        Assessment or settings are others than when planning began.
    """
    with deed(
        register, acting, now, action=ACTION, reason=str(wish.aim), subject=basis.change
    ) as act:
        require_roles(ACTION, PLANNERS, act.person.roles)
        _require_unchanged(act.session, basis)
        return _stored(act, basis, wish, content, made_from).number


def _require_unchanged(session: Session, basis: Basis) -> None:
    change = change_of(session, basis.change)
    same = latest_assessment(session, change.id).id == basis.assessment_id
    if not same or present_settings(route_view(session, basis.line)) != basis.standing:
        raise NotReady(
            Sentence(
                "{line} was assessed anew or set anew while the plan was made", line=basis.line
            ),
            remedy="Plan again from what is so now",
        )


def _stored(
    act: Deed, basis: Basis, wish: PlanWish, content: PlanContent, made_from: MadeFrom
) -> Plan:
    session = act.session
    assessment = session.get_one(Assessment, basis.assessment_id)
    plan = Plan(
        number=_next_number(session, act.now.year),
        change_id=change_of(session, basis.change).id,
        line_id=line_of(session, basis.line).id,
        assessment_id=assessment.id,
        follows_id=_id_of(session, made_from.follows),
        kind=content.kind,
        read_from=made_from.read_from or None,
        made_at=act.now,
        made_by=act.person.name,
        asked={"wish": to_plain(wish), "assumed": assumed(basis.settings)},
        standing=basis.standing,
        content=to_plain(content),
        fingerprint="",
    )
    plan.fingerprint = mark_of(plan, assessment)
    session.add(plan)
    session.flush()
    return plan


def _id_of(session: Session, number: str) -> int | None:
    return session.scalar(select(Plan.id).where(Plan.number == number)) if number else None


def assumed(settings: SiteSettings) -> Mapping[str, float]:
    """Return the site's assumptions that a plan weighs with, in SI."""
    return {name: value for name, value in asdict(settings).items() if name.startswith(_ASSUMED)}


def _next_number(session: Session, year: int) -> str:
    count = session.scalar(select(func.count(Plan.id))) or 0
    return f"PL-{year}-{count + 1:03d}"
