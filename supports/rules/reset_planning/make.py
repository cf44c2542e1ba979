"""Make a re-set plan: steps, order, props, alternatives; each part-done state solved in full."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import combinations

import numpy as np

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.alternatives import LEAST_NOZZLE
from supports.calc.reset_plan.checked import (
    CheckedPlan,
    CheckedSequence,
    order_checked,
    plan_checked,
)
from supports.calc.reset_plan.judge import PASSES, Use, final_judge, working_judge
from supports.calc.reset_plan.limits import Hold
from supports.calc.reset_plan.order import OrderWish, judge_with
from supports.calc.reset_plan.plan import LEAST_USE, changes_of, plan_reset, plan_to
from supports.calc.reset_plan.recheck import Check, Checker
from supports.calc.reset_plan.results import ResetPlan, Status
from supports.calc.reset_plan.rows import RowKind
from supports.rules.assessment import AssessmentContent
from supports.rules.reset_planning.build import (
    Planning,
    planning_of,
    with_units,
    without_targets,
)
from supports.rules.reset_planning.content import FIRST_CHOICE, PlanAlternative, PlanContent
from supports.rules.reset_planning.said import clash_said, relief_said, use_said, verdict_said
from supports.rules.reset_planning.springs import PlanUnit
from supports.rules.reset_planning.targets import LEVER
from supports.rules.reset_planning.wish import PlanKind, PlanWish
from supports.rules.reset_planning.written import Written, alternative_of
from supports.rules.site_settings import SiteSettings
from supports.snapshots import RouteView

SETS_TRIED = 2
"""Sets of props and stops that an order is sought with."""
STATES = 8_000
"""Part-done states up to which every order is looked at."""
BANDED_ROUNDS = 4
"""How often a plan is made again while a banded load per turn changes the load by one step."""


def make_plan(
    content: AssessmentContent,
    route: RouteView,
    wish: PlanWish,
    settings: SiteSettings,
    fingerprint: str,
) -> PlanContent:
    """Return the plan of one line of an assessed change.

    Parameters
    ----------
    fingerprint
        Of the assessment that the plan stands on.

    Raises
    ------
    NotReady
        The line cannot be modelled, or nothing of it may be turned.
    """
    planning = planning_of(content, route, wish, settings)
    checked, planning = settled(planning)
    plans = [alternative(planning, FIRST_CHOICE, checked)]
    if wish.alternatives:
        plans += list(_others(planning))
    return content_of(planning, content, route, wish, fingerprint, tuple(plans))


def content_of(
    planning: Planning,
    content: AssessmentContent,
    route: RouteView,
    wish: PlanWish,
    fingerprint: str,
    plans: tuple[PlanAlternative, ...],
    kind: PlanKind = PlanKind.FIRST,
) -> PlanContent:
    """Return the plans of a line with what stands beside them."""
    return PlanContent(
        change=content.change.number,
        line=route.line.number,
        kind=kind,
        aim=wish.aim,
        work_state=wish.work_state,
        steps_per_turn=wish.steps_per_turn,
        assessment=fingerprint,
        friction_share=wish.friction_share,
        alternatives=plans,
        not_turned=planning.not_turned,
        missing=planning.missing,
        notes=planning.notes,
        calculation=content.calculation.name,
    )


def settled(planning: Planning) -> tuple[CheckedPlan, Planning]:
    """Plan, and again while a banded load per turn changes what one step gives."""
    for _ in range(BANDED_ROUNDS):
        checked = plan_checked(planning.problem, planning.resolve)
        fresh = banded(planning, {u.name: u.steps for u in checked.plan.units})
        if not fresh:
            break
        planning = with_units(planning, fresh)
    return checked, planning


def banded(planning: Planning, steps: Mapping[str, int]) -> dict[str, PlanUnit]:
    """Return the units whose mean load by one step differs from what the plan took."""
    fresh = {}
    for name, count in steps.items():
        unit = planning.units[name]
        if unit.stepping is None:
            continue
        size = unit.stepping.mean(unit.limits.setting, count)
        if abs(size - (unit.limits.step or 0.0)) > 1e-6 * size:
            fresh[name] = replace(unit, limits=replace(unit.limits, step=size))
    return fresh


def _others(planning: Planning) -> Iterable[PlanAlternative]:
    """Yield the plans beside the first: least use of nozzles, and the lever method's loads."""
    nozzles = frozenset({RowKind.NOZZLE})
    others = {
        LEAST_NOZZLE: plan_reset(planning.problem, None, LEAST_USE, nozzles),
        LEVER: plan_to(without_targets(planning).problem, planning.lever),
    }
    for name, plan in others.items():
        free = planning if name != LEVER else without_targets(planning)
        yield alternative(free, name, checked_end(free, plan))


def checked_end(planning: Planning, plan: ResetPlan) -> CheckedPlan:
    """Solve the end of a plan in full; one that no solve bears out is marked as broken."""
    if plan.status in {Status.IMPOSSIBLE, Status.UNDECIDED}:
        return CheckedPlan(plan, ())
    checker = Checker(planning.problem, final_judge(planning.problem), planning.resolve)
    check: Check = checker.check(changes_of(planning.problem, plan.units), working_only=False)
    if plan.status is Status.DONE and not check.solved.passes:
        plan = replace(plan, status=Status.BROKEN, worst=check.solved)
    return CheckedPlan(plan, (check,))


def alternative(
    planning: Planning, name: str, checked: CheckedPlan, *, as_left: bool = False
) -> PlanAlternative:
    """Return one plan with its order, in words and figures.

    Parameters
    ----------
    as_left
        Whether the line stands so already, and no weight is let go before the first turn.
    """
    plan = checked.plan
    if plan.status in {Status.IMPOSSIBLE, Status.UNDECIDED}:
        return PlanAlternative(
            name,
            can_be_done=False,
            verdict=verdict_said(plan),
            end=use_said(plan.worst),
            clashes=tuple(clash_said(clash) for clash in plan.clashes),
            relief=tuple(relief_said(plan.relief)) if plan.status is Status.IMPOSSIBLE else (),
        )
    order = ordered(planning, plan)
    written = Written(plan, checked.checks, order, start_of(planning), as_left)
    return alternative_of(planning, name, written)


def start_of(planning: Planning) -> Use:
    """Return the limit used most with the weight let go and nothing turned, solved in full."""
    problem = planning.problem
    checker = Checker(problem, working_judge(problem), planning.resolve)
    return checker.check(np.zeros(len(problem.columns)), working_only=True).solved


def ordered(planning: Planning, plan: ResetPlan) -> CheckedSequence:
    """Order the turns of a plan; props and travel stops come in where no order is safe without."""
    holds = best_holds(planning, changes_of(planning.problem, plan.units))
    wish = OrderWish(states=STATES, comfort=planning.settings.close_use, holds=holds)
    return order_checked(planning.problem, plan.units, planning.resolve, wish)


def best_holds(planning: Planning, changes: FloatArray) -> tuple[Hold, ...]:
    """Return the props and stops among which an order is sought: the best sets, one or two each.

    A set is judged at the start and half-way; an order with all of the many sets takes minutes.
    """
    states = (0.0 * changes, 0.5 * changes)
    uses: dict[tuple[Hold, ...], float] = {}
    for size in (1, 2):
        for some in combinations(planning.holds, size):
            judge = judge_with(planning.problem, some)
            uses[some] = max(judge.worst(state).share for state in states)
        if any(use <= PASSES for use in uses.values()):
            break
    best = sorted(uses, key=lambda some: uses[some])[:SETS_TRIED]
    return tuple(dict.fromkeys(hold for some in best for hold in some))
