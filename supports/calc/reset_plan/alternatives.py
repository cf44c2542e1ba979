"""Plans side by side, plans from other settings, and the way back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from supports.calc.reset_plan.costs import Cost, WorkAssumptions, cost_of
from supports.calc.reset_plan.effort import Effort
from supports.calc.reset_plan.order import OrderWish, order_reset
from supports.calc.reset_plan.plan import LEAST_USE, plan_reset, plan_to
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.results import ResetPlan, Status
from supports.calc.reset_plan.rows import RowKind
from supports.calc.reset_plan.sequence import Sequence

LEAST_UNITS = "fewest units"
LEAST_NOZZLE = "least nozzle use"


@dataclass(frozen=True, slots=True)
class Alternative:
    """One plan among others; no order and no cost where it cannot be done."""

    name: str
    plan: ResetPlan
    order: Sequence | None
    cost: Cost | None


@dataclass(frozen=True, slots=True)
class Replan:
    """A plan from settings as found, beside the one made before.

    Parameters
    ----------
    problem
        The problem from the settings as found.
    shifted
        How far each unit that differs stands from what the earlier plan took for granted [N].
    same_end
        Whether both plans end at the same set loads to within a step.
    """

    problem: PlanProblem
    earlier: ResetPlan
    plan: ResetPlan
    shifted: Mapping[str, float]
    same_end: bool


@dataclass(frozen=True, slots=True)
class Undo:
    """The way back from settings as left, with an order of its own."""

    problem: PlanProblem
    plan: ResetPlan
    order: Sequence


def alternatives(
    problem: PlanProblem,
    assumed: WorkAssumptions,
    given: Mapping[str, Mapping[str, float]],
    effort: Effort | None = None,
    wish: OrderWish | None = None,
) -> tuple[Alternative, ...]:
    """Return fewest units, least nozzle use, and each set of given loads, side by side.

    Parameters
    ----------
    assumed
        Hours [h] by which they are compared.
    given
        Set loads [N] by name of the aim, such as the lever method's.

    Returns
    -------
    tuple of Alternative
        With hours [h] and uses [1]; an alternative that breaks a limit is shown with it.

    Notes
    -----
    Source: the same limits and states for all of them.
    """
    nozzles = frozenset({RowKind.NOZZLE})
    plans = {
        LEAST_UNITS: plan_reset(problem, effort),
        LEAST_NOZZLE: plan_reset(problem, effort, LEAST_USE, nozzles),
        **{name: plan_to(problem, loads) for name, loads in given.items()},
    }
    return tuple(_beside(problem, name, plan, assumed, wish) for name, plan in plans.items())


def _beside(
    problem: PlanProblem,
    name: str,
    plan: ResetPlan,
    assumed: WorkAssumptions,
    wish: OrderWish | None,
) -> Alternative:
    if plan.status in {Status.IMPOSSIBLE, Status.UNDECIDED}:
        return Alternative(name, plan, None, None)
    order = order_reset(problem, plan.units, wish)
    return Alternative(name, plan, order, cost_of(problem, plan, order, assumed))


def replan(
    problem: PlanProblem,
    earlier: ResetPlan,
    found: Mapping[str, float],
    effort: Effort | None = None,
) -> Replan:
    """Plan again from settings as found; the earlier plan is kept beside.

    Parameters
    ----------
    found
        Set loads as found [N]; a unit that is absent stands as the problem says.

    Returns
    -------
    Replan
        The new plan [N], [1] and what shifted [N].

    Notes
    -----
    base as found = base + effect × (found − setting). Source: superposition.
    """
    now = problem.from_settings(found)
    plan = plan_reset(now, effort)
    units = problem.by_name
    shifted = {
        name: load - units[name].setting
        for name, load in found.items()
        if load != units[name].setting
    }
    before = {unit.name: unit.setting for unit in problem.units} | earlier.settings
    after = {unit.name: unit.setting for unit in now.units} | plan.settings
    same = all(abs(before[n] - after[n]) <= (units[n].step or 0.0) for n in before)
    return Replan(now, earlier, plan, shifted, same and plan.status is Status.DONE)


def undo(
    problem: PlanProblem,
    as_left: Mapping[str, float],
    former: Mapping[str, float],
    wish: OrderWish | None = None,
) -> Undo:
    """Plan the way back to former settings from those as left, with an order of its own.

    Parameters
    ----------
    problem
        States of the line as it is while it is put back [N], [m], [N·m].
    as_left, former
        Set loads as left, and those to go back to [N].

    Returns
    -------
    Undo
        Steps [1] and loads [N] from as-left figures, not the plan read backwards.

    Notes
    -----
    n = (F_former − F_left) / step, rounded. Source: definition of the load per turn.
    """
    now = problem.from_settings(as_left)
    plan = plan_to(now, former)
    return Undo(now, plan, order_reset(now, plan.units, wish))
