"""Unit factors of NIST Special Publication 811."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from supports.units import Kind, to_si
from supports.verification.check import PublishedCheck, Trust, half_last_digit

SOURCE = "NIST Special Publication 811 (2008)"
_PLACE = "appendix B.8"
_EXACT = 1e-15
"""Exact factors agree to the last bits of a float."""

EXACT = (
    ("kgf", Kind.LOAD, "9.80665", "N"),
    ("kp", Kind.LOAD, "9.80665", "N"),
    ("daN", Kind.LOAD, "10", "N"),
    ("kN", Kind.LOAD, "1000", "N"),
    ("tonne-force", Kind.LOAD, "9806.65", "N"),
    ("in", Kind.LENGTH, "0.0254", "m"),
    ("ft", Kind.LENGTH, "0.3048", "m"),
    ("tonne", Kind.MASS, "1000", "kg"),
    ("lb", Kind.MASS, "0.45359237", "kg"),
    ("in²", Kind.AREA, "6.4516E-4", "m²"),
    ("bar", Kind.STRESS, "100000", "Pa"),
    ("kgf·m", Kind.MOMENT, "9.80665", "N·m"),
    ("kgf/mm", Kind.RATE, "9806.65", "N/m"),
    ("kgf/cm", Kind.RATE, "980.665", "N/m"),
    ("g/cm³", Kind.DENSITY, "1000", "kg/m³"),
    ("%", Kind.FRACTION, "0.01", ""),
)
"""Factors that the table prints in bold, or that follow exactly from those."""

PRINTED = (
    ("lbf", Kind.LOAD, "4.448222E+00", "N"),
    ("kip", Kind.LOAD, "4.448222E+03", "N"),
    ("short ton-force", Kind.LOAD, "8.896443E+03", "N"),
    ("lbf/in", Kind.RATE, "1.751268E+02", "N/m"),
    ("lbf·ft", Kind.MOMENT, "1.355818E+00", "N·m"),
    ("lbf·in", Kind.MOMENT, "1.129848E-01", "N·m"),
    ("psi", Kind.STRESS, "6.894757E+03", "Pa"),
    ("ksi", Kind.STRESS, "6.894757E+06", "Pa"),
    ("lb", Kind.MASS, "4.535924E-01", "kg"),
    ("lb/ft", Kind.MASS_PER_LENGTH, "1.488164E+00", "kg/m"),
    ("lb/ft³", Kind.DENSITY, "1.601846E+01", "kg/m³"),
    ("in³", Kind.SECTION_MODULUS, "1.638706E-05", "m³"),
    ("in⁴", Kind.SECOND_MOMENT, "4.162314E-07", "m⁴"),
    ("°", Kind.ANGLE, "1.745329E-02", "rad"),
    ("°F", Kind.TEMPERATURE_DIFFERENCE, "5.555556E-01", "K"),
)
"""Factors printed with seven figures."""


def checks() -> Iterator[PublishedCheck]:
    """Give a check for each factor."""
    for spelling, kind, printed, unit in EXACT:
        slack = _EXACT * float(printed)
        yield _check(spelling, kind, printed, unit, slack, "exact: the last bits of a float")
    for spelling, kind, printed, unit in PRINTED:
        # pint's own last bits, where a printed figure ends in an exact half
        slack = half_last_digit(printed) * 1.0001
        yield _check(spelling, kind, printed, unit, slack, "half the last digit printed")


def _check(
    spelling: str, kind: Kind, printed: str, unit: str, tolerance: float, because: str
) -> PublishedCheck:
    return PublishedCheck(
        subject="Units of measure",
        source=SOURCE,
        place=_PLACE,
        what=f"1 {spelling} as {kind}",
        printed=printed,
        published=float(printed),
        unit=unit,
        ours=partial(to_si, 1.0, spelling, kind),
        tolerance=tolerance,
        because=because,
        trust=Trust.READ,
    )
