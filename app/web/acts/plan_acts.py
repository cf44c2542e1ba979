"""Re-set plans of a change and its orders: made, chosen, made again, the way back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sqlalchemy.orm import Session

from app.plans import STEPS, asked_of, state_of_work, weight_is_on
from app.web.acts.asking import Act, Ask, Said, Where, same_words
from supports.operations.plans import choose_plan, make_reset_plan, plan_again, plan_the_way_back
from supports.operations.work_orders import write_undo_order, write_work_order
from supports.queries.change_views import change_view
from supports.queries.lookups import plan_of
from supports.queries.plans import content_of_plan
from supports.rules.reset_planning.wish import WORK_STATES, PlanAim
from supports.vocabulary import PlantState

if TYPE_CHECKING:
    from app.web.visits import Visit

_STATE = "State of the line while bolts are turned"


def _line(session: Session, where: Where) -> Ask:
    lines = change_view(session, where[0]).lines
    return Ask("line", "Line", "choice", options=same_words(lines))


def _ask_make(session: Session, where: Where, _: Visit) -> Sequence[Ask]:
    steps = [name for name in STEPS if name]
    return (
        _line(session, where),
        Ask("aim", "Aim", "choice", options=same_words([*PlanAim]),
            hint="The aim decides which loads are right; an engineer chooses it."),
        Ask("state", _STATE, "choice", options=same_words(WORK_STATES)),
        Ask("steps", "Smallest step", "choice", options=(("", "as the site laid down"),
            *same_words(steps))),
        Ask("friction", "Part of each friction band that is counted", unit="%",
            hint="As the site laid down if left empty."),
        Ask("alone", "This plan alone, none laid beside it", "tick"),
    )  # fmt: skip


def _make(visit: Visit, where: Where, said: Said) -> str:
    friction = said.text("friction")
    friction = f"{friction} %" if friction and "%" not in friction else friction
    asked = asked_of(
        said.text("aim"), said.text("state"), said.text("steps"), friction,
        alone=bool(said.text("alone")),
    )  # fmt: skip
    number = make_reset_plan(
        visit.register, where[0], said.text("line"), asked, acting=visit.acting, now=visit.now
    )
    return f"/plans/{number}"


def _ask_choose(session: Session, where: Where, _: Visit) -> Sequence[Ask]:
    content = content_of_plan(plan_of(session, where[0]))
    options = tuple(
        (str(place), f"{place}. {one.name}")
        for place, one in enumerate(content.alternatives, start=1)
    )
    return (
        Ask("which", "Which of them", "choice", options=options),
        Ask("reason", "Why this one", "long", needed=True),
    )


def _choose(visit: Visit, where: Where, said: Said) -> str:
    which = said.whole("which") or 0
    choose_plan(
        visit.register, where[0], which, reason=said.text("reason"), acting=visit.acting,
        now=visit.now,
    )  # fmt: skip
    return f"/plans/{where[0]}"


def _nothing(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    return ()


def _again(visit: Visit, where: Where, _: Said) -> str:
    number = plan_again(visit.register, where[0], acting=visit.acting, now=visit.now)
    return f"/plans/{number}"


def _ask_back(session: Session, where: Where, _: Visit) -> Sequence[Ask]:
    return (
        _line(session, where),
        Ask("weight", "Is the weight of the change on the line", "choice",
            options=(("", "not said"), ("on", "on"), ("off", "off"))),
        Ask("state", _STATE, "choice", options=(("", "as in the plan"), *same_words(WORK_STATES))),
    )  # fmt: skip


def _back(visit: Visit, where: Where, said: Said) -> str:
    state = said.text("state")
    number = plan_the_way_back(
        visit.register, where[0], said.text("line"), weight_on=weight_is_on(said.text("weight")),
        work_state=state_of_work(state) if state else None, acting=visit.acting, now=visit.now,
    )  # fmt: skip
    return f"/plans/{number}"


def _ask_state(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    states = [one for one in PlantState if one is not PlantState.UNKNOWN]
    hint = "Where a plan was chosen, leave it to the plan."
    options = (("", "as in the plan"), *same_words(states))
    return (Ask("state", "State of the line that the work needs", "choice", hint, options=options),)


def _write(visit: Visit, where: Where, said: Said) -> str:
    number = write_work_order(
        visit.register, where[0], line_state=said.text("state"), acting=visit.acting,
        now=visit.now,
    )  # fmt: skip
    return f"/work-orders/{number}"


def _undo(visit: Visit, where: Where, said: Said) -> str:
    number = write_undo_order(
        visit.register, where[0], line_state=said.text("state"), acting=visit.acting,
        now=visit.now,
    )  # fmt: skip
    return f"/work-orders/{number}"


PLANNING_ACTS = (
    Act("make a plan", "Make a re-set plan", _make, _ask_make,
        "Fewest units, whole flats, every state on the way within limits. It may take a minute."),
    Act("plan the way back", "Plan the way back", _back, _ask_back),
    Act("write the work order", "Write the work order", _write, _ask_state),
    Act("write the undo order", "Write the order that puts units back", _undo, _ask_state),
)  # fmt: skip
"""About a change."""

CHOOSE = Act("choose", "Choose one of them", _choose, _ask_choose,
             "The work order follows it. Somebody who did not make the plan chooses.")  # fmt: skip
"""About a plan."""

AGAIN = Act("plan again", "Plan again from the readings", _again, _nothing,
            "The earlier plan is kept and linked.")  # fmt: skip
"""About a work order."""
