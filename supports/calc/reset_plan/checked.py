"""Plans and orders that hold by the full one-way solve, not by prediction alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from supports.calc.reset_plan.effort import Effort, Goal
from supports.calc.reset_plan.field import WHOLE, Spot, changes_at
from supports.calc.reset_plan.judge import final_judge
from supports.calc.reset_plan.lattice import WITH_HOLDS
from supports.calc.reset_plan.movers import Mover, movers_of
from supports.calc.reset_plan.order import Known, OrderWish, judge_with, order_reset
from supports.calc.reset_plan.plan import FEWEST_UNITS, changes_of, plan_reset
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.recheck import Check, Checker, Resolve, corrected
from supports.calc.reset_plan.results import ResetPlan, Status, UnitPlan
from supports.calc.reset_plan.sequence import Sequence, Step

TRIES = 12


@dataclass(frozen=True, slots=True)
class CheckedPlan:
    """A plan whose end was solved in full in every state.

    Parameters
    ----------
    checks
        Ends that were tried, the last one being that of the plan.
    """

    plan: ResetPlan
    checks: tuple[Check, ...]

    @property
    def holds_good(self) -> bool:
        """Whether the plan keeps every limit by the full solve too."""
        return self.plan.status is Status.DONE and self.checks[-1].solved.passes


@dataclass(frozen=True, slots=True)
class CheckedSequence:
    """An order of which every part-done state was solved in full.

    Parameters
    ----------
    checks
        For each step the states passed on the way into it, in order.
    reordered
        How often the order was sought again because the solve judged a state differently.
    """

    sequence: Sequence
    checks: tuple[tuple[Check, ...], ...]
    reordered: int

    @property
    def disagreeing(self) -> tuple[Step, ...]:
        """Steps in which solve and prediction differ."""
        pairs = zip(self.sequence.steps, self.checks, strict=True)
        return tuple(step for step, checks in pairs if any(one.disagrees for one in checks))


def plan_checked(
    problem: PlanProblem,
    resolve: Resolve,
    effort: Effort | None = None,
    goals: tuple[Goal, ...] = FEWEST_UNITS,
) -> CheckedPlan:
    """Plan, solve the end in full in every state, and plan again where the prediction was too kind.

    Each time the base of the tables is moved to the solved state, so that the end that failed is
    not offered next. If that leads round in circles, every support is asked to keep its status,
    where the prediction is exact. A plan that no solve bears out is marked as broken.

    Parameters
    ----------
    problem
        Loads [N], positions [m], moments [N·m].
    resolve
        The full one-way solve.

    Returns
    -------
    CheckedPlan
        The last plan with every end tried [1].

    Notes
    -----
    Source: successive linearisation of a piecewise linear system.
    """
    now = problem
    ends: list[Check] = []
    for _ in range(TRIES):
        plan, check, now = _one_plan(now, resolve, effort, goals)
        if check is None and not ends:
            return CheckedPlan(plan, ())
        if check is None:
            break
        seen = any(check.changes == end.changes for end in ends)
        ends.append(check)
        if check.solved.passes:
            return CheckedPlan(plan, tuple(ends))
        if seen or check.trouble:
            break
    plan, check, _ = _one_plan(replace(problem, keep_status=True), resolve, effort, goals)
    checks = (*ends, *([check] if check else []))
    if check and not check.solved.passes:
        plan = replace(plan, status=Status.BROKEN, worst=check.solved)
    return CheckedPlan(plan, checks)


def _one_plan(
    problem: PlanProblem, resolve: Resolve, effort: Effort | None, goals: tuple[Goal, ...]
) -> tuple[ResetPlan, Check | None, PlanProblem]:
    """Plan once and solve the end; return the problem with its base moved there."""
    plan = plan_reset(problem, effort, goals)
    if plan.status is not Status.DONE:
        return plan, None, problem
    changes = changes_of(problem, plan.units)
    checker = Checker(problem, final_judge(problem), resolve)
    check = checker.check(changes, working_only=False)
    if check.trouble or check.solved.passes:
        return plan, check, problem
    differences = checker.differences(changes, check.changes, working_only=False)
    return plan, check, corrected(problem, differences)


def order_checked(
    problem: PlanProblem,
    units: tuple[UnitPlan, ...],
    resolve: Resolve,
    wish: OrderWish | None = None,
) -> CheckedSequence:
    """Order the turns, solve every state on the way in full, and order again where need be.

    A state that the solve shows to be past a limit is avoided; where no order is left, props or
    stops are called for.

    Parameters
    ----------
    problem
        Working states and limits [N], [m], [N·m].
    units
        What each unit gets.
    resolve
        The full one-way solve.

    Returns
    -------
    CheckedSequence
        The order, its checks [1] and how often it was changed.

    Notes
    -----
    Source: superposition between the states; each state by the full solve.
    """
    search = _Search(problem, units, resolve, wish or OrderWish())
    sequence, found = search.attempt()
    reordered = 0
    while search.learn(sequence, found) and reordered < TRIES:
        reordered += 1
        sequence, found = search.attempt()
    checks = tuple(tuple(check for _, check in step) for step in found)
    return CheckedSequence(replace(sequence, avoided=tuple(search.avoided)), checks, reordered)


_Found = tuple[tuple[tuple[Spot, Check], ...], ...]
"""For each step the states passed on the way into it."""


@dataclass(slots=True)
class _Search:
    """What the full solve taught so far about the states of one plan."""

    problem: PlanProblem
    units: tuple[UnitPlan, ...]
    resolve: Resolve
    wish: OrderWish
    known: dict[tuple[tuple[str, ...], int], Known] = field(default_factory=dict)
    checkers: dict[tuple[str, ...], Checker] = field(default_factory=dict)
    avoided: list[tuple[Mapping[str, float], float]] = field(default_factory=list)

    def attempt(self) -> tuple[Sequence, _Found]:
        """Order the turns by what is known, and solve every state on the way."""
        sequence = order_reset(self.problem, self.units, self.wish, self.known.values())
        movers = movers_of(self.problem, self.units, sequence.parts)
        before = (0,) * len(movers)
        found = []
        for step in sequence.steps:
            spots = tuple(_spots(before, step))
            found.append(tuple((spot, self._check(movers, spot, sequence)) for spot in spots))
            before = step.levels
        return sequence, tuple(found)

    def learn(self, sequence: Sequence, found: _Found) -> bool:
        """Remember states that the solve judges differently; tell whether any is new."""
        key = (sequence.holds, sequence.parts)
        before = self.known.get(key, Known(*key))
        fresh = {
            spot: check
            for step in found
            for spot, check in step
            if check.disagrees and spot not in before.uses
        }
        uses = {spot: check.solved.share for spot, check in fresh.items()}
        self.known[key] = replace(before, uses={**before.uses, **uses})
        past = [check for check in fresh.values() if not check.solved.passes]
        self.avoided += [(check.changes, check.solved.share) for check in past]
        return bool(fresh)

    def _check(self, movers: tuple[Mover, ...], spot: Spot, sequence: Sequence) -> Check:
        mode, levels, half = spot
        names = sequence.holds if mode == WITH_HOLDS else ()
        checker = self.checkers.get(names) or self._checker(names)
        states = np.array([levels], dtype=np.int64)
        changes = changes_at(movers, len(self.problem.columns), states, half)[0]
        return checker.check(changes, working_only=True)

    def _checker(self, names: tuple[str, ...]) -> Checker:
        holds = tuple(hold for hold in self.wish.holds if hold.name in names)
        judge = judge_with(self.problem, holds)
        self.checkers[names] = Checker(self.problem, judge, self.resolve, holds)
        return self.checkers[names]


def _spots(before: tuple[int, ...], step: Step) -> Iterator[Spot]:
    """Yield the states passed from the step before into this one, its own last."""
    ahead = [
        (at, level)
        for at, (was, now) in enumerate(zip(before, step.levels, strict=True))
        for level in range(was + 1, now)
    ]
    for at, level in ahead:
        yield step.mode, (*before[:at], level, *before[at + 1 :]), WHOLE
    yield step.mode, step.levels, step.half
