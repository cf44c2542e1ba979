"""Travel of a constant support: how much is needed, where the pointer stands, room at each end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from supports.calc.elementwise import chosen, larger, smaller
from supports.units import FloatOrArray

if TYPE_CHECKING:
    from supports.calc.elementwise import BoolArray

LEAST_EXTRA = 0.025
"""Least extra travel [m]; common practice, MSS SP-58 from memory: 1 in (25 mm)."""
EXTRA_SHARE = 0.20
"""Extra travel as a share of the design travel [1]; common practice, MSS SP-58 from memory."""


def travel_needed(
    design: FloatOrArray, least_extra: float = LEAST_EXTRA, extra_share: float = EXTRA_SHARE
) -> FloatOrArray:
    """Return the total travel that a design travel asks for.

    Parameters
    ----------
    design
        Design travel, without sign [m].
    least_extra
        Least extra travel [m].
    extra_share
        Extra travel as a share of the design travel [1].

    Returns
    -------
    FloatOrArray
        s + max(least extra, share · s) [m].

    Notes
    -----
    Source: MSS SP-58 from memory: actual travel and 20 %, the excess never below 1 in (25 mm).
    """
    return design + larger(design * extra_share, least_extra)


def pointer_from_divisions(
    reading: FloatOrArray, divisions: FloatOrArray, scale_length: FloatOrArray
) -> FloatOrArray:
    """Return a pointer reading in divisions as a length.

    Parameters
    ----------
    reading
        Division read [1].
    divisions
        Divisions of the whole scale [1].
    scale_length
        Length of the whole scale [m].

    Returns
    -------
    FloatOrArray
        reading / divisions · length, from the zero end [m].

    Notes
    -----
    Source: definition of an evenly divided scale.
    """
    return reading / divisions * scale_length


def distance_from_top(
    pointer: FloatOrArray, scale_length: FloatOrArray, *, zero_at_top: bool | BoolArray
) -> FloatOrArray:
    """Return how far below its top end the pointer stands.

    Parameters
    ----------
    pointer
        Reading from the zero end [m].
    scale_length
        Length of the scale [m].
    zero_at_top
        Whether the scale counts from the top end.

    Returns
    -------
    FloatOrArray
        The reading, or length − reading [m].

    Notes
    -----
    Source: geometry.
    """
    return chosen(zero_at_top, pointer, scale_length - pointer)


def pointer_after(
    pointer: FloatOrArray, movement_up: FloatOrArray, *, zero_at_top: bool | BoolArray
) -> FloatOrArray:
    """Return the reading expected after the pipe has moved.

    Parameters
    ----------
    pointer
        Reading before, from the zero end [m].
    movement_up
        Movement of the pipe, up positive [m].
    zero_at_top
        Whether the scale counts from the top end.

    Returns
    -------
    FloatOrArray
        reading − y with zero at the top, reading + y with zero at the bottom [m].

    Notes
    -----
    Source: geometry; the pointer of a hanger goes with the pipe.
    """
    return chosen(zero_at_top, pointer - movement_up, pointer + movement_up)


def room_at_ends(
    cold: FloatOrArray,
    hot: FloatOrArray,
    scale_length: FloatOrArray,
    *,
    zero_at_top: bool | BoolArray,
) -> tuple[FloatOrArray, FloatOrArray]:
    """Return the room at the top and at the bottom end over both states.

    Parameters
    ----------
    cold, hot
        Readings shut down and operating, from the zero end [m].
    scale_length
        Length of the scale, the unit's total travel [m].
    zero_at_top
        Whether the scale counts from the top end.

    Returns
    -------
    tuple of two FloatOrArray
        Least distance to the top stop and to the bottom stop; negative beyond a stop [m].

    Notes
    -----
    Source: geometry; that each end needs room is common practice.
    """
    cold_down = distance_from_top(cold, scale_length, zero_at_top=zero_at_top)
    hot_down = distance_from_top(hot, scale_length, zero_at_top=zero_at_top)
    return smaller(cold_down, hot_down), scale_length - larger(cold_down, hot_down)
