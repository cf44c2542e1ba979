"""Every step solved again in full: a linear prediction can be too kind where a support lifts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import inf, nan
from typing import Protocol

import numpy as np

from supports.calc.line.influence import FloatArray, what_if
from supports.calc.reset_plan.holds import with_holds
from supports.calc.reset_plan.judge import Judge, Use
from supports.calc.reset_plan.limits import Hold
from supports.calc.reset_plan.problem import PlanProblem, PlanState
from supports.errors import CannotCalculate

DISAGREES = 0.02
"""Difference between solve and prediction, as a part of a limit's scale, that is reported [1]."""


class Resolve(Protocol):
    """The full one-way solve, given by the caller."""

    def __call__(
        self, state: str, changes: Mapping[str, float], held: Mapping[str, float]
    ) -> FloatArray:
        """Return the results of `state` in the order of its influence table [N], [m], [N·m].

        Parameters
        ----------
        changes
            Change of set load of each unit from the present settings [N].
        held
            Level at which each prop or stop that is in holds the pipe [m].

        Raises
        ------
        CannotCalculate
            The line has no answer there.
        """


@dataclass(frozen=True, slots=True)
class Check:
    """One part-done or final state, predicted and solved.

    Parameters
    ----------
    changes
        Set-load changes that lead there [N].
    predicted, solved
        The limit used most, by either.
    difference
        Largest difference of a limit's use between the two [1]; not a number if not solvable.
    trouble
        Why the full solve has no answer; empty if it has one.
    """

    changes: Mapping[str, float]
    predicted: Use
    solved: Use
    difference: float
    trouble: str = ""

    @property
    def disagrees(self) -> bool:
        """Whether prediction and solve differ by more than the usual last digits."""
        return not self.difference <= DISAGREES

    @property
    def too_kind(self) -> bool:
        """Whether the prediction kept a limit that the solve passes."""
        return self.predicted.passes and not self.solved.passes


@dataclass(frozen=True, slots=True)
class Checker:
    """Solves states of a problem again and judges them, each once.

    Parameters
    ----------
    holds
        Props and stops that are in.
    """

    problem: PlanProblem
    judge: Judge
    resolve: Resolve
    holds: tuple[Hold, ...] = ()
    seen: dict[tuple[float, ...], Check] = field(default_factory=dict)

    def check(self, changes: FloatArray, *, working_only: bool) -> Check:
        """Solve again after set-load changes [N] and judge the result."""
        key = tuple(np.round(changes, 6).tolist())
        if key not in self.seen:
            self.seen[key] = self._checked(changes, working_only=working_only)
        return self.seen[key]

    def uses(self, changes: FloatArray, *, working_only: bool) -> FloatArray:
        """Return the use of every limit [1] after set-load changes [N], solved in full.

        Raises
        ------
        CannotCalculate
            The line has no answer there.
        """
        named = self._named(changes)
        return self.judge.uses(changes, self.differences(changes, named, working_only=working_only))

    def _named(self, changes: FloatArray) -> dict[str, float]:
        return {
            name: float(change)
            for name, change in zip(self.problem.columns, changes, strict=True)
            if change
        }

    def _checked(self, changes: FloatArray, *, working_only: bool) -> Check:
        named = self._named(changes)
        predicted = self.judge.worst(changes)
        try:
            differences = self.differences(changes, named, working_only=working_only)
        except CannotCalculate as trouble:
            return Check(named, predicted, Use(inf, predicted.label), nan, str(trouble))
        gap = self.judge.uses(changes, differences) - self.judge.uses(changes)
        largest = float(np.abs(gap).max(initial=0.0))
        return Check(named, predicted, self.judge.worst(changes, differences), largest)

    def differences(
        self, changes: FloatArray, named: Mapping[str, float], *, working_only: bool
    ) -> list[FloatArray | None]:
        """Return solved minus predicted of each state [N], [m], [N·m]; None if not wanted."""
        states = with_holds(self.problem, self.holds).states if self.holds else self.problem.states
        levels = self._levels()
        return [
            self._difference(state, changes, named, levels.get(state.name, {}))
            if state.working or not working_only
            else None
            for state in states
        ]

    def _difference(
        self,
        state: PlanState,
        changes: FloatArray,
        named: Mapping[str, float],
        levels: Mapping[str, float],
    ) -> FloatArray:
        solved = self.resolve(state.name, named, levels)
        out: FloatArray = solved - what_if(state.table, changes).values
        return out

    def _levels(self) -> dict[str, dict[str, float]]:
        """Return the level of each hold [m] in each working state."""
        return {
            state.name: {hold.name: _level(hold, state) for hold in self.holds}
            for state in self.problem.states
            if state.working
        }


def _level(hold: Hold, state: PlanState) -> float:
    if hold.level is not None:
        return hold.level
    table = state.table
    return float(table.base[table.loads_end + table.pointers.index(hold.name)])


def corrected(problem: PlanProblem, differences: list[FloatArray | None]) -> PlanProblem:
    """Return the problem with its bases moved so that the prediction meets the solve there.

    Parameters
    ----------
    differences
        Solved minus predicted of each state [N], [m], [N·m].

    Source: superposition about the solved state.
    """
    states = tuple(
        state
        if d is None
        else replace(state, table=replace(state.table, base=state.table.base + d))
        for state, d in zip(problem.states, differences, strict=True)
    )
    return replace(problem, states=states)
