"""Why a re-set cannot be done: the limits that clash, and the cheapest way round."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.effort import Effort
from supports.calc.reset_plan.judge import Judge
from supports.calc.reset_plan.optimiser import (
    TANGENT_TOLERANCE,
    Block,
    Found,
    on_steps,
    run_milp,
    wide,
)
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.program import Program, program_of
from supports.calc.reset_plan.results import Clash, Relief, ReliefStep, UnitPlan, unit_plan
from supports.calc.reset_plan.rows import Label, Row, Rows, stacked

SHORT = 1e-3
"""Weight of passing a limit by its whole scale beside the cost of a replacement [1]."""


@dataclass(frozen=True, slots=True)
class _Elastic:
    """The program with a slack for each limit: steps n, touched z, replaced r, slacks s."""

    program: Program
    problem: PlanProblem
    rows: Rows
    labels: tuple[Label, ...]
    owners: tuple[int, ...]

    @property
    def z(self) -> int:
        return self.program.size

    @property
    def r(self) -> int:
        return 2 * self.program.size

    @property
    def s(self) -> int:
        return self.r + len(self.owners)

    @property
    def all(self) -> int:
        return self.s + len(self.labels)

    @property
    def slack_of(self) -> FloatArray:
        """Rows × slacks, 1 where a slack gives way to a row."""
        place = {label: number for number, label in enumerate(self.labels)}
        out = np.zeros((len(self.rows.rows), len(self.labels)))
        for row, one in enumerate(self.rows.rows):
            out[row, place[one.label]] = 1.0
        return out


def clashes(problem: PlanProblem, judge: Judge, effort: Effort) -> tuple[Clash, ...]:
    """Name the limits that cannot be kept together, and by how much, at the least sum of shares.

    min Σ slack with value ≤ limit + scale × slack, every range and thread included.

    Source: elastic programming (textbook method for infeasible linear programs).
    """
    program = program_of(problem, wide=True)
    solved = _solve(problem, program, judge, effort, relief=False)
    if solved is None:
        return ()
    elastic, found = solved
    slack = _values(found)[elastic.s :]
    scale = {row.label: row.scale for row in elastic.rows.rows}
    named = [
        Clash(label, float(share) * scale[label], float(share))
        for label, share in zip(elastic.labels, slack, strict=True)
        if share > TANGENT_TOLERANCE
    ]
    return tuple(sorted(named, key=lambda clash: -clash.share))


def cheapest_relief(problem: PlanProblem, judge: Judge, effort: Effort) -> Relief | None:
    """Find what to replace or add, at the least cost, so that every other limit is kept.

    Replacing a unit lifts its range, its thread and the rating of its own hardware. None if nothing
    that may be replaced or added helps.

    min Σ cost × replaced + Σ cost × added, same limits. Source: mixed-integer programming.
    """
    program = program_of(problem, wide=True, additions=True)
    solved = _solve(problem, program, judge, effort, relief=True)
    if solved is None:
        return None
    elastic, found = solved
    values = _values(found)
    steps = np.round(values[: program.size])
    units = {u.name: u for u in problem.units}
    turned = tuple(
        unit_plan(units[name], int(count))
        for name, count in zip(program.names, steps, strict=True)
        if count
    )
    actions = (*_replaced(elastic, values, turned), *_added(problem, turned))
    return Relief(actions, turned, sum(step.cost for step in actions), found.proved)


def _values(found: Found) -> FloatArray:
    return found.values if found.values is not None else np.zeros(0)


def _solve(
    problem: PlanProblem, program: Program, judge: Judge, effort: Effort, *, relief: bool
) -> tuple[_Elastic, Found] | None:
    """Solve with tangents to resultant rules until they are kept up to their slack."""
    pool: list[Row] = [norm.tangent(np.zeros(program.width)) for norm in judge.norms]
    for _ in range(effort.tangents):
        elastic = _elastic(problem, program, (*judge.lines.rows, *pool), relief=relief)
        found = run_milp(
            _objective(elastic, relief=relief),
            _blocks(elastic, relief=relief),
            _bounds(elastic, relief=relief),
            effort,
        )
        if found.values is None:
            return None
        changes = program.changes(np.round(found.values[: program.size]))
        allowance = dict(zip(elastic.labels, found.values[elastic.s :], strict=True))
        passed = [
            n.tangent(changes)
            for n in judge.norms
            if float(n.use(changes)) > 1.0 + allowance[n.label] + TANGENT_TOLERANCE
        ]
        if not passed:
            return elastic, found
        pool.extend(passed)
    return None


def _elastic(
    problem: PlanProblem, program: Program, rows: tuple[Row, ...], *, relief: bool
) -> _Elastic:
    labels = tuple(dict.fromkeys(row.label for row in rows))
    replaceable = {u.name for u in problem.units if u.replace_cost is not None}
    owners = tuple(
        column for column, name in enumerate(problem.columns) if relief and name in replaceable
    )
    return _Elastic(program, problem, stacked(rows, program.width), labels, owners)


def _objective(elastic: _Elastic, *, relief: bool) -> FloatArray:
    """Return shares alone, or costs with a small weight on shares so that they stay small."""
    out = np.zeros(elastic.all)
    out[elastic.s :] = SHORT if relief else 1.0
    if relief:
        units, columns = elastic.problem.by_name, elastic.problem.columns
        costs = [units[columns[owner]].replace_cost or 0.0 for owner in elastic.owners]
        out[elastic.r : elastic.s] = costs
        new = [elastic.problem.additions.get(name, 0.0) for name in elastic.program.names]
        out[elastic.z : elastic.r] = new
    return out


def _blocks(elastic: _Elastic, *, relief: bool) -> list[Block]:
    program, size = elastic.program, elastic.program.size
    slope, room = on_steps(program, elastic.rows)
    eye = np.eye(size)
    limits = {0: slope, elastic.s: -elastic.slack_of}
    touch = {0: eye, elastic.z: -np.diag(program.high)}
    untouch = {0: -eye, elastic.z: np.diag(program.low)}
    blocks = [
        Block(wide(elastic.all, limits, len(room)), room),
        Block(wide(elastic.all, touch, size), np.zeros(size)),
        Block(wide(elastic.all, untouch, size), np.zeros(size)),
    ]
    for one, other in program.tied:
        partner = eye[other] if other >= 0 else np.zeros(size)
        both = np.array([eye[one] - partner, partner - eye[one]])
        blocks.append(Block(wide(elastic.all, {elastic.z: both}, 2), np.zeros(2)))
    return [*blocks, *_lifted(elastic)] if relief else blocks


def _lifted(elastic: _Elastic) -> list[Block]:
    """Return: a slack of a unit's own limit only where the unit is replaced."""
    owner = _owner_of(elastic)
    owned = [number for number, column in enumerate(owner) if column in elastic.owners]
    matrix = np.zeros((len(owned), elastic.all))
    for row, number in enumerate(owned):
        matrix[row, elastic.s + number] = 1.0
        matrix[row, elastic.r + elastic.owners.index(owner[number])] = -LARGE
    return [Block(wide(elastic.all, {0: matrix}, len(owned)), np.zeros(len(owned)))]


