"""How much any part-done state of a re-set uses of its limits, with and without holds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.judge import Judge, Use, worst_of
from supports.calc.reset_plan.lattice import FREE, WITH_HOLDS, Lattice, Uses
from supports.calc.reset_plan.movers import Mover
from supports.calc.reset_plan.program import IntArray

WHOLE = -1
"""No beam is between its two units."""

Spot = tuple[int, tuple[int, ...], int]
"""A part-done state: mode, level of each mover, and the beam of which only the first is turned."""

CHUNK = 2048


@dataclass(frozen=True, slots=True)
class Field:
    """Judges of the working states and what is known better than the prediction.

    Parameters
    ----------
    with_holds
        Judge of the line with holds in; None if there are none.
    known
        Uses [1] found by the full solve, which replace the prediction.
    """

    movers: tuple[Mover, ...]
    width: int
    free: Judge
    with_holds: Judge | None = None
    known: Mapping[Spot, float] = field(default_factory=dict)

    def judge(self, mode: int) -> Judge:
        """Return the judge of a mode."""
        return self.with_holds if mode == WITH_HOLDS and self.with_holds else self.free

    def changes(self, levels: IntArray, half: int = WHOLE) -> FloatArray:
        """Return the set-load change of every column [N], one row a state."""
        return changes_at(self.movers, self.width, levels, half)

    def uses(self, mode: int, levels: IntArray, half: int = WHOLE) -> FloatArray:
        """Return the worst use of any limit [1] in each of many states."""
        judge = self.judge(mode)
        out = np.zeros(len(levels))
        for start in range(0, len(levels), CHUNK):
            part = slice(start, start + CHUNK)
            shares = judge.uses(self.changes(levels[part], half))
            out[part] = shares.max(axis=1, initial=0.0)
        for (known_mode, spot, known_half), use in self.known.items():
            if (known_mode, known_half) == (mode, half):
                out[(levels == np.array(spot)).all(axis=1)] = use
        return out

    def worst(self, mode: int, levels: tuple[int, ...], half: int = WHOLE) -> Use:
        """Return the governing limit of one state, by the full solve where that is known."""
        judge = self.judge(mode)
        changes = self.changes(np.array([levels], dtype=np.int64), half)[0]
        found = worst_of(judge.uses(changes), judge.labels)
        known = self.known.get((mode, levels, half))
        return found if known is None else Use(known, found.label)

    def way(self, mode: int, levels: IntArray, mover: int) -> FloatArray:
        """Return the use [1] on the way into each state from the level of `mover` below it."""
        if not self.movers[mover].paired:
            return np.full(len(levels), -np.inf)
        return self.uses(mode, levels, mover)

    def on(self, lattice: Lattice) -> Uses:
        """Return the uses of a whole lattice.

        The line as it stands without holds is nobody's choice, so it does not count, unless holds
        are in that could be taken out too soon.
        """
        state = np.full((2, lattice.size), np.inf)
        arrive = np.full((2, len(self.movers), lattice.size), -np.inf)
        for mode in (WITH_HOLDS, FREE):
            if mode == FREE or self.with_holds:
                state[mode] = self.uses(mode, lattice.digits)
                for mover in range(len(self.movers)):
                    arrive[mode, mover] = self.way(mode, lattice.digits, mover)
        if not self.with_holds:
            state[FREE, 0] = -np.inf
        return Uses(state, arrive)


def changes_at(
    movers: tuple[Mover, ...], width: int, levels: IntArray, half: int = WHOLE
) -> FloatArray:
    """Return the set-load change of every column [N], one row a state of given levels."""
    out = np.zeros((len(levels), width))
    for number, mover in enumerate(movers):
        at = levels[:, number]
        out[:, mover.columns] += mover.changes[at]
        if number == half:
            before = mover.changes[np.maximum(at - 1, 0), 1]
            out[:, mover.columns[1]] += before - mover.changes[at, 1]
    return out
