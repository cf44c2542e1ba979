"""Re-set plans on random lines of the line solver, against one solution of the same line.

Run ``python -m bench.reset_plan``. Two states, both nozzles with limits, every rod to stay in
tension, every unit in its range. The ratio of 12 units is held to a budget; 40 and 100 units are
reported with the optimality gap. Both sides are told in processor time: a plan is longer than a
turn at the processor, one solution is shorter, so that a busy machine would slow the plan alone.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from supports.calc.line.solver import solve
from supports.calc.reset_plan.checked import order_checked, plan_checked
from supports.calc.reset_plan.order import OrderWish, order_reset
from supports.calc.reset_plan.plan import plan_reset, plan_to
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.results import ResetPlan, Status
from supports.calc.reset_plan.sequence import Safety
from tests.calc.reset_plan.lines_of_solver import problem_of

AT_MOST_TIMES_ONE_SOLUTION = 20.0
"""A plan of 12 units against one solution of the line in the same two states."""

SEEDS = {12: 20, 40: 12, 100: 8}
EVERY_UNIT = {12: 6, 40: 4, 100: 2}


@dataclass(frozen=True, slots=True)
class Measured:
    """One line: processor time of the plan [s], of plan and order over one solution; the plan."""

    plan_seconds: float
    plan_ratio: float
    order_ratio: float
    plan: ResetPlan
    safe: bool
    too_kind: int


def timed(work: Callable[[], Any], times: int = 3) -> float:
    """Return the least processor time of several runs [s]."""
    out = []
    for _ in range(times):
        begin = time.process_time()
        work()
        out.append(time.process_time() - begin)
    return min(out)


def measured(units: int, seed: int) -> Measured:
    """Plan one random line and order its turns; check both by the full solve."""
    problem, resolve, system = problem_of(units, seed)
    line, states = system.frame.line, tuple(resolve.states.values())
    one = timed(lambda: solve(line, states)[0].node_movements, 5)
    planning = timed(lambda: plan_reset(problem))
    checked = plan_checked(problem, resolve)
    ordering = timed(lambda: order_reset(problem, checked.plan.units))
    order = order_checked(problem, checked.plan.units, resolve)
    kind = sum(1 for check in checked.checks if check.too_kind)
    safe = order.sequence.safety is not Safety.UNSAFE
    return Measured(planning, planning / one, ordering / one, checked.plan, safe, kind)


def report(units: int) -> float:
    """Print the figures of one size; return the middle ratio of planning to one solution [1]."""
    found = [measured(units, seed) for seed in range(SEEDS[units])]
    done = [one for one in found if one.plan.status is Status.DONE]
    ratio = float(np.median([one.plan_ratio for one in found]))
    seconds = [1e3 * one.plan_seconds for one in found]
    gaps = [one.plan.gap for one in done]
    touched = [len(one.plan.units) for one in done]
    print(
        f"{units} units, {len(found)} lines: plan {np.median(seconds):.0f} ms "
        f"(worst {max(seconds):.0f}), {ratio:.1f} times one solution; "
        f"order {np.median([one.order_ratio for one in found]):.1f} times"
    )
    print(
        f"  planned {len(done)}, impossible {len(found) - len(done)} with reasons; largest gap "
        f"{max(gaps, default=0.0):.1e}; units touched {min(touched, default=0)} to "
        f"{max(touched, default=0)}; safe orders {sum(one.safe for one in done)}; "
        f"ends too kind {sum(one.too_kind for one in found)}"
    )
    return ratio


def every_unit(problem: PlanProblem, seed: int) -> ResetPlan:
    """Turn every unit, up and down in turn by about a tenth of its plate.

    The changes nearly cancel at the end, so that the order decides how bad the way is.
    """
    dice = np.random.default_rng(seed)
    signs = [(-1.0) ** number for number in range(len(problem.units))]
    wanted = {
        unit.name: unit.setting * (1.0 + sign * dice.uniform(0.09, 0.11))
        for sign, unit in zip(signs, problem.units, strict=True)
    }
    return plan_to(problem, wanted)


def long_orders(units: int) -> None:
    """Print time and gap of orders in which every unit is turned."""
    times, gaps, visits = [], [], []
    for seed in range(EVERY_UNIT[units]):
        problem, _, _ = problem_of(units, seed, hung=100.0)
        plan = every_unit(problem, seed)
        begin = time.perf_counter()
        order = order_reset(problem, plan.units, OrderWish())
        times.append(time.perf_counter() - begin)
        gaps.append(order.gap)
        visits.append(order.visits / len(plan.units))
    print(
        f"  every unit turned: {np.median(times):.2f} s, gap of the worst use {max(gaps):.1%} "
        f"at most, {np.median(visits):.2f} visits a unit"
    )


def main() -> None:
    """Print the figures of each size and hold 12 units to the budget."""
    ratios = {}
    for units in SEEDS:
        ratios[units] = report(units)
        long_orders(units)
    assert ratios[12] <= AT_MOST_TIMES_ONE_SOLUTION


if __name__ == "__main__":
    main()
