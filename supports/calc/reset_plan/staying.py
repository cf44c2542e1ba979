"""An order for many units: stay at a unit while it is safe, in small parts; not proved best."""

from __future__ import annotations

import numpy as np

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.field import Field
from supports.calc.reset_plan.lattice import FREE, WITH_HOLDS, Path
from supports.calc.reset_plan.program import IntArray

TRIES = 4
"""Attempts to get below the first order found."""


def staying_path(field: Field, comfort: float, *, held: bool) -> Path:
    """Find an order by going as far at each unit as the limits allow, the least use first.

    The worst use cannot fall below that of the end, or of the start with holds in;
    that is the bound stated. Holds, if any, stay in till all is turned.

    Parameters
    ----------
    comfort
        Uses up to this [1] count as equally good.

    Source: common practice (stay at a unit while it is safe); the bound: every order ends there.
    """
    mode = WITH_HOLDS if held else FREE
    low = least_worst(field, mode)
    best = _one_order(field, mode, max(low, comfort))
    high = best.worst
    for _ in range(TRIES):
        if high <= max(low, comfort) * (1.0 + 1e-3):
            break
        middle = (max(low, comfort) + high) / 2.0
        tried = _one_order(field, mode, middle)
        best = min(best, tried, key=lambda path: path.worst)
        low, high = (low, best.worst) if tried.worst <= middle else (middle, best.worst)
    tail = ((FREE, -1),) if held else ()
    return Path((*best.moves, *tail), best.worst)


def least_worst(field: Field, mode: int) -> float:
    """Return the use [1] below which no order can stay: of the end, and with holds of the start."""
    start = np.zeros((1, len(field.movers)), dtype=np.int64)
    end = np.array([[mover.top for mover in field.movers]], dtype=np.int64)
    ends = [field.uses(FREE, end)]
    if mode == WITH_HOLDS:
        ends += [field.uses(mode, start), field.uses(mode, end)]
    return float(np.max(ends))


def _one_order(field: Field, mode: int, allowed: float) -> Path:
    levels = np.zeros(len(field.movers), dtype=np.int64)
    tops = np.array([mover.top for mover in field.movers], dtype=np.int64)
    moves: list[tuple[int, int]] = []
    worst = least_worst(field, mode)
    while np.any(levels < tops):
        mover, stop, use = _next(field, mode, levels, max(allowed, worst))
        moves.extend([(mode, mover)] * (stop - int(levels[mover])))
        levels[mover] = stop
        worst = max(worst, use)
    return Path(tuple(moves), worst)


def _next(field: Field, mode: int, levels: IntArray, allowed: float) -> tuple[int, int, float]:
    """Choose a unit and how far to turn it: finished before part-done, then the least use."""
    owner, uses = _ahead(field, mode, levels)
    offers = [
        _offer(int(levels[mover]), int(mover), uses[owner == mover], allowed)
        for mover in np.unique(owner)
    ]
    _, use, mover, stop = min(offers)
    return mover, stop, use


def _offer(level: int, mover: int, uses: FloatArray, allowed: float) -> tuple[int, float, int, int]:
    """Return rank, use [1], mover and level of the furthest safe turn, one level at least."""
    unsafe = np.flatnonzero(uses > allowed + 1e-9)
    far = int(unsafe[0]) if len(unsafe) else len(uses)
    rank = 0 if far == len(uses) else 1 if far else 2
    steps = max(far, 1)
    return rank, float(uses[steps - 1]), mover, level + steps


def _ahead(field: Field, mode: int, levels: IntArray) -> tuple[IntArray, FloatArray]:
    """Return the mover and the use [1] of each further level of each, the way there included."""
    tops = np.array([mover.top for mover in field.movers], dtype=np.int64)
    left = tops - levels
    owner = np.repeat(np.arange(len(tops)), left)
    states = np.repeat(levels[None], len(owner), axis=0)
    first = np.repeat(np.cumsum(left) - left, left)
    rows = np.arange(len(owner))
    states[rows, owner] += rows - first + 1
    uses = field.uses(mode, states)
    for mover in np.flatnonzero([one.paired for one in field.movers]):
        mine = owner == mover
        uses[mine] = np.maximum(uses[mine], field.way(mode, states[mine], int(mover)))
    return owner, uses
