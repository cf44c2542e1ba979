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
    offers = [
        _offer(field, mode, levels, mover, allowed)
        for mover, one in enumerate(field.movers)
        if levels[mover] < one.top
    ]
    _, _, use, mover, stop = min(offers)
    return mover, stop, use


def _offer(
    field: Field, mode: int, levels: IntArray, mover: int, allowed: float
) -> tuple[int, int, float, int, int]:
    """Return rank, rank, use on the way [1], mover and level of the furthest safe turn."""
    uses = _ahead(field, mode, levels, mover)
    unsafe = np.flatnonzero(uses > allowed + 1e-9)
    far = int(unsafe[0]) if len(unsafe) else len(uses)
    stop = int(levels[mover]) + max(far, 1)
    on_the_way = float(uses[: max(far, 1)].max())
    reached = float(uses[max(far, 1) - 1])
    finished = far == len(uses)
    rank = 0 if finished else 1 if far else 2
    return rank, 0, reached if far else on_the_way, mover, stop


def _ahead(field: Field, mode: int, levels: IntArray, mover: int) -> FloatArray:
    """Return the use [1] of each further level of one mover, its way there included."""
    further = np.arange(levels[mover] + 1, field.movers[mover].top + 1)
    states = np.repeat(levels[None], len(further), axis=0)
    states[:, mover] = further
    out: FloatArray = np.maximum(field.uses(mode, states), field.way(mode, states, mover))
    return out