LARGE = 100.0
"""Largest passing of a limit by replacement, in its scale [1]; far above any real one."""


def _owner_of(elastic: _Elastic) -> list[int]:
    owner = {row.label: row.owner for row in elastic.rows.rows}
    return [owner[label] for label in elastic.labels]


def _bounds(elastic: _Elastic, *, relief: bool) -> tuple[FloatArray, ...]:
    program = elastic.program
    low, high, whole = np.zeros(elastic.all), np.ones(elastic.all), np.ones(elastic.all)
    low[: program.size], high[: program.size] = program.low, program.high
    high[elastic.s :], whole[elastic.s :] = np.inf, 0.0
    if relief:
        lifted = [column in elastic.owners for column in _owner_of(elastic)]
        high[elastic.s :] = np.where(lifted, LARGE, 0.0)
    return low, high, whole


def _replaced(
    elastic: _Elastic, values: FloatArray, turned: tuple[UnitPlan, ...]
) -> list[ReliefStep]:
    after = {unit.name: unit.load_after for unit in turned}
    out = []
    for number, column in enumerate(elastic.owners):
        if values[elastic.r + number] > 0.5:
            unit = elastic.problem.by_name[elastic.problem.columns[column]]
            load = after.get(unit.name, unit.setting)
            low, _, high = unit.range or (load, load, load)
            short = max(load - high, low - load, 0.0)
            out.append(ReliefStep("replace", unit.name, load, short, unit.replace_cost or 0.0))
    return out


def _added(problem: PlanProblem, turned: tuple[UnitPlan, ...]) -> list[ReliefStep]:
    return [
        ReliefStep("add", unit.name, unit.load_after, 0.0, problem.additions[unit.name])
        for unit in turned
        if unit.name in problem.additions
    ]
