"""Loads while a line is full of test water and its springs are locked."""

from __future__ import annotations

from supports.calc.hardware import circle_area
from supports.units import STANDARD_GRAVITY, FloatOrArray

WATER = 1000.0
"""Density of test water [kg/m³]; customary value."""


def water_weight(
    inside_diameter: FloatOrArray, length: FloatOrArray, density: float = WATER
) -> FloatOrArray:
    """Return the weight of the water in a length of pipe.

    Parameters
    ----------
    inside_diameter
        Inside diameter d [m].
    length
        Length of pipe that the support answers for [m].
    density
        Density of the water [kg/m³].

    Returns
    -------
    FloatOrArray
        ρ g L π d² / 4 [N].

    Notes
    -----
    Source: hydrostatics.
    """
    return circle_area(inside_diameter) * length * (density * STANDARD_GRAVITY)


def locked_load(setting: FloatOrArray, water: FloatOrArray) -> FloatOrArray:
    """Return what a locked unit carries during the test.

    Parameters
    ----------
    setting
        Set load of the unit, in balance before filling [N].
    water
        Weight of the water that it answers for [N].

    Returns
    -------
    FloatOrArray
        Set load + water; the lock takes the water [N].

    Notes
    -----
    Source: statics. The lock often carries twice the nameplate load (MSS SP-58, from memory).
    """
    return setting + water
