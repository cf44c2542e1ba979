"""The integer program of a re-set: steps of each unit, units touched, scaffolds opened."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, floor

import numpy as np
import numpy.typing as npt

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.limits import UnitLimits
from supports.calc.reset_plan.problem import PlanProblem

IntArray = npt.NDArray[np.int64]

LAST_DIGIT = 1e-9


@dataclass(frozen=True, slots=True)
class Program:
    """Arrays over the units that may be turned.

    Parameters
    ----------
    names
        The units.
    column
        Their places among the columns of the influence tables.
    step, turns
        Set-load change [N] and part of a turn [1] of one step.
    low, high
        Fewest and most steps; below zero decreases the load.
    cost, group_cost, group
        Cost of touching each, of opening each scaffold group, and the group of each (−1: none).
    tied
        Pairs of places that are touched both or not at all.
    width
        Number of columns of the influence tables.
    """

    names: tuple[str, ...]
    column: IntArray
    step: FloatArray
    turns: FloatArray
    low: FloatArray
    high: FloatArray
    cost: FloatArray
    group: IntArray
    group_cost: FloatArray
    tied: tuple[tuple[int, int], ...]
    width: int

    @property
    def size(self) -> int:
        """Number of units that may be turned."""
        return len(self.names)

    def changes(self, steps: FloatArray) -> FloatArray:
        """Return the set-load change of every column [N] from steps of the units."""
        out = np.zeros(self.width)
        out[self.column] = steps * self.step
        return out

    def cost_of(self, steps: FloatArray) -> float:
        """Return what touching these units costs, each scaffold group counted once."""
        touched = steps != 0.0
        groups = np.unique(self.group[touched & (self.group >= 0)])
        return float(self.cost[touched].sum() + self.group_cost[groups].sum())

    def turns_of(self, steps: FloatArray) -> float:
        """Return the turns in all [1]."""
        return float(np.abs(steps) @ self.turns)


def program_of(problem: PlanProblem, *, wide: bool = False, additions: bool = False) -> Program:
    """Put the units that may be turned into arrays.

    Parameters
    ----------
    wide
        Let ranges and threads be passed, to see by how much they would have to be.
    additions
        Take in the supports that could be added.
    """
    units = [u for u in problem.units if u.turnable and (additions or not _new(problem, u))]
    boxes = [_wide_box(u) if wide and not _new(problem, u) else _box(u) for u in units]
    names = tuple(unit.name for unit in units)
    groups = tuple(dict.fromkeys(unit.group for unit in units if unit.group))
    place = {name: number for number, name in enumerate(names)}
    return Program(
        names=names,
        column=np.array([problem.columns.index(name) for name in names], dtype=np.int64),
        step=np.array([unit.step or 0.0 for unit in units]),
        turns=np.array([1.0 / unit.steps_per_turn for unit in units]),
        low=np.array([float(low) for low, _ in boxes]),
        high=np.array([float(high) for _, high in boxes]),
        cost=np.array([problem.additions.get(unit.name, unit.cost) for unit in units]),
        group=np.array([groups.index(u.group) if u.group else -1 for u in units], dtype=np.int64),
        group_cost=np.array([problem.group_costs.get(group, 0.0) for group in groups]),
        tied=tuple(_tied(problem, place)),
        width=len(problem.columns),
    )


def _new(problem: PlanProblem, unit: UnitLimits) -> bool:
    return unit.name in problem.additions


def _box(unit: UnitLimits) -> tuple[int, int]:
    """Return the fewest and most steps inside range and thread; zero is always between them."""
    low, _, high = unit.range or (unit.setting, unit.setting, unit.setting)
    step = unit.step or 1.0
    down = ceil((low - unit.setting) / step - LAST_DIGIT)
    up = floor((high - unit.setting) / step + LAST_DIGIT)
    return max(min(down, 0), -_whole(unit.steps_down)), min(max(up, 0), _whole(unit.steps_up))


def _whole(steps: float | None) -> int:
    """Return the whole steps in a free thread; far away where it is unknown or endless."""
    return floor(steps + LAST_DIGIT) if steps is not None and np.isfinite(steps) else 10**6


def _wide_box(unit: UnitLimits) -> tuple[int, int]:
    """Return steps from no load at all to three times the largest load known."""
    _, _, high = unit.range or (0.0, 0.0, unit.setting)
    step = unit.step or 1.0
    return -floor(unit.setting / step), ceil(3.0 * max(high, unit.setting) / step)


def _tied(problem: PlanProblem, place: dict[str, int]) -> Iterable[tuple[int, int]]:
    """Yield the beams' units; one whose partner cannot be turned is tied to itself alone."""
    for pair in problem.trapezes:
        both = [place[name] for name in (pair.first, pair.second) if name in place]
        if both:
            yield both[0], both[1] if len(both) == 2 else -1
