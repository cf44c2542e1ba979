"""First looks at loads along a line: lever, half spans, and whether the sum closes.

These order and screen. They ignore continuity, and they approve nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import fsum

from supports.calc.elementwise import ratio
from supports.units import STANDARD_GRAVITY, FloatOrArray

UNIT_RATIOS = {"kgf or daN": 100.0, "lbf": 225.0, "N": 1000.0}
"""How many times too large a load seems when a number in this unit is read as kN [1]."""
NEAR = 0.20
"""How near a ratio must come to one of `UNIT_RATIOS` to raise a question [1]."""


def lever_shares(
    load: FloatOrArray, to_left: FloatOrArray, to_right: FloatOrArray
) -> tuple[FloatOrArray, FloatOrArray]:
    """Return the shares of a load between two neighbours by lever.

    Parameters
    ----------
    load
        Load between two supports [N].
    to_left, to_right
        Distance to each of them [m].

    Returns
    -------
    tuple of two FloatOrArray
        P b / L at the left one and P a / L at the right one [N].

    Notes
    -----
    Source: statics of one simply supported span; a first look only.
    """
    span = to_left + to_right
    return load * to_right / span, load * to_left / span


def half_span_share(
    mass_per_metre: FloatOrArray, to_left: FloatOrArray, to_right: FloatOrArray
) -> FloatOrArray:
    """Return the load expected from half of each span beside a support.

    Parameters
    ----------
    mass_per_metre
        Pipe, insulation and content [kg/m].
    to_left, to_right
        Distance to each neighbour [m].

    Returns
    -------
    FloatOrArray
        m g (L_1 + L_2) / 2 [N].

    Notes
    -----
    Source: common practice for checking a register; wrong at bends, risers and heavy parts.
    """
    return mass_per_metre * (to_left + to_right) * (STANDARD_GRAVITY / 2.0)


def closure(support_loads: Iterable[float], line_weight: float) -> float:
    """Return how far the support and nozzle loads are from the weight of the line.

    Parameters
    ----------
    support_loads
        Loads of all supports and nozzles, positive when carrying [N].
    line_weight
        Weight of the line [N].

    Returns
    -------
    float
        (Σ F − W) / W, signed [1].

    Notes
    -----
    Source: statics; 5 % as a limit is common practice.
    """
    return ratio(fsum(support_loads) - line_weight, line_weight)


def size_ratio(load: FloatOrArray, expected: FloatOrArray) -> FloatOrArray:
    """Return how many times its expected size a load is.

    Parameters
    ----------
    load
        Load as read [N].
    expected
        Load expected from half spans [N].

    Returns
    -------
    FloatOrArray
        F / F_expected [1].

    Notes
    -----
    Source: definition.
    """
    return ratio(load, expected)


def unit_suspected(times_too_large: float, near: float = NEAR) -> str:
    """Return the unit that a load read as kN may really be in, or '' if none suggests itself.

    Parameters
    ----------
    times_too_large
        The load as a multiple of the expected one [1].
    near
        How near the multiple must come, as a share [1].

    Returns
    -------
    str
        A question for a person, never an answer: kgf and daN cannot be told apart by size.

    Notes
    -----
    Equation: |r / r_unit − 1| ≤ near, with 1 kN = 102 kgf = 100 daN = 225 lbf = 1,000 N. Source:
    unit factors of NIST SP 811; the width is common practice.
    """
    for name, typical in UNIT_RATIOS.items():
        if abs(times_too_large / typical - 1.0) <= near:
            return name
    return ""
