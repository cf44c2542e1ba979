"""Resultant and combined rules of a nozzle: not linear, but convex, so tangents bound them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.limits import CombinedLimit, NozzleCheck
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.rows import Columns, Label, Row, RowKind


@dataclass(frozen=True, slots=True)
class Norm:
    """a·|F| + b·|M| ≤ limit on the worst case of friction of each component.

    Parameters
    ----------
    base, effect, band_base, band_effect
        Six components [N], [N·m] and half widths of their friction bands, each with its effect per
        newton of set-load change.
    factors
        a three times, b three times; the moment's factor with the inverse unit of the force's.
    """

    label: Label
    base: FloatArray
    effect: FloatArray
    band_base: FloatArray
    band_effect: FloatArray
    factors: FloatArray
    limit: float
    state: int
    at: int
    working: bool

    def use(self, changes: FloatArray, shift: FloatArray | float = 0.0) -> FloatArray:
        """Return the use [1] after set-load changes [N]; leading axes are kept."""
        size, _ = self._sizes(changes, shift)
        force, moment = _lengths(size)
        out: FloatArray = (self.factors[0] * force + self.factors[3] * moment) / self.limit
        return out

    def _sizes(
        self, changes: FloatArray, shift: FloatArray | float
    ) -> tuple[FloatArray, FloatArray]:
        """Return the worst size of each component and the sign that gives it."""
        middle = self.base + changes @ self.effect.T + shift
        band = self.band_base + changes @ self.band_effect.T
        return np.abs(middle) + band, np.where(middle < 0.0, -1.0, 1.0)

    def most_change(self, reach: FloatArray) -> float:
        """Return an upper bound on how far changes within ± `reach` [N] move the use [1]."""
        sizes = (np.abs(self.effect) + self.band_effect) @ np.abs(reach)
        return float(self.factors @ sizes) / self.limit

    def tangent(self, changes: FloatArray) -> Row:
        """Return the tangent plane at `changes` [N] as a limit.

        Never stricter than the rule itself, because the rule is convex.

        Source: first-order condition of convexity.
        """
        size, sign = self._sizes(changes, 0.0)
        force, moment = _lengths(size)
        pull = self.factors * size / np.maximum(np.repeat([force, moment], 3), 1e-300)
        slope = (pull * sign) @ self.effect + pull @ self.band_effect
        value = float(self.factors[0] * force + self.factors[3] * moment)
        return Row(self.label, value - float(slope @ changes), slope, self.limit, self.limit)


def _lengths(size: FloatArray) -> tuple[FloatArray, FloatArray]:
    squares = size**2
    return np.sqrt(squares[..., :3].sum(axis=-1)), np.sqrt(squares[..., 3:].sum(axis=-1))


def norms_of(problem: PlanProblem, number: int, columns: Columns) -> Iterator[Norm]:
    """Yield the resultant and combined rules of one state, on the worst case of friction.

    Source: geometry; each rule carries its own.
    """
    state = problem.states[number]
    table = state.table
    for check in problem.nozzles:
        at = table.pointers_end + 6 * table.nozzles.index(check.name)
        base, effect = table.base[at : at + 6], table.effect[at : at + 6]
        for rule, unit in _rules(check):
            size = np.abs(effect)
            yield Norm(
                Label(RowKind.NOZZLE, check.name, rule.name, unit, state.name),
                base,
                effect,
                size @ columns.half_band,
                size * columns.friction,
                np.repeat([rule.force_factor, rule.moment_factor], 3),
                rule.limit,
                number,
                at,
                state.working,
            )


def _rules(check: NozzleCheck) -> Iterator[tuple[CombinedLimit, str]]:
    """Yield all rules on resultants, with the unit of what they limit."""
    limits = check.limits
    if limits and limits.force is not None:
        yield CombinedLimit("resultant force", 1.0, 0.0, limits.force), "N"
    if limits and limits.moment is not None:
        yield CombinedLimit("resultant moment", 0.0, 1.0, limits.moment), "N·m"
    yield from ((rule, "N") for rule in check.combined)
