"""Rows that come from a state of the line: nozzle components, support limits, status, pointers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isfinite

from supports.calc.line.influence import InfluenceTable
from supports.calc.line.restraints import AXES
from supports.calc.reset_plan.limits import SupportLimits
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.rows import Columns, Label, Row, RowKind, worst_case

LEAST_SCALE = {"N": 1.0, "N·m": 1.0, "m": 1e-4}
"""Smallest scale of a limit, so that a limit of nothing does not divide by nothing."""

WITHOUT_FRICTION = frozenset({RowKind.TARGET, RowKind.POINTER})
"""Loads aimed at are set without it. Friction only holds against movement: a pipe that it stops
stands between where it was and where it would stand without, both of which have room."""


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of a limit on one row of a table; no scale takes the distance from the base."""

    at: int
    sign: float
    limit: float
    scale: float | None = None


def state_rows(problem: PlanProblem, number: int, columns: Columns) -> Iterator[Row]:
    """Yield the one-sided limits of one state, each for the worst case of friction.

    Parameters
    ----------
    number
        Place of the state in `problem.states`.
    """
    owners = {name: column for column, name in enumerate(problem.columns)}
    working = problem.states[number].working
    table = problem.states[number].table
    for label, side in _sides(problem, table):
        scale = side.scale or abs(side.sign * table.base[side.at] - side.limit)
        row = Row(
            label,
            side.sign * float(table.base[side.at]),
            side.sign * table.effect[side.at],
            side.limit,
            max(float(scale), LEAST_SCALE[label.unit]),
            state=number,
            at=side.at,
            sign=side.sign,
            owner=owners.get(label.subject, -1) if label.kind is RowKind.SUPPORT else -1,
            working=working,
            counts=label.kind is not RowKind.TARGET,
        )
        yield row if label.kind in WITHOUT_FRICTION else worst_case(row, columns)


def _sides(problem: PlanProblem, table: InfluenceTable) -> Iterator[tuple[Label, _Side]]:
    yield from _nozzles(problem, table)
    for limits in problem.supports:
        if table.state in limits.states or not limits.states:
            yield from _support(limits, table)
    if problem.keep_status:
        yield from _status(table)
    yield from _pointers(problem, table)
    yield from _targets(problem, table)


def _nozzles(problem: PlanProblem, table: InfluenceTable) -> Iterator[tuple[Label, _Side]]:
    for check in problem.nozzles:
        start = table.pointers_end + 6 * table.nozzles.index(check.name)
        components = check.limits.components if check.limits else ()
        for axis, limit in enumerate(components):
            if limit is not None:
                unit = "N" if axis < 3 else "N·m"
                label = Label(RowKind.NOZZLE, check.name, AXES[axis], unit, table.state)
                for sign in (1.0, -1.0):
                    yield label, _Side(start + axis, sign, limit, limit)


def _support(limits: SupportLimits, table: InfluenceTable) -> Iterator[tuple[Label, _Side]]:
    at = table.supports.index(limits.name)
    low, high = limits.low, limits.high
    half = (high - low) / 2.0 if low is not None and high is not None else None
    if high is not None:
        label = Label(RowKind.SUPPORT, limits.name, "highest load", "N", table.state)
        yield label, _Side(at, 1.0, high, half or abs(high))
    if low is not None:
        label = Label(RowKind.SUPPORT, limits.name, "lowest load", "N", table.state)
        yield label, _Side(at, -1.0, -low, half)


def _status(table: InfluenceTable) -> Iterator[tuple[Label, _Side]]:
    for at, name in enumerate(table.supports):
        bounds = (float(table.load_floor[at]), float(table.load_ceiling[at]))
        yield from _between(Label(RowKind.STATUS, name, "load", "N", table.state), at, bounds)
    for place, name in enumerate(table.pointers):
        bounds = (float(table.pointer_low[place]), float(table.pointer_high[place]))
        label = Label(RowKind.STATUS, name, "movement", "m", table.state)
        yield from _between(label, table.loads_end + place, bounds)


def _pointers(problem: PlanProblem, table: InfluenceTable) -> Iterator[tuple[Label, _Side]]:
    for unit in problem.units:
        if unit.name in table.pointers:
            at = table.loads_end + table.pointers.index(unit.name)
            label = Label(RowKind.POINTER, unit.name, "pointer", "m", table.state)
            yield from _between(label, at, (unit.pointer_low, unit.pointer_high))


def _between(label: Label, at: int, bounds: tuple[float, float]) -> Iterator[tuple[Label, _Side]]:
    low, high = bounds
    half = (high - low) / 2.0 if isfinite(high - low) and high > low else None
    if isfinite(high):
        yield label, _Side(at, 1.0, high, half)
    if isfinite(low):
        yield label, _Side(at, -1.0, -low, half)


def _targets(problem: PlanProblem, table: InfluenceTable) -> Iterator[tuple[Label, _Side]]:
    for target in problem.targets:
        if target.state == table.state:
            at = table.supports.index(target.name)
            label = Label(RowKind.TARGET, target.name, "load", "N", table.state)
            yield label, _Side(at, 1.0, target.load + target.tolerance, target.tolerance)
            yield label, _Side(at, -1.0, target.tolerance - target.load, target.tolerance)
