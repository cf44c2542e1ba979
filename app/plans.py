"""What an engineer types about a plan, and plans of the register as lines of text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sqlalchemy.orm import Session

from app.answers import Answer
from app.plan_words import plan_page, standing_words
from app.readings import quantity
from app.words import word
from supports.database import Register
from supports.errors import BadInput
from supports.model import Plan
from supports.operations.plans import Asked
from supports.queries.lookups import change_of, plan_of
from supports.queries.plans import PlanOnRecord, all_plans, plan_on_record, plans_of_change
from supports.rules.reset_planning.wish import WORK_STATES, PlanAim, PlanKind
from supports.sentences import Sentence, joined
from supports.units import Kind
from supports.vocabulary import PlantState

STEPS = {"": None, "whole flats": 1, "half-turns": 3}


def asked_of(aim: str, line_state: str, steps: str, friction: str, *, alone: bool) -> Asked:
    """Return what was typed as a wish.

    Raises
    ------
    BadInput
        A word is not on its list; there is no aim by default.
    """
    if not aim.strip():
        raise BadInput(
            "no aim is given",
            expected=Sentence("one of {names}", names=joined(PlanAim)),
            remedy="The aim decides which loads are right: the engineer says it with --aim",
        )
    if steps.strip().lower() not in STEPS:
        raise BadInput("the steps", found=f"'{steps}'", expected="whole flats or half-turns")
    return Asked(
        aim=word(PlanAim, aim),
        work_state=state_of_work(line_state),
        flats=STEPS[steps.strip().lower()],
        friction=quantity(friction, Kind.FRACTION) if friction else None,
        alone=alone,
    )


def state_of_work(text: str) -> PlantState:
    """Return the state of the line typed.

    Raises
    ------
    BadInput
        It is not one in which a plan can foretell readings.
    """
    state = word(PlantState, text)
    if state not in WORK_STATES:
        raise BadInput(
            "a plan cannot be made for that state", found=text, expected=joined(WORK_STATES, ", ")
        )
    return state


def weight_is_on(text: str) -> bool:
    """Return whether the weight is on the line; nothing is taken for granted.

    Raises
    ------
    BadInput
        Neither on nor off.
    """
    known = {"on": True, "off": False}
    if text.strip().lower() not in known:
        raise BadInput(
            "whether the weight of the change is on the line is not said", found=f"'{text}'",
            expected="on or off", remedy="Say it with --weight",
        )  # fmt: skip
    return known[text.strip().lower()]


def plan_lines_of(register: Register, number: str) -> Sequence[str]:
    """Return a plan of the register as lines."""
    return plan_shown(register, number).lines


def plan_shown(
    register: Register, number: str, *, which: int = 0, readings: bool = False
) -> Answer:
    """Return a plan of the register.

    Raises
    ------
    BadInput
        There is no alternative at that place.
    """
    with register.reading() as session:
        plan = plan_on_record(session, plan_of(session, number))
    known = len(plan.content.alternatives)
    if not 0 <= which <= known:
        raise BadInput(
            "there is no such alternative",
            found=str(which),
            expected=Sentence("1 to {known}", known=str(known)),
        )
    return Answer(plan, tuple(plan_page(plan, which=which, readings=readings)))


def plans_listed(register: Register, change: str) -> Answer:
    """Return plans, of one change or of all; a line each."""
    with register.reading() as session:
        found = [plan_on_record(session, plan) for plan in plans_known(session, change)]
    return Answer(tuple(found), tuple(_listed(found)) or ("there is no plan yet",))


def plans_known(session: Session, change: str) -> Sequence[Plan]:
    """Return plans, of one change or of all, oldest first."""
    if change:
        return plans_of_change(session, change_of(session, change).id)
    return all_plans(session)


def _listed(plans: list[PlanOnRecord]) -> Iterator[str]:
    for plan in plans:
        after = f", after {plan.follows}" if plan.follows else ""
        yield (
            f"{plan.number} {plan.change} {plan.line}, {plan.content.kind}{after}: "
            f"{standing_words(plan)}"
        )


def next_after_choice(register: Register, number: str) -> str:
    """Return what follows the choice of a plan."""
    with register.reading() as session:
        plan = plan_on_record(session, plan_of(session, number))
    verb = "undo" if plan.content.kind is PlanKind.UNDO else "write"
    return f"Next, by the planner: supports work-order {verb} {plan.change}"
