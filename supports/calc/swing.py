"""Rod swing: angle, side force, rise, and what helps: offset or a longer rod."""

from __future__ import annotations

import numpy as np

from supports.calc.elementwise import plain
from supports.units import FloatOrArray


def horizontal_movement(dx: FloatOrArray, dz: FloatOrArray) -> FloatOrArray:
    """Return the horizontal movement of the rod's lower end.

    Parameters
    ----------
    dx, dz
        Horizontal movements along two axes at right angles [m].

    Returns
    -------
    FloatOrArray
        d = √(dx² + dz²) [m].

    Notes
    -----
    Source: geometry.
    """
    result: FloatOrArray = plain(np.hypot(dx, dz))
    return result


def swing_angle(movement: FloatOrArray, length: FloatOrArray) -> FloatOrArray:
    """Return the angle of a rod from the vertical.

    Parameters
    ----------
    movement
        Horizontal movement of its lower end [m].
    length
        Length between the pins [m].

    Returns
    -------
    FloatOrArray
        θ = asin(d / L); not-a-number where the movement is longer than the rod [rad].

    Notes
    -----
    Source: geometry; 4° as a limit is common practice, MSS SP-58 from memory.
    """
    with np.errstate(invalid="ignore", divide="ignore"):
        result: FloatOrArray = plain(np.arcsin(np.divide(movement, length)))
    return result


def side_force(load: FloatOrArray, angle: FloatOrArray) -> FloatOrArray:
    """Return the horizontal force that a leaning rod puts on the pipe.

    Parameters
    ----------
    load
        Vertical load [N].
    angle
        Angle from the vertical [rad].

    Returns
    -------
    FloatOrArray
        W tan θ [N].

    Notes
    -----
    Source: statics.
    """
    result: FloatOrArray = plain(load * np.tan(angle))
    return result


def rise(length: FloatOrArray, angle: FloatOrArray) -> FloatOrArray:
    """Return how far the lower end of a leaning rod rises.

    Parameters
    ----------
    length
        Length between the pins [m].
    angle
        Angle from the vertical [rad].

    Returns
    -------
    FloatOrArray
        L (1 − cos θ) [m].

    Notes
    -----
    Source: geometry.
    """
    result: FloatOrArray = plain(length * (1.0 - np.cos(angle)))
    return result


def halved_by_offset(movement: FloatOrArray) -> FloatOrArray:
    """Return the movement to either side when the rod is offset by half of it when cold.

    Parameters
    ----------
    movement
        Horizontal movement [m].

    Returns
    -------
    FloatOrArray
        d / 2 [m].

    Notes
    -----
    Source: geometry.
    """
    return movement / 2.0


def length_needed(movement: FloatOrArray, angle: float) -> FloatOrArray:
    """Return the rod length that keeps a movement inside an angle.

    Parameters
    ----------
    movement
        Horizontal movement [m].
    angle
        Largest angle from the vertical [rad].

    Returns
    -------
    FloatOrArray
        L = d / sin θ [m].

    Notes
    -----
    Source: geometry.
    """
    return movement / float(np.sin(angle))
