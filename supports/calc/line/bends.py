"""Circular bends in closed form: flexibility factor, geometry, stiffness and sag.

Along the arc, at an angle ψ back from its end, force and moment in the section (tangent, normal,
binormal) are those at the end times T(ψ) = T₀ + T₁ cos ψ + T₂ sin ψ. The compliance of the end is
∫ Tᵀ C T R dψ, so only integrals of products of (1, cos, sin) are wanted: closed form, no chords.
The weight of the arc adds the basis (ψ, ψ cos, ψ sin).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from supports.calc.line.straight import DOWN, Compliances
from supports.calc.line.vectors import FloatArray, sized


@dataclass(frozen=True, slots=True)
class Arcs:
    """Geometry of bends: radius [m], angle [rad], frames at the end (tangent, inward, binormal)."""

    radius: FloatArray
    angle: FloatArray
    frame: FloatArray

    @property
    def length(self) -> FloatArray:
        """Length of each arc [m]."""
        return self.radius * self.angle


def bend_flexibility(wall: float, bend_radius: float, mean_radius: float) -> float:
    """Return how many times more flexible a bend is than a straight pipe of its length.

    k = 1.65 / h with h = t R / r², never less than 1; in plane and out of plane alike.

    Parameters
    ----------
    wall
        Wall thickness t [m].
    bend_radius
        Bend radius R [m].
    mean_radius
        Mean radius r of the pipe's wall [m].

    Returns
    -------
    float
        Flexibility factor [1].

    Source: ASME B31.1 and B31.3, Appendix D (from memory; without pressure and flange effects).

    >>> round(bend_flexibility(0.00953, 0.4572, 0.157135), 3)
    9.35
    """
    return max(1.0, 1.65 * mean_radius**2 / (wall * bend_radius))


def arcs_between(start: FloatArray, corner: FloatArray, end: FloatArray) -> Arcs:
    """Return the arcs that touch start–corner at `start` and corner–end at `end`.

    R = tangent length / tan(angle / 2).

    Parameters
    ----------
    start, corner, end
        Points [m], bends × 3.

    Source: geometry of the circle.
    """
    tangent, first = sized(corner - start)
    _, last = sized(end - corner)
    cosine = np.einsum("ij,ij->i", first, last)
    binormal = np.cross(first, last)
    sine, binormal = sized(binormal)
    angle = np.arctan2(sine, cosine)
    frame = np.stack([last, np.cross(binormal, last), binormal], axis=1)
    return Arcs(tangent / np.tan(angle / 2.0), angle, frame)


def arc_compliance(arcs: Arcs, per_metre: Compliances) -> FloatArray:
    """Return the 6 × 6 compliance of the ends of bends held at their starts, global axes.

    f = ∫ Tᵀ C T R dψ over the arc.

    Parameters
    ----------
    per_metre
        Compliances per metre [1/N], [1/(N·m²)], the bending one with its flexibility factor.

    Returns
    -------
    FloatArray
        Compliance [m/N], [1/N], [rad/(N·m)], bends × 6 × 6.

    Source: virtual work on a curved bar (any text on strength of materials), integrated by hand.
    """
    shape = _section_forces(arcs.radius)
    weighed = _diagonal(per_metre)[:, None, :, None] * shape
    local = np.einsum("npq,npab,nqac->nbc", _products(arcs.angle)[:, :, :3], shape, weighed)
    turn = _turned(arcs.frame)
    out: FloatArray = np.swapaxes(turn, 1, 2) @ (arcs.radius[:, None, None] * local) @ turn
    return out


def arc_sag(arcs: Arcs, per_metre: Compliances) -> FloatArray:
    """Return how far the end of each bend moves when it weighs 1 N/m and its start is held.

    d = ∫ Tᵀ C L(ψ) w R dψ, L being force and moment in the section from the weight beyond it.

    Parameters
    ----------
    per_metre
        Compliances per metre [1/N], [1/(N·m²)].

    Returns
    -------
    FloatArray
        Displacement [m per N/m] and rotation [rad per N/m], bends × 6.

    Source: as `arc_compliance`.
    """
    weight = arcs.frame @ DOWN
    inner = np.einsum("nqab,nb->nqa", _weight_forces(arcs.radius), weight)
    inner *= _diagonal(per_metre)[:, None, :]
    shape = _section_forces(arcs.radius)
    local = np.einsum("npq,npab,nqa->nb", _products(arcs.angle), shape, inner)
    turn = np.swapaxes(_turned(arcs.frame), 1, 2)
    out: FloatArray = arcs.radius[:, None] * np.einsum("nab,nb->na", turn, local)
    return out


def arc_centroid(arcs: Arcs, end: FloatArray) -> FloatArray:
    """Return the centres of gravity of the arcs [m].

    On the bisector, 2 R sin(angle/2) / angle from the centre.

    Parameters
    ----------
    end
        End points [m], bends × 3.

    Source: centroid of a circular arc, any handbook.
    """
    half = arcs.angle / 2.0
    tangent, inward = arcs.frame[:, 0], arcs.frame[:, 1]
    centre = end + arcs.radius[:, None] * inward
    outward = -np.cos(half)[:, None] * inward - np.sin(half)[:, None] * tangent
    return centre + (arcs.radius * np.sin(half) / half)[:, None] * outward


def _products(angle: FloatArray) -> FloatArray:
    """Integrals over (0, angle) of (1, c, s)ᵀ (1, c, s, ψ, ψc, ψs)."""
    s, c, q = np.sin(angle), np.cos(angle), angle
    cc, ss, sc = (q + s * c) / 2.0, (q - s * c) / 2.0, s * s / 2.0
    ps, pc = s - q * c, q * s + c - 1.0
    pcc = q * q / 4.0 + q * s * c / 2.0 - s * s / 4.0
    pss = q * q / 2.0 - pcc
    psc = (s * c - q * np.cos(2.0 * q)) / 4.0
    rows = [
        [q, s, 1.0 - c, q * q / 2.0, pc, ps],
        [s, cc, sc, pc, pcc, psc],
        [1.0 - c, sc, ss, ps, psc, pss],
    ]
    return np.moveaxis(np.array(rows), -1, 0)


def _section_forces(radius: FloatArray) -> FloatArray:
    """T₀, T₁, T₂ for each bend: rows N, Vn, Vb, Mt, Mn, Mb; columns Fa, Fb, F3, Ma, Mb, M3."""
    out = np.zeros((len(radius), 3, 6, 6))
    one, cos, sin = out[:, 0], out[:, 1], out[:, 2]
    for block in (0, 3):
        cos[:, block, block] = cos[:, block + 1, block + 1] = 1.0
        sin[:, block, block + 1], sin[:, block + 1, block] = -1.0, 1.0
        one[:, block + 2, block + 2] = 1.0
    one[:, 3, 2], cos[:, 3, 2] = radius, -radius
    sin[:, 4, 2] = -radius
    one[:, 5, 0], cos[:, 5, 0] = radius, -radius
    sin[:, 5, 1] = radius
    return out


def _weight_forces(radius: FloatArray) -> FloatArray:
    """L for the basis (1, c, s, ψ, ψc, ψs): rows N to Mb; columns weight along a, b, 3."""
    out = np.zeros((len(radius), 6, 6, 3))
    one, cos, sin, psi, psi_cos, psi_sin = np.moveaxis(out, 1, 0)
    psi_cos[:, 0, 0], psi_sin[:, 0, 1] = radius, -radius
    psi_sin[:, 1, 0], psi_cos[:, 1, 1] = radius, radius
    psi[:, 2, 2] = radius
    square = radius**2
    psi[:, 3, 2], sin[:, 3, 2] = square, -square
    one[:, 4, 2], cos[:, 4, 2] = -square, square
    sin[:, 5, 0], psi_cos[:, 5, 0] = square, -square
    one[:, 5, 1], cos[:, 5, 1], psi_sin[:, 5, 1] = -square, square, square
    return out


def _diagonal(per_metre: Compliances) -> FloatArray:
    shear, bend = per_metre.shear, per_metre.bend
    return np.stack([per_metre.stretch, shear, shear, per_metre.twist, bend, bend], axis=-1)


def _turned(frame: FloatArray) -> FloatArray:
    out = np.zeros((len(frame), 6, 6))
    out[:, :3, :3] = out[:, 3:, 3:] = frame
    return out
