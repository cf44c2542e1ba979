"""What moves in a sequence: a unit, or a beam's two units; and the levels between which it goes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.program import IntArray
from supports.calc.reset_plan.results import UnitPlan


@dataclass(frozen=True, slots=True)
class Mover:
    """A unit or the two of a beam.

    Parameters
    ----------
    names, columns
        The units and their places among the columns.
    levels
        Steps given so far at each level, levels × units; the first is zero.
    changes
        The same as set-load changes [N].
    """

    names: tuple[str, ...]
    columns: IntArray
    levels: IntArray
    changes: FloatArray

    @property
    def top(self) -> int:
        """Number of the last level."""
        return len(self.levels) - 1

    @property
    def paired(self) -> bool:
        """Whether two units are turned alternately."""
        return len(self.names) > 1


def movers_of(problem: PlanProblem, units: tuple[UnitPlan, ...], parts: int) -> tuple[Mover, ...]:
    """Share the steps of every unit out over levels; a beam takes its own number of rounds.

    Parameters
    ----------
    parts
        3 for thirds, 6 for sixths, 1 for each unit at once.
    """
    steps = {unit.name: unit.steps for unit in units}
    paired = {name for pair in problem.trapezes for name in (pair.first, pair.second)}
    singles = [((name,), parts) for name in steps if name not in paired]
    pairs = [
        ((pair.first, pair.second), pair.rounds)
        for pair in problem.trapezes
        if pair.first in steps or pair.second in steps
    ]
    return tuple(_mover(problem, names, steps, count) for names, count in (*singles, *pairs))


def _mover(
    problem: PlanProblem, names: tuple[str, ...], steps: dict[str, int], parts: int
) -> Mover:
    whole = np.array([steps.get(name, 0) for name in names])
    levels = np.rint(np.outer(np.arange(parts + 1) / parts, whole)).astype(np.int64)
    different = np.append(True, np.any(np.diff(levels, axis=0) != 0, axis=1))
    levels = levels[different]
    size = np.array([problem.by_name[name].step or 0.0 for name in names])
    columns = np.array([problem.columns.index(name) for name in names], dtype=np.int64)
    return Mover(names, columns, levels, levels * size)
