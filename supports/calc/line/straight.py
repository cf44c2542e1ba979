"""Stiffness and sag of straight round pipes, a whole stack at a time.

Each pipe is held at its start; stiffness and sag are those of its end. For a round pipe the
formulae need no local axes: t tᵀ picks what lies along the pipe, P = I − t tᵀ what lies across it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from supports.calc.line.vectors import FloatArray, cross_matrices, sized

DOWN = np.array([0.0, 0.0, -1.0])


@dataclass(frozen=True, slots=True)
class Compliances:
    """Compliance per metre of pipe: stretch and shear [1/N], bend and twist [1/(N·m²)]."""

    stretch: FloatArray
    shear: FloatArray
    bend: FloatArray
    twist: FloatArray


@dataclass(frozen=True, slots=True)
class Straights:
    """Straight pipes as the formulae see them: length [m], direction and projections."""

    length: FloatArray
    along: FloatArray
    across: FloatArray
    cross: FloatArray

    @classmethod
    def of(cls, reach: FloatArray) -> Straights:
        """Take the vectors from start to end [m], pipes × 3."""
        length, t = sized(reach)
        along = t[:, :, None] * t[:, None, :]
        return cls(length, along, np.eye(3) - along, cross_matrices(t))


def straight_stiffness(pipes: Straights, per_metre: Compliances) -> FloatArray:
    """Return the 6 × 6 stiffness of the ends of straight pipes held at their starts.

    From the end compliances a = L³/3EI + L/(κ G A), b = L²/2EI, c = L/EI and D = a c − b²:
    force = (EA/L t tᵀ + c/D P) δ + b/D t × ψ, moment = −b/D t × δ + (GJ/L t tᵀ + a/D P) ψ.

    Parameters
    ----------
    per_metre
        Compliances per metre [1/N], [1/(N·m²)]; no shear compliance gives Euler-Bernoulli.

    Returns
    -------
    FloatArray
        Stiffness [N/m], [N], [N·m/rad], pipes × 6 × 6.

    Source: Timoshenko beam in any text on matrix structural analysis; inverted by hand.
    """
    length, along, across = pipes.length, pipes.along, pipes.across
    a = length**3 / 3.0 * per_metre.bend + length * per_metre.shear
    b = length**2 / 2.0 * per_metre.bend
    c = length * per_metre.bend
    determinant = a * c - b * b
    coupling = _scaled(b / determinant, pipes.cross)
    out = np.empty((len(length), 6, 6))
    out[:, :3, :3] = _scaled(1.0 / (length * per_metre.stretch), along)
    out[:, :3, :3] += _scaled(c / determinant, across)
    out[:, 3:, 3:] = _scaled(1.0 / (length * per_metre.twist), along)
    out[:, 3:, 3:] += _scaled(a / determinant, across)
    out[:, :3, 3:] = coupling
    out[:, 3:, :3] = -coupling
    return out


def straight_sag(pipes: Straights, per_metre: Compliances) -> FloatArray:
    """Return how far the end of each pipe moves when it weighs 1 N/m and its start is held.

    Along: L²/2EA; across: L⁴/8EI + L²/(2 κ G A), and a turn of L³/6EI about t × w.

    Parameters
    ----------
    per_metre
        Compliances per metre [1/N], [1/(N·m²)].

    Returns
    -------
    FloatArray
        Displacement [m per N/m] and rotation [rad per N/m], pipes × 6.

    Source: cantilever under uniform load, any handbook of beam formulae.
    """
    length = pipes.length
    drop = length**4 / 8.0 * per_metre.bend + length**2 / 2.0 * per_metre.shear
    out = np.empty((len(length), 6))
    out[:, :3] = (length**2 / 2.0 * per_metre.stretch)[:, None] * (pipes.along @ DOWN)
    out[:, :3] += drop[:, None] * (pipes.across @ DOWN)
    out[:, 3:] = (length**3 / 6.0 * per_metre.bend)[:, None] * (pipes.cross @ DOWN)
    return out


def _scaled(factor: FloatArray, matrices: FloatArray) -> FloatArray:
    return factor[:, None, None] * matrices
