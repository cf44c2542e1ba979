"""The stiffness matrix as a band: assembly, Cholesky factor, condensing on the supports.

The pipe alone hangs on nothing, so a soft ground spring is put at each support component before the
matrix is factored (LAPACK pbtrf) and taken out again in the small system of the supports: rigid,
elastic, one-way and constant supports then all act exactly, and none needs a penalty.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from supports.calc.line.frame import Frame
from supports.calc.line.mechanisms import loose_motion
from supports.calc.line.vectors import FloatArray, IntArray

GROUND_SHARE = 1e-3
"""Ground spring as a share of the pipe's median bending stiffness [1]; measured to keep 1e-13."""

PIVOT_LIMIT = 1e-10
"""Pivot over diagonal below which a motion is unresisted [1]; sound lines have over 1e-3."""


def _lapack() -> Any:
    """Return LAPACK; who only reads about lines need not wait for scipy."""
    from scipy.linalg import lapack

    return lapack


@dataclass(frozen=True, slots=True)
class Factored:
    """A line's stiffness, factored once, and condensed on its support components.

    Parameters
    ----------
    band
        Lower Cholesky band.
    ground
        Ground spring of each component [N/m], [N·m/rad].
    half
        L⁻¹ Bᵀ, where K = L Lᵀ and the rows of B are the components: unknowns × components.
    compliance
        B K⁻¹ Bᵀ: movement of each component per unit force in each, components × components.
    """

    frame: Frame
    band: FloatArray
    ground: FloatArray
    half: FloatArray
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
    band, info = _lapack().dpbtrf(stiffness, lower=1)
    if info or (band[0] ** 2 < PIVOT_LIMIT * stiffness[0]).any():
        raise loose_motion(frame, _softest(stiffness))
    half = forward(band, _unit_loads(frame))
    return Factored(frame, band, ground, half, half.T @ half)


def assembled(frame: Frame) -> FloatArray:
    """Return the lower band of the pipe's own stiffness: band[i − j, j] = K[i, j], i ≥ j."""
    strain = frame.strain_at_end
    blocks = np.matmul(np.swapaxes(strain, 1, 2), np.matmul(frame.pieces.stiffness, strain))
    row, column = _pairs(frame.unknowns)
    kept, width = row >= column, int((row - column).max()) + 1
    flat = (column * width + row - column)[kept]
    values = np.bincount(flat, blocks[kept], minlength=frame.size * width).astype(np.float64)
    return values.reshape(frame.size, width).T


def forward(band: FloatArray, loads: FloatArray) -> FloatArray:
    """Return L⁻¹ loads (unknowns × cases): half of a solution, enough for the supports."""
    out: FloatArray
    out, _ = _lapack().dtbtrs(band, loads, uplo="L")
    return out


def backward(band: FloatArray, half: FloatArray) -> FloatArray:
    """Return L⁻ᵀ half (unknowns × cases): the other half, which gives every unknown."""
    out: FloatArray
    out, _ = _lapack().dtbtrs(band, half, uplo="L", trans="T")
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
    band, _ = _lapack().dpbtrf(stiff, lower=1)
    motion = np.cos(np.arange(stiffness.shape[1]) ** 2.0)[:, None]
    for _ in range(8):
        motion = backward(band, forward(band, stiffness[0][:, None] * motion))
        motion /= np.abs(motion).max()
    out: FloatArray = motion[:, 0]
    return out
