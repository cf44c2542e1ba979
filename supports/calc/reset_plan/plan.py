"""The re-set plan: fewest units, then the least use of the worst limit, then the fewest turns."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.effort import Effort, Goal, Objective
from supports.calc.reset_plan.impossible import cheapest_relief, clashes
from supports.calc.reset_plan.judge import Judge, Use, final_judge, worst_of
from supports.calc.reset_plan.optimiser import Answer, Run, optimise
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.program import Program, program_of
from supports.calc.reset_plan.results import ResetPlan, Status, UnitPlan, unit_plan
from supports.calc.reset_plan.rows import Row, RowKind

FEWEST_UNITS = (Goal.COST, Goal.USE, Goal.TURNS)
LEAST_USE = (Goal.USE, Goal.COST, Goal.TURNS)


def plan_reset(
    problem: PlanProblem,
    effort: Effort | None = None,
    goals: tuple[Goal, ...] = FEWEST_UNITS,
    kinds: frozenset[RowKind] | None = None,
) -> ResetPlan:
    """Plan a re-set in whole steps by exact integer optimisation, one goal after the other.

    Parameters
    ----------
    problem
        States, limits, costs; loads [N], positions [m], moments [N·m].
    effort
        Time and gap of each optimisation [s], [1].
    goals
        The first rules; later ones choose among what it leaves open.
    kinds
        Limits whose use is made small; None takes all that count.

    Returns
    -------
    ResetPlan
        Loads [N], turns [1], uses [1]; or the limits that clash, by how much, and the cheapest way
        round.

    Notes
    -----
    min goal(n) with base + effect·(step n) + friction ≤ limit for every limit, n whole numbers.
    Source: superposition; mixed-integer linear programming by branch and bound (HiGHS in scipy),
    rules on resultants by tangents.
    """
    budget = effort or Effort()
    program, judge = program_of(problem), final_judge(problem)
    steps, objectives, first = _lexicographic(program, judge, goals, budget, kinds)
    if steps is not None:
        return judged_plan(problem, _by_name(program, steps), objectives, judge)
    if not first.impossible:
        return ResetPlan(Status.UNDECIDED, missing=problem.missing)
    return ResetPlan(
        Status.IMPOSSIBLE,
        clashes=clashes(problem, judge, budget),
        relief=cheapest_relief(problem, judge, budget),
        worst=judge.worst(np.zeros(program.width)),
        missing=problem.missing,
    )


def plan_to(problem: PlanProblem, settings: Mapping[str, float]) -> ResetPlan:
    """Judge the plan that brings units to given set loads, rounded to whole steps.

    Parameters
    ----------
    settings
        Set loads wanted [N].

    Returns
    -------
    ResetPlan
        Status BROKEN where a limit is passed [1]; units without a load per step are named missing
        and stay as they are.

    Notes
    -----
    n = (F_wanted − F_set) / step, rounded. Source: definition of the load per turn.
    """
    problem.changes(settings)
    units = {name: problem.by_name[name] for name in settings}
    steps = {
        name: round((settings[name] - unit.setting) / unit.step)
        for name, unit in units.items()
        if unit.step
    }
    return judged_plan(problem, steps, (), final_judge(problem))


def judged_plan(
    problem: PlanProblem,
    steps: Mapping[str, int],
    objectives: tuple[Objective, ...],
    judge: Judge,
) -> ResetPlan:
    """Write a plan down with the use of every limit at its end.

    Parameters
    ----------
    steps
        Steps of each unit; absent or zero is not turned.
    """
    units = tuple(unit_plan(u, steps[u.name]) for u in problem.units if steps.get(u.name))
    changes = changes_of(problem, units)
    uses = judge.uses(changes)
    labels, order = judge.labels, np.argsort(-uses, kind="stable")
    worst = worst_of(uses, labels)
    return ResetPlan(
        Status.DONE if worst.passes else Status.BROKEN,
        units,
        objectives,
        judge.counting().worst(changes) if worst.passes else worst,
        tuple(Use(float(uses[at]), labels[at]) for at in order),
        missing=problem.missing,
    )


def changes_of(problem: PlanProblem, units: tuple[UnitPlan, ...]) -> FloatArray:
    """Return the set-load change of every column [N]."""
    return problem.changes({unit.name: unit.load_after for unit in units})


def _by_name(program: Program, steps: FloatArray) -> dict[str, int]:
    return {name: int(count) for name, count in zip(program.names, steps, strict=True)}


def _lexicographic(
    program: Program,
    judge: Judge,
    goals: tuple[Goal, ...],
    effort: Effort,
    kinds: frozenset[RowKind] | None,
) -> tuple[FloatArray | None, tuple[Objective, ...], Answer]:
    """Reach the goals one after the other; each caps what the next may give away."""
    steps: FloatArray | None = None
    first = Answer(None, -np.inf, proved=False)
    reached: list[Objective] = []
    pool: list[Row] = []
    caps = {Goal.USE: 1.0, Goal.COST: np.inf}
    for number, goal in enumerate(goals):
        run = Run(goal, caps[Goal.USE], caps[Goal.COST], kinds)
        answer = optimise(program, judge, run, effort, pool)
        first = answer if number == 0 else first
        if answer.steps is None and steps is None:
            break
        steps = answer.steps if answer.steps is not None else steps
        if steps is not None:
            value = _value(program, judge, run, steps)
            reached.append(Objective(goal, value, min(value, answer.bound), answer.proved))
            caps[goal] = value + 1e-6 * max(1.0, abs(value))
    return steps, tuple(reached), first


def _value(program: Program, judge: Judge, run: Run, steps: FloatArray) -> float:
    """Return what a goal came to: cost [as given], use [1] or turns [1]."""
    if run.goal is Goal.COST:
        return program.cost_of(steps)
    if run.goal is Goal.TURNS:
        return program.turns_of(steps)
    changes = program.changes(steps)
    counted = [float(judge.lines.uses(changes)[run.counted(judge.lines, program)].max(initial=0.0))]
    counted += [float(norm.use(changes)) for norm in run.watched(judge, program)]
    return max(counted)
