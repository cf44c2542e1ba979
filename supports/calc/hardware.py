"""Rods, pieces of the stack and steel: ratings, loads, use, the weakest piece.

A piece without a rating is never 'OK': it is named as not known, and the stack stays incomplete.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from supports.calc.elementwise import at_most, ratio
from supports.calc.tables import row, rows
from supports.units import STANDARD_GRAVITY, FloatOrArray, Kind, to_si


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of the stack: `mass` [kg], `rating` at its temperature [N], `derating` [1].

    Unknown is None. Derating 1 is sound, 0.8 leaves four fifths of the rating.
    """

    name: str
    mass: float | None = None
    rating: float | None = None
    derating: float = 1.0


@dataclass(frozen=True, slots=True)
class PieceUse:
    """What a piece carries and may carry: `load` and `capacity` [N], `utilisation` [1]."""

    name: str
    load: float | None
    capacity: float | None
    utilisation: float | None


@dataclass(frozen=True, slots=True)
class StackUse:
    """Every piece from steel to pipe, the weakest known, and those that cannot be judged."""

    pieces: tuple[PieceUse, ...]
    weakest: PieceUse | None
    unknown: tuple[str, ...]

    @property
    def fits(self) -> bool | None:
        """Return whether all pieces carry their load; None if that cannot be judged."""
        if any(not at_most(use.utilisation or 0.0, 1.0) for use in self.pieces):
            return False
        return None if self.unknown or not self.pieces else True


def metric_root_diameter(diameter: FloatOrArray, pitch: FloatOrArray) -> FloatOrArray:
    """Return the minor diameter of a metric bolt thread.

    Parameters
    ----------
    diameter
        Nominal diameter [m].
    pitch
        Pitch [m].

    Returns
    -------
    FloatOrArray
        d_3 = d − 1.22687 P [m].

    Notes
    -----
    Source: ISO 724 / DIN 13 profile, from memory.
    """
    return diameter - 1.22687 * pitch


def circle_area(diameter: FloatOrArray) -> FloatOrArray:
    """Return the area of a circle.

    Parameters
    ----------
    diameter
        Diameter [m].

    Returns
    -------
    FloatOrArray
        π d² / 4 [m²].

    Notes
    -----
    Source: geometry.
    """
    return diameter * diameter * (math.pi / 4.0)


def rod_root_area(size: str) -> float:
    """Return the root area of a threaded rod by its size, 'M24' or '3/4-10'.

    Parameters
    ----------
    size
        Metric coarse or unified coarse size as the tables write it.

    Returns
    -------
    float
        Area at the root of the thread [m²].

    Raises
    ------
    CannotCalculate
        Neither table has the size.

    Notes
    -----
    Source: metric by d_3 = d − 1.22687 P, ISO 724 from memory; unified coarse areas as printed.
    """
    for one in rows("rod_pitches_metric"):
        if one["size"] == size.upper():
            length = (to_si(float(one[part]), "mm", Kind.LENGTH) for part in _METRIC_COLUMNS)
            return circle_area(metric_root_diameter(*length))
    area = row("rod_root_areas_unc", "size", size)["root_area_in2"]
    return to_si(float(area), "in²", Kind.AREA)


_METRIC_COLUMNS = ("diameter_mm", "pitch_mm")


def rod_rating(root_area: FloatOrArray, allowable: FloatOrArray) -> FloatOrArray:
    """Return the rated load of a threaded rod.

    Parameters
    ----------
    root_area
        Area at the root of the thread [m²].
    allowable
        Allowable tension at temperature, the reduction for threads taken [Pa].

    Returns
    -------
    FloatOrArray
        A · S [N].

    Notes
    -----
    Source: ASME B31.1-2016, para. 121.2(G): root area, allowable reduced by 25 % for threads.
    """
    return root_area * allowable


