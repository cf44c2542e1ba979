"""The safest order by dynamic programming over every combination of part-done units."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.program import IntArray

NEVER = 1e6
"""Number of visits that stands for 'not reachable' [1]."""


@dataclass(frozen=True, slots=True)
class Lattice:
    """All combinations of levels; a state's number is Σ level × stride."""

    shape: tuple[int, ...]
    digits: IntArray
    stride: IntArray

    @property
    def layers(self) -> list[IntArray]:
        """States by the number of moves made."""
        total = self.digits.sum(axis=1)
        order = np.argsort(total, kind="stable")
        return np.split(order, np.flatnonzero(np.diff(total[order])) + 1)

    @property
    def size(self) -> int:
        """Number of states."""
        return len(self.digits)


def lattice_of(tops: tuple[int, ...]) -> Lattice:
    """Return the lattice of movers whose last levels are `tops`."""
    shape = tuple(top + 1 for top in tops)
    digits = np.indices(shape).reshape(len(shape), -1).T.astype(np.int64)
    stride = np.array([int(np.prod(shape[at + 1 :])) for at in range(len(shape))], dtype=np.int64)
    return Lattice(shape, digits, stride)


@dataclass(frozen=True, slots=True)
class Uses:
    """Worst use of any limit with and without holds.

    Parameters
    ----------
    state
        For each mode (with holds, without), the use of each state [1]; infinite where a mode must
        not be used.
    arrive
        For each mode, mover and state, the use on the way into it from that mover's level below.
    """

    state: FloatArray
    arrive: FloatArray


WITH_HOLDS, FREE = 0, 1


@dataclass(frozen=True, slots=True)
class Path:
    """Moves in order: (mode, mover) and, where a hold is taken out, (FREE, −1); the worst use."""

    moves: tuple[tuple[int, int], ...]
    worst: float


def safest_path(lattice: Lattice, uses: Uses, comfort: float, *, held: bool) -> Path:
    """Find the order whose worst use is smallest, and among such orders the fewest visits.

    Parameters
    ----------
    uses
        Worst use of any limit in each state [1].
    comfort
        Uses up to this [1] count as equally good.
    held
        Whether the work starts with the holds in.

    Source: bottleneck shortest path by dynamic programming (Bellman).
    """
    worst = _bottleneck(lattice, uses, held=held)
    bound = max(worst, comfort) + 1e-9
    visits = _visits(lattice, uses, bound, held=held)
    return Path(_traced(lattice, visits), worst)


def _bottleneck(lattice: Lattice, uses: Uses, *, held: bool) -> float:
    """Return the smallest worst use [1] of any way from nothing done to all done."""
    best = np.full_like(uses.state, np.inf)
    for layer in lattice.layers:
        for mode in (WITH_HOLDS, FREE):
            came = np.full(len(layer), np.inf)
            if layer[0] == 0 and mode == (WITH_HOLDS if held else FREE):
                came[:] = -np.inf
            for mover, stride in enumerate(lattice.stride):
                at = np.flatnonzero(lattice.digits[layer, mover] > 0)
                way = np.maximum(
                    best[mode, layer[at] - stride], uses.arrive[mode, mover, layer[at]]
                )
                came[at] = np.minimum(came[at], way)
            if mode == FREE:
                came = np.minimum(came, best[WITH_HOLDS, layer])
            best[mode, layer] = np.maximum(came, uses.state[mode, layer])
    return float(best[FREE, -1])


def _visits(lattice: Lattice, uses: Uses, bound: float, *, held: bool) -> FloatArray:
    """Return the fewest visits to each state, by mode and the mover that was turned last."""
    count = len(lattice.shape)
    out = np.full((2, lattice.size, count + 1), NEVER)
    out[WITH_HOLDS if held else FREE, 0, count] = 0.0
    for layer in lattice.layers:
        for mode in (WITH_HOLDS, FREE):
            for mover, stride in enumerate(lattice.stride):
                at = layer[lattice.digits[layer, mover] > 0]
                before = out[mode, at - stride]
                new = np.minimum(before[:, mover], before.min(axis=1) + 1.0)
                new[uses.arrive[mode, mover, at] > bound] = NEVER
                out[mode, at, mover] = np.minimum(out[mode, at, mover], new)
            if mode == FREE:
                out[FREE, layer] = np.minimum(out[FREE, layer], out[WITH_HOLDS, layer])
            out[mode, layer[uses.state[mode, layer] > bound]] = NEVER
    return out


def _traced(lattice: Lattice, visits: FloatArray) -> tuple[tuple[int, int], ...]:
    """Walk back from all done; holds are taken out as late as the fewest visits allow."""
    mode, state, moves = FREE, lattice.size - 1, []
    last = int(np.argmin(visits[mode, state]))
    while True:
        here = visits[mode, state, last]
        if mode == FREE and visits[WITH_HOLDS, state, last] == here and here < NEVER:
            moves.append((FREE, -1))
            mode = WITH_HOLDS
            continue
        if state == 0:
            return tuple(reversed(moves))
        moves.append((mode, last))
        state -= int(lattice.stride[last])
        before = visits[mode, state]
        last = last if before[last] == here else int(np.argmin(before))
