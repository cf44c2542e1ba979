"""Re-set plans on record: what they say, what they stand on, who chose which, what voids them."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.errors import NotReady
from supports.freezing import fingerprint, from_plain
from supports.model import (
    Assembly,
    Assessment,
    Calculation,
    Change,
    Line,
    Plan,
    PlanChoice,
    PlannedOrder,
    SettingEvent,
    SupportTag,
    Unit,
    UnitPlacement,
    WorkOrder,
    WorkOrderLine,
)
from supports.queries.asked_once import ask_together, by_first, of_many, of_one
from supports.queries.change_record import SUPERSEDED, superseded_by
from supports.queries.change_views import content_of, latest_assessment
from supports.queries.narrowing import only
from supports.queries.plant_days import clock_at
from supports.queries.unit_history import present_settings as newest_settings
from supports.rules.reset_planning.content import PlanContent
from supports.rules.reset_planning.order_lines import ChosenPlan
from supports.rules.reset_planning.round_windows import Foretold, foretold_in, slack_of
from supports.rules.reset_planning.wish import PlanKind, PlanWish
from supports.sentences import Sentence
from supports.snapshots import RouteView
from supports.tags import natural_key
from supports.units import Kind, shown

FORWARD = (PlanKind.FIRST, PlanKind.AS_FOUND)
"""Kinds of plans that a re-setting order follows; the way back is for an undo order."""


@dataclass(frozen=True, slots=True)
class ChoiceMade:
    """Which of the plans laid side by side was chosen, by whom, when and why."""

    alternative: str
    by: str
    at: datetime
    reason: str


@dataclass(frozen=True, slots=True)
class PlanOnRecord:
    """A plan with what it stands on.

    Parameters
    ----------
    follows
        Number of the plan that it was made after; empty for a first one.
    void
        Why it may not be followed any more; empty while it stands.
    orders
        Work orders that follow it.
    """

    number: str
    change: str
    line: str
    assessment_revision: int
    calculation: str
    follows: str
    read_from: str
    made_at: datetime
    made_by: str
    wish: PlanWish
    assumed: Mapping[str, float]
    content: PlanContent
    fingerprint: str
    choices: tuple[ChoiceMade, ...]
    void: tuple[str, ...]
    orders: tuple[str, ...]

    @property
    def chosen(self) -> ChoiceMade | None:
        """Return the newest choice."""
        return self.choices[-1] if self.choices else None


def plan_on_record(session: Session, plan: Plan) -> PlanOnRecord:
    """Return a plan with all that is known of it."""
    assessment = session.get_one(Assessment, plan.assessment_id)
    followed = session.get(Plan, plan.follows_id) if plan.follows_id is not None else None
    content = content_of_plan(plan)
    return PlanOnRecord(
        number=plan.number,
        change=session.get_one(Change, plan.change_id).number,
        line=session.get_one(Line, plan.line_id).number,
        assessment_revision=assessment.revision,
        calculation=content.calculation,
        follows=followed.number if followed else "",
        read_from=plan.read_from or "",
        made_at=clock_at(session, plan.made_at),
        made_by=plan.made_by,
        wish=wish_of(plan),
        assumed=plan.asked["assumed"],
        content=content,
        fingerprint=plan.fingerprint,
        choices=tuple(_made(session, choice) for choice in choices_of(session, plan)),
        void=tuple(void_reasons(session, plan)),
        orders=of_one(session, Plan, _order_numbers, plan.id) or (),
    )


def content_of_plan(plan: Plan) -> PlanContent:
    """Return what a plan says, as it was frozen."""
    return from_plain(PlanContent, plan.content)


def wish_of(plan: Plan) -> PlanWish:
    """Return what the engineer asked for."""
    return from_plain(PlanWish, plan.asked["wish"])


def mark_of(plan: Plan, assessment: Assessment) -> str:
    """Return the fingerprint of all that a plan says and stands on."""
    return fingerprint(
        {
            "content": plan.content,
            "asked": plan.asked,
            "standing": plan.standing,
            "assessment": assessment.fingerprint,
        }
    )


def plans_of_change(session: Session, change_id: int) -> list[Plan]:
    """Return all plans of a change, oldest first."""
    rows = of_one(session, Change, _chosen, change_id) or ()
    return _beside(session, list(dict.fromkeys(plan for plan, _ in rows)))


def _beside(session: Session, plans: list[Plan]) -> list[Plan]:
    """Return plans that are shown beside each other."""
    ask_together(session, Plan, (one.id for one in plans))
    ask_together(session, Change, (one.change_id for one in plans))
    ask_together(session, Unit, (int(unit) for one in plans for unit in one.standing))
    return plans


def all_plans(session: Session) -> list[Plan]:
    """Return all plans of the register, oldest first."""
    return _beside(session, list(session.scalars(select(Plan).order_by(Plan.id))))


def choices_of(session: Session, plan: Plan) -> list[PlanChoice]:
    """Return how often and by whom a plan was chosen, oldest first."""
    rows = of_one(session, Change, _chosen, plan.change_id) or ()
    return [made for other, made in rows if made is not None and other.id == plan.id]


def _chosen(
    session: Session, changes: Collection[int]
) -> dict[int, tuple[tuple[Plan, PlanChoice | None], ...]]:
    """Return the plans of changes, oldest first, each with how often it was chosen."""
    query = (
        select(Plan, PlanChoice)
        .outerjoin(PlanChoice, PlanChoice.plan_id == Plan.id)
        .where(Plan.change_id.in_(changes))
        .order_by(Plan.id, PlanChoice.id)
    )
    return by_first((plan.change_id, (plan, made)) for plan, made in session.execute(query))


def _made(session: Session, choice: PlanChoice) -> ChoiceMade:
    return ChoiceMade(
        choice.alternative, choice.chosen_by, clock_at(session, choice.chosen_at), choice.reason
    )


def _order_numbers(session: Session, plans: Collection[int]) -> dict[int, tuple[str, ...]]:
    query = (
        select(PlanChoice.plan_id, WorkOrder.number)
        .join(PlannedOrder, PlannedOrder.choice_id == PlanChoice.id)
        .join(WorkOrder, PlannedOrder.work_order_id == WorkOrder.id)
        .where(PlanChoice.plan_id.in_(plans))
        .order_by(WorkOrder.id)
    )
    return by_first((plan, number) for plan, number in session.execute(query))


def present_settings(route: RouteView) -> dict[str, float]:
    """Return the set load of every unit of a line [N], by its id as text."""
    return {
        str(unit.id): unit.setting.load
        for support in route.supports
        for unit in support.units
        if unit.setting is not None
    }


def void_reasons(session: Session, plan: Plan) -> Iterator[str]:
    """Give why a plan may not be followed any more; nothing while it stands."""
    assessment = session.get_one(Assessment, plan.assessment_id)
    if mark_of(plan, assessment) != plan.fingerprint:
        yield "its content was altered since it was made (the fingerprint differs)"
    newest = latest_assessment(session, plan.change_id)
    if newest.id != plan.assessment_id:
        yield Sentence(
            "assessment {revision} was superseded by {newer}",
            revision=str(assessment.revision),
            newer=str(newest.revision),
        )
    newer = superseded_by(session, session.get_one(Calculation, assessment.calculation_id))
    if newer:
        yield Sentence(SUPERSEDED, newer=newer)
    later = later_choice(session, plan)
    if later is not None:
        number = session.get_one(Plan, later.plan_id).number
        yield Sentence("{number} was chosen in its place", number=number)
    yield from _set_since(session, plan)


def later_choice(session: Session, plan: Plan) -> PlanChoice | None:
    """Return a choice of a later plan of the same line, made after this plan."""
    later = [
        made
        for other, made in of_one(session, Change, _chosen, plan.change_id) or ()
        if made is not None and other.line_id == plan.line_id and other.id > plan.id
    ]
    return max(later, key=lambda made: made.id, default=None)


SET_SINCE = "{unit} was set from {was} to {now} since"


def _set_since(session: Session, plan: Plan) -> Iterator[str]:
    """Give the units that were set since by other work than the plan's own."""
    own = {str(unit) for unit in of_one(session, Plan, _own_units, plan.id) or ()}
    others = {int(unit): load for unit, load in plan.standing.items() if unit not in own}
    points = _points_of(session, plan)
    places = of_many(session, Unit, _places, others)
    settings = of_many(session, Unit, newest_settings, others)
    there = [one for one in places.values() if one is not None and one.point in points]
    for one in sorted(there, key=lambda place: (natural_key(place.tag), place.position)):
        setting, before = settings[one.unit], others[one.unit]
        if setting is not None and abs(setting.load - before) > 1e-6 * abs(before):
            was, now = (shown(load, "kN", Kind.LOAD) for load in (before, setting.load))
            unit = f"{one.tag}/{one.position}"
            yield Sentence(SET_SINCE, unit=unit, was=was, now=now)


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a unit is in place now."""

    unit: int
    point: int
    tag: str
    position: str


def _places(session: Session, units: Collection[int]) -> dict[int, _Place]:
    query = (
        select(UnitPlacement.unit_id, Assembly.point_id, SupportTag.tag, UnitPlacement.position)
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .join(SupportTag, SupportTag.point_id == Assembly.point_id)
        .where(UnitPlacement.until.is_(None), SupportTag.valid_to.is_(None))
    )
    rows = session.execute(only(query, UnitPlacement.unit_id, units))
    return {row[0]: _Place(*row) for row in rows}


def _points_of(session: Session, plan: Plan) -> set[int]:
    """Return the support points of the plan's line, as the assessment knew them."""
    assessment = session.get_one(Assessment, plan.assessment_id)
    units = set(plan.standing)
    supports: list[dict[str, Any]] = assessment.content["supports"]
    return {
        support["id"]
        for support in supports
        if units & {str(unit["id"]) for unit in support["units"]}
    }