def utilisation(
    load: FloatOrArray, rating: FloatOrArray, derating: FloatOrArray | float = 1.0
) -> FloatOrArray:
    """Return the use of a piece.

    Parameters
    ----------
    load
        Load at the piece [N].
    rating
        Rated load at temperature [N].
    derating
        What its condition leaves of the rating, 0 to 1 [1].

    Returns
    -------
    FloatOrArray
        F / (R · c); above 1 the piece is over its rating [1].

    Notes
    -----
    Source: definition.
    """
    return ratio(load, rating * derating)


def loads_at_pieces(pipe_load: float, pieces: Sequence[Piece]) -> tuple[float | None, ...]:
    """Return the load at each piece, from steel to pipe.

    Parameters
    ----------
    pipe_load
        Load of the pipe alone [N].
    pieces
        The stack from steel to pipe; a spring unit is one of its pieces.

    Returns
    -------
    tuple of float or None
        F + g Σ m of all pieces below [N]; None above a piece whose mass is not known.

    Notes
    -----
    Source: statics.
    """
    loads: list[float | None] = []
    below: float | None = pipe_load
    for piece in reversed(pieces):
        loads.append(below)
        below = _with_mass(below, piece.mass)
    return tuple(reversed(loads))


def _with_mass(load: float | None, mass: float | None) -> float | None:
    return None if load is None or mass is None else load + mass * STANDARD_GRAVITY


def stack_use(pipe_load: float, pieces: Sequence[Piece]) -> StackUse:
    """Judge every piece of a stack and find the weakest.

    Parameters
    ----------
    pipe_load
        Load of the pipe alone [N].
    pieces
        The stack from steel to pipe.

    Returns
    -------
    StackUse
        Loads and capacities [N], use [1], the weakest piece, the pieces not judged.

    Notes
    -----
    Equation: F / (R · c) for each. Source: statics; that the weakest piece governs is common
    practice.
    """
    loads = loads_at_pieces(pipe_load, pieces)
    uses = tuple(_piece_use(piece, load) for piece, load in zip(pieces, loads, strict=True))
    known = [use for use in uses if use.utilisation is not None]
    return StackUse(
        pieces=uses,
        weakest=max(known, key=lambda use: use.utilisation or 0.0, default=None),
        unknown=tuple(use.name for use in uses if use.utilisation is None),
    )


def _piece_use(piece: Piece, load: float | None) -> PieceUse:
    capacity = None if piece.rating is None else piece.rating * piece.derating
    share = None if load is None or capacity is None else ratio(load, capacity)
    return PieceUse(piece.name, load, capacity, share)


def point_load_moment(
    load: FloatOrArray, to_first: FloatOrArray, to_second: FloatOrArray
) -> FloatOrArray:
    """Return the bending moment under one load on a simply supported beam.

    Parameters
    ----------
    load
        The load [N].
    to_first, to_second
        Distance to each support [m].

    Returns
    -------
    FloatOrArray
        M = P a b / (a + b); P L / 4 at midspan [N·m].

    Notes
    -----
    Source: beam statics, textbook.
    """
    return load * to_first * to_second / (to_first + to_second)


def bending_stress(moment: FloatOrArray, section_modulus: FloatOrArray) -> FloatOrArray:
    """Return the bending stress of a section.

    Parameters
    ----------
    moment
        Bending moment [N·m].
    section_modulus
        Section modulus Z [m³].

    Returns
    -------
    FloatOrArray
        M / Z [Pa].

    Notes
    -----
    Source: beam theory, textbook.
    """
    return moment / section_modulus


def midspan_sag(
    load: FloatOrArray, span: FloatOrArray, modulus: FloatOrArray, second_moment: FloatOrArray
) -> FloatOrArray:
    """Return the sag of a simply supported beam under a load at midspan.

    Parameters
    ----------
    load
        The load [N].
    span
        Span L [m].
    modulus
        Modulus of elasticity [Pa].
    second_moment
        Second moment of area [m⁴].

    Returns
    -------
    FloatOrArray
        P L³ / (48 E I) [m].

    Notes
    -----
    Source: beam theory, textbook.
    """
    return load * span * span * span / (48.0 * modulus * second_moment)
