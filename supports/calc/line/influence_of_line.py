"""Build the influence table of a solved state of a line, without factoring anything again."""

from __future__ import annotations

import numpy as np

from supports.calc.line.band import Factored
from supports.calc.line.contact import FREE, LOW, Settled
from supports.calc.line.influence import InfluenceTable
from supports.calc.line.restraints import Anchor, Guide, Support, Variable, is_spring
from supports.calc.line.results import LineResult
from supports.calc.line.vectors import FloatArray, IntArray


def influence_table(system: Factored, result: LineResult) -> InfluenceTable:
    """Return what +1 N of set load at each spring does to a line in the state of `result`.

    Every support keeps the status it has there: who lifted stays lifted, a unit on a stop stays on
    it (a change of its setting then goes into the stop). Guides have no row.

    Parameters
    ----------
    system
        The factored line.
    result
        Its base state.

    Returns
    -------
    InfluenceTable
        Loads [N], pointers [m], nozzles [N], [N·m] and the effects per newton.

    Source: the derivative of the small system of `supports.calc.line.contact`.
    """
    frame, settled, row = system.frame, result.solved.settled, result.row
    carrying = tuple(s for s in frame.line.supports if not isinstance(s, Anchor | Guide))
    names = tuple(s.name for s in carrying)
    springs = tuple(s.name for s in carrying if is_spring(s))
    at = {c.support: row for row, c in enumerate(frame.components)}
    rows = np.array([at[name] for name in names], dtype=np.int64)
    columns = np.array([at[name] for name in springs], dtype=np.int64)
    force, movement = _effects(system, settled, row, columns)
    nozzle, own = _nozzle_rows(system), settled.trial.force[row]
    seen = np.array([result.supports[name].movement for name in names])
    load_limits = np.array([_load_limits(s, settled, (row, at[s.name])) for s in carrying])
    growth = seen - settled.trial.movement[row, rows]
    pointer_low, pointer_high = _pointer_limits(carrying, settled, (row, rows), growth)
    return InfluenceTable(
        state=result.state.name,
        units=springs,
        supports=names,
        pointers=names,
        nozzles=tuple(anchor.name for anchor in frame.line.anchors),
        base=np.concatenate([own[rows], seen, _picked(own, nozzle)]),
        effect=np.vstack([force[rows], movement[rows], _picked(force, nozzle)]),
        load_floor=load_limits.reshape(-1, 2)[:, 0],
        load_ceiling=load_limits.reshape(-1, 2)[:, 1],
        pointer_low=pointer_low,
        pointer_high=pointer_high,
    )


def friction_half_bands(result: LineResult) -> tuple[FloatArray, tuple[str, ...]]:
    """Return half the friction band of each spring, for `band_of_uncertainty`, and who is unknown.

    A variable has none, and neither has a locked unit. A constant whose band is not known counts as
    not a number, so that nothing built on it looks certain; its name is returned.

    Returns
    -------
    tuple
        Half bands [N] in the order of the springs, and the names that cannot be judged.

    Source: band = setting × (1 ± friction), as marked on the plate.
    """
    springs = [result.supports[spring.name] for spring in result.frame.line.springs]
    half = [np.nan if s.high is None else s.high - s.load for s in springs]
    unknown = tuple(s.name for s in springs if s.high is None)
    return np.array(half, dtype=np.float64), unknown


def _effects(
    system: Factored, settled: Settled, row: int, columns: IntArray
) -> tuple[FloatArray, FloatArray]:
    """Return dforce/dsetting [N/N] and dmovement/dsetting [m/N], components × columns."""
    compliance = np.array([c.compliance for c in system.frame.components])
    touching = settled.status[row, columns] != FREE
    scale = settled.scale
    push = np.where(touching, compliance[columns] * scale[columns], 1.0 / scale[columns])
    pull = scale[:, None] * settled.trial.inverse[row][:, columns] * push
    movement = system.compliance @ pull
    return pull - system.ground[:, None] * movement, movement


def _nozzle_rows(system: Factored) -> IntArray:
    """Return the component of each nozzle's Fx to Mz; −1 where the nozzle is free."""
    place = {(c.support, c.axis): row for row, c in enumerate(system.frame.components)}
    anchors = system.frame.line.anchors
    rows = [place.get((a.name, axis), -1) for a in anchors for axis in range(6)]
    return np.array(rows, dtype=np.int64)


def _picked(values: FloatArray, rows: IntArray) -> FloatArray:
    """Return the rows wanted, zero for those that are not there."""
    padded = np.concatenate([values, np.zeros((1, *values.shape[1:]))])
    out: FloatArray = padded[rows]
    return out


def _load_limits(support: Support, settled: Settled, at: tuple[int, int]) -> tuple[float, float]:
    """Return the loads [N] between which a support keeps its status.

    A unit on a stop leaves it when the load passes what its spring pulls by itself.
    """
    status = settled.status[at]
    if settled.laws.low[at] == settled.laws.high[at]:
        return -np.inf, np.inf
    if status == FREE:
        return _range(support)
    own = float(settled.trial.force[at] - settled.trial.contact[at])
    return (own, np.inf) if status == LOW else (-np.inf, own)


def _range(support: Support) -> tuple[float, float]:
    if isinstance(support, Variable):
        return support.load_low, support.load_high
    return -np.inf, np.inf


def _pointer_limits(
    carrying: tuple[Support, ...], settled: Settled, at: tuple[int, IntArray], growth: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return the positions [m] at which a free constant, rod or rest meets something."""
    meets = (settled.status[at] == FREE) & [not isinstance(s, Variable) for s in carrying]
    low = np.where(meets, settled.laws.low[at] + growth, -np.inf)
    high = np.where(meets, settled.laws.high[at] + growth, np.inf)
    return low, high
