"""What the paper of a re-set plan says: alternatives side by side, one of them in full."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from reports.contents.common import PaperHead, Signature
from reports.contents.planned_rounds import (
    PlannedRounds,
    may_be_worked_by,
    planned_rounds,
    stamp_of,
)
from reports.contents.unit_faces import UnitFace
from reports.contents.written import percent, used
from reports.languages import IN_ENGLISH, Texts
from supports.rules.reset_planning.content import (
    CostSaid,
    GoalReached,
    OrderJudged,
    PlanAlternative,
    PlanContent,
    UseSaid,
)
from supports.rules.reset_planning.round_windows import Slack
from supports.rules.reset_planning.wish import FLATS


@dataclass(frozen=True, slots=True)
class Choice:
    """Which plan somebody chose, and why."""

    alternative: str
    by: str
    on: str
    reason: str


@dataclass(frozen=True, slots=True)
class PlanPaper:
    """A plan on paper.

    Parameters
    ----------
    choice
        None while nobody has chosen; the first plan is then shown in full.
    faces
        What each unit shows, by its id.
    basis
        Facts the plan stands on: name and value.
    void
        Why the plan holds no more; empty while it stands.
    props
        Props of the plan that are in when the paper is made, by name: number, and who put it in.
    """

    head: PaperHead
    content: PlanContent
    faces: Mapping[int, UnitFace]
    slack: Slack
    choice: Choice | None = None
    basis: tuple[tuple[str, str], ...] = ()
    signatures: tuple[Signature, ...] = ()
    void: tuple[str, ...] = ()
    props: Mapping[str, tuple[str, str]] = field(default_factory=dict)

    @property
    def shown(self) -> PlanAlternative | None:
        """Return the plan that is shown in full: the chosen one, else the first."""
        named = self.choice.alternative if self.choice else ""
        plans = self.content.alternatives
        return next((p for p in plans if p.name == named), plans[0] if plans else None)

    @property
    def rounds(self) -> PlannedRounds | None:
        """Return the rounds of the plan shown; None where it has none."""
        plan = self.shown
        if plan is None or not plan.rounds:
            return None
        rounds = planned_rounds(plan, self.content, self.faces, self.slack)
        stamp = stamp_of(plan, self.content, self.void)
        return replace(rounds, stamp=stamp, props=self.props)


def risk_words(plan: PlanAlternative, say: Texts = IN_ENGLISH) -> str:
    """Return what may go wrong on the way, in words."""
    if not plan.can_be_done:
        return say("breaks a limit at its end: not to be worked by")
    if not plan.safe:
        return say("no order was found that keeps every limit on the way: not to be worked by")
    props = len(plan.holds)
    held = ""
    if props:
        held = say("{count} prop or stop in from before the weight is let go", count=props) + "; "
    close = plan.cost.close_steps if plan.cost else 0
    near = say("no step ends close to a limit")
    if close:
        near = say("1 step ends close to a limit")
    if close > 1:
        near = say("{count} steps end close to a limit", count=close)
    band = ""
    if plan.band is not None and not plan.band.passes:
        band = "; " + say(
            "if all friction added up, {words} would stand at {share}",
            words=say.sentence(plan.band.words), share=used(plan.band.share),
        )  # fmt: skip
    return f"{held}{near}{band}"


def proof_words(goal: GoalReached, say: Texts = IN_ENGLISH) -> str:
    """Return whether a goal can be beaten: proved, or by how much at most."""
    if goal.proved:
        return say("proved")
    gap = abs(goal.value - goal.bound) / abs(goal.value) if goal.value else 0.0
    return say("gap {share}", share=percent(gap, decimals=1))


def proof_of(plan: PlanAlternative, say: Texts = IN_ENGLISH) -> str:
    """Return the proof of all goals in few words."""
    if not plan.goals:
        return say("loads given, nothing to prove")
    open_goals = [goal for goal in plan.goals if not goal.proved]
    if not open_goals:
        return say("each goal proved best")
    return "; ".join(f"{say.word(goal.goal)}: {proof_words(goal, say)}" for goal in open_goals)


def use_words(use: UseSaid | None, say: Texts = IN_ENGLISH) -> str:
    """Return a use of a limit in words, with its share."""
    return say("not known") if use is None else f"{used(use.share)} {say.sentence(use.words)}"


def hours(value: float | None, say: Texts = IN_ENGLISH) -> str:
    """Return hours with one decimal."""
    return say("not known") if value is None else f"{value:.1f}"


@dataclass(frozen=True, slots=True)
class Side:
    """One criterion over all plans; `strong` rows are read first."""

    what: str
    values: tuple[str, ...]
    strong: bool = False


def side_by_side(content: PlanContent, say: Texts = IN_ENGLISH) -> tuple[Side, ...]:
    """Return what the plans are compared by, a row each."""
    plans = content.alternatives
    costs = [plan.cost for plan in plans]

    def row(what: str, values: list[str], *, strong: bool = False) -> Side:
        return Side(what, tuple(values), strong)

    return (
        row(say("May be worked by"), [_may(plan, content, say) for plan in plans], strong=True),
        row(say("Units turned"), [_count(cost, "units") for cost in costs], strong=True),
        row(say("Rounds; visits"), [_rounds_visits(plan) for plan in plans]),
        row(say("Turns in all"), ["–" if cost is None else f"{cost.turns:.1f}" for cost in costs]),
        row(say("Crew hours"), [_hours(cost, "crew_hours", say) for cost in costs]),
        row(say("Man-hours at the units"), [_hours(cost, "man_hours", say) for cost in costs]),
        row(say("Man-hours on scaffolds"), [_hours(cost, "scaffold_hours", say) for cost in costs]),
        row(
            say("Man-hours in all"),
            [_hours(cost, "total_hours", say) for cost in costs],
            strong=True,
        ),
        row(
            say("Most used limit, weight let go, nothing turned"),
            [use_words(p.start, say) for p in plans],
        ),
        row(say("Most used limit on the way"), [use_words(p.way, say) for p in plans]),
        row(say("Most used limit at the end"), [use_words(p.end, say) for p in plans], strong=True),
        row(say("Nozzles at the end"), [_nozzles_end(plan) for plan in plans]),
        row(say("Props and travel stops"), [_props(plan, say) for plan in plans]),
        row(say("Steps close to a limit"), [_count(cost, "close_steps") for cost in costs]),
        row(say("Can it be beaten?"), [proof_of(plan, say) for plan in plans]),
        row(say("Risk"), [risk_words(plan, say) for plan in plans]),
    )


def _may(plan: PlanAlternative, content: PlanContent, say: Texts) -> str:
    if may_be_worked_by(plan, content):
        return say("YES, once accepted")
    if not plan.can_be_done:
        return say("NO: cannot be done")
    return (
        say("NO: not safe on the way") if not plan.safe else say("NOT KNOWN: something is missing")
    )


def _count(cost: CostSaid | None, what: str) -> str:
    return "–" if cost is None else str(getattr(cost, what))


def _hours(cost: CostSaid | None, what: str, say: Texts) -> str:
    return "–" if cost is None else hours(getattr(cost, what), say)


def _rounds_visits(plan: PlanAlternative) -> str:
    return "–" if plan.cost is None else f"{len(plan.rounds)}; {plan.cost.visits}"


def _nozzles_end(plan: PlanAlternative) -> str:
    last = plan.rounds[-1].nozzles if plan.rounds else ()
    return "; ".join(f"{use.nozzle} {used(use.use)}" for use in last) or "–"


def _props(plan: PlanAlternative, say: Texts) -> str:
    return ", ".join(hold.name for hold in plan.holds) or (say("none") if plan.rounds else "–")


def order_words(order: OrderJudged, say: Texts = IN_ENGLISH) -> str:
    """Return what would happen if the same turns were given in another order."""
    names = " → ".join(order.names)
    if order.passes:
        return say(
            "Turned {which} ({names}), each unit at once, no limit would be passed; the most "
            "used: {use}, at {at}.",
            which=say.sentence(order.which),
            names=names,
            use=use_words(order.worst, say),
            at=say.sentence(order.at),
        )
    return say(
        "Turned {which} ({names}), each unit at once, a limit would be passed at {at}: {use}.",
        which=say.sentence(order.which),
        names=names,
        at=say.sentence(order.at),
        use=use_words(order.worst, say),
    )


def step_words(steps_per_turn: int, say: Texts = IN_ENGLISH) -> str:
    """Return the smallest step that is turned."""
    return (
        say("one flat") if steps_per_turn == FLATS else say("1/{count} turn", count=steps_per_turn)
    )