def _own_units(session: Session, plans: Collection[int]) -> dict[int, tuple[int, ...]]:
    """Return by plan the units that were last set under an order that follows it."""
    query = (
        select(PlanChoice.plan_id, SettingEvent.unit_id)
        .join(PlannedOrder, PlannedOrder.choice_id == PlanChoice.id)
        .join(WorkOrderLine, WorkOrderLine.work_order_id == PlannedOrder.work_order_id)
        .join(SettingEvent, SettingEvent.work_order_line_id == WorkOrderLine.id)
        .where(PlanChoice.plan_id.in_(plans))
    )
    return by_first((plan, unit) for plan, unit in session.execute(query))


def choice_in_force(
    session: Session, change_id: int, line_id: int, kinds: tuple[PlanKind, ...] = FORWARD
) -> tuple[Plan, PlanChoice] | None:
    """Return the plan of a line that was chosen last, with the choice; None if none was."""
    query = (
        select(Plan, PlanChoice)
        .join(PlanChoice, PlanChoice.plan_id == Plan.id)
        .where(Plan.change_id == change_id, Plan.line_id == line_id, Plan.kind.in_(kinds))
        .order_by(PlanChoice.id.desc())
        .limit(1)
    )
    row = session.execute(query).first()
    return None if row is None else (row[0], row[1])


