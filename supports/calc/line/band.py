"""The stiffness matrix as a band: assembly, Cholesky factor, condensing on the supports.

The pipe alone hangs on nothing, so a soft ground spring is put at each support component before the
matrix is factored (LAPACK pbtrf) and taken out again in the small system of the supports: rigid,
elastic, one-way and constant supports then all act exactly, and none needs a penalty.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import lapack

from supports.calc.line.frame import Frame
from supports.calc.line.mechanisms import loose_motion
from supports.calc.line.vectors import FloatArray, IntArray

GROUND_SHARE = 1e-3
"""Ground spring as a share of the pipe's median bending stiffness [1]; measured to keep 1e-13."""

PIVOT_LIMIT = 1e-10
"""Pivot over diagonal below which a motion is unresisted [1]; sound lines have over 1e-3."""


@dataclass(frozen=True, slots=True)
class Factored:
    """A line's stiffness, factored once, and condensed on its support components.

    Parameters
    ----------
    band
        Lower Cholesky band.
    ground
        Ground spring of each component [N/m], [N·m/rad].
    answer
        Unknowns per unit force in each component, unknowns × components.
    compliance
        Movement of each component per unit force in each, components × components.
    """

    frame: Frame
    band: FloatArray
    ground: FloatArray
    answer: FloatArray
    compliance: FloatArray


def factored(frame: Frame) -> Factored:
    """Assemble, factor and condense.

    Raises
    ------
    Mechanism
        A motion of the line that no support resists.
    """
    stiffness = assembled(frame)
    ground = _ground_springs(frame, stiffness[0])
    _add_ground(frame, ground, stiffness)
    band, info = lapack.dpbtrf(stiffness, lower=1)
    if info or (band[0] ** 2 < PIVOT_LIMIT * stiffness[0]).any():
        raise loose_motion(frame, _softest(stiffness))
    answer = solved(band, _unit_loads(frame))
    compliance = along(frame, answer)
    return Factored(frame, band, ground, answer, (compliance + compliance.T) / 2.0)


def assembled(frame: Frame) -> FloatArray:
    """Return the lower band of the pipe's own stiffness: band[i − j, j] = K[i, j], i ≥ j."""
    strain = frame.strain_at_end
    blocks = np.matmul(np.swapaxes(strain, 1, 2), np.matmul(frame.pieces.stiffness, strain))
    row, column = _pairs(frame.unknowns)
    kept, width = row >= column, int((row - column).max()) + 1
    flat = (column * width + row - column)[kept]
    values = np.bincount(flat, blocks[kept], minlength=frame.size * width).astype(np.float64)
    return values.reshape(frame.size, width).T


def solved(band: FloatArray, loads: FloatArray) -> FloatArray:
    """Return the unknowns under `loads` (unknowns × cases), by the Cholesky band."""
    out: FloatArray
    out, _ = lapack.dpbtrs(band, loads, lower=1)
    return out


def along(frame: Frame, unknowns: FloatArray) -> FloatArray:
    """Return movements along the support components [m], [rad]: components × cases."""
    out: FloatArray = np.einsum("mi,mic->mc", frame.rows, unknowns[frame.row_unknowns])
    return out


def _pairs(unknowns: IntArray) -> tuple[IntArray, IntArray]:
    shape = (*unknowns.shape, unknowns.shape[1])
    row = np.broadcast_to(unknowns[:, :, None], shape)
    return row, np.broadcast_to(unknowns[:, None, :], shape)


def _ground_springs(frame: Frame, diagonal: FloatArray) -> FloatArray:
    each = diagonal.reshape(-1, 6)
    softest = np.sort([each[:, :3].min(axis=1), each[:, 3:].min(axis=1)])
    shift, turn = GROUND_SHARE * softest[:, len(each) // 2]
    return np.array([turn if c.turning else shift for c in frame.components])


def _add_ground(frame: Frame, ground: FloatArray, stiffness: FloatArray) -> None:
    """Add the ground springs to the band in place; `stiffness` was just assembled for it."""
    blocks = ground[:, None, None] * frame.rows[:, :, None] * frame.rows[:, None, :]
    row, column = _pairs(frame.row_unknowns)
    kept = row >= column
    np.add.at(stiffness, ((row - column)[kept], column[kept]), blocks[kept])


def _unit_loads(frame: Frame) -> FloatArray:
    count = len(frame.rows)
    loads = np.zeros((frame.size, count), order="F")
    loads[frame.row_unknowns, np.arange(count)[:, None]] = frame.rows
    return loads


def _softest(stiffness: FloatArray) -> FloatArray:
    """Return the motion that is resisted least, by inverse iteration on a slightly stiffened K."""
    stiff = stiffness.copy()
    stiff[0] *= 1.0 + 1e-9
    band, _ = lapack.dpbtrf(stiff, lower=1)
    motion = np.cos(np.arange(stiffness.shape[1]) ** 2.0)[:, None]
    for _ in range(8):
        motion = solved(band, stiffness[0][:, None] * motion)
        motion /= np.abs(motion).max()
    out: FloatArray = motion[:, 0]
    return out