def chosen_plan(plan: Plan, choice: PlanChoice) -> ChosenPlan:
    """Return a plan with the alternative that was chosen."""
    content = content_of_plan(plan)
    return ChosenPlan(plan.number, content, content.named(choice.alternative))


def plans_of_order(session: Session, order_id: int) -> list[tuple[Plan, PlanChoice]]:
    """Return the chosen plans that an order follows; none for an order from the assessment."""
    query = (
        select(Plan, PlanChoice)
        .join(PlanChoice, PlanChoice.plan_id == Plan.id)
        .join(PlannedOrder, PlannedOrder.choice_id == PlanChoice.id)
        .where(PlannedOrder.work_order_id == order_id)
        .order_by(PlannedOrder.id)
    )
    found = [(plan, choice) for plan, choice in session.execute(query)]
    _beside(session, [plan for plan, _ in found])
    return found


def foretold(session: Session, line: WorkOrderLine, round_no: int) -> tuple[float, float] | None:
    """Return what a unit's scale shows before and after a round of its plan [N].

    None where the order follows no plan, or the plan does not know the unit in that round.
    """
    found = windows_foretold(session, line, round_no)
    return None if found is None else (found.before, found.after.scale)


def windows_foretold(session: Session, line: WorkOrderLine, round_no: int) -> Foretold | None:
    """Return what a unit's scale shows in a round of its plan, and when work stops [N]."""
    for plan, choice in plans_of_order(session, line.work_order_id):
        slack = slack_of(content_of(session.get_one(Assessment, plan.assessment_id)).settings)
        chosen = chosen_plan(plan, choice).alternative
        if found := foretold_in(chosen, line.unit_id, round_no, slack):
            return found
    return None


def plan_blockers(session: Session, order_id: int) -> list[str]:
    """Return why an order may not follow its plan any more."""
    return [
        Sentence("{number} is void: {why}", number=plan.number, why=why)
        for plan, _ in plans_of_order(session, order_id)
        for why in void_reasons(session, plan)
    ]


def require_standing(session: Session, plan: Plan, what: str) -> None:
    """Raise NotReady if a plan is void."""
    reasons = list(void_reasons(session, plan))
    if reasons:
        raise NotReady(
            Sentence("{plan} is void and cannot be {what}", plan=plan.number, what=what),
            reasons,
            remedy="Plan again: supports plan make",
        )
