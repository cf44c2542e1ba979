"""Unit factors against NIST Special Publication 811 (2008 edition), appendix B.8.

Digits are as printed there, seven figures or exact (printed in bold). The tolerance is half a unit
of the last printed digit; exact factors must agree to the last bits of a float. The ton-forces of
the long ton and the tonne are not in the table: they are the printed mass times standard gravity.
"""

from __future__ import annotations

import math

import pytest

from supports.units import STANDARD_GRAVITY, Kind, from_si, to_si, unit

EXACT = [
    ("kgf", Kind.LOAD, 9.80665),
    ("kp", Kind.LOAD, 9.80665),
    ("daN", Kind.LOAD, 10.0),
    ("kN", Kind.LOAD, 1e3),
    ("tonne-force", Kind.LOAD, 9806.65),
    ("in", Kind.LENGTH, 2.54e-2),
    ("ft", Kind.LENGTH, 3.048e-1),
    ("tonne", Kind.MASS, 1e3),
    ("lb", Kind.MASS, 0.45359237),
    ("in²", Kind.AREA, 6.4516e-4),
    ("bar", Kind.STRESS, 1e5),
    ("kgf·m", Kind.MOMENT, 9.80665),
    ("kgf/mm", Kind.RATE, 9806.65),
    ("kgf/cm", Kind.RATE, 980.665),
    ("g/cm³", Kind.DENSITY, 1e3),
    ("%", Kind.FRACTION, 0.01),
]

PRINTED = [
    ("lbf", Kind.LOAD, "4.448222E+00"),
    ("kip", Kind.LOAD, "4.448222E+03"),
    ("short ton-force", Kind.LOAD, "8.896443E+03"),
    ("lbf/in", Kind.RATE, "1.751268E+02"),
    ("lbf·ft", Kind.MOMENT, "1.355818E+00"),
    ("lbf·in", Kind.MOMENT, "1.129848E-01"),
    ("psi", Kind.STRESS, "6.894757E+03"),
    ("ksi", Kind.STRESS, "6.894757E+06"),
    ("lb", Kind.MASS, "4.535924E-01"),
    ("lb/ft", Kind.MASS_PER_LENGTH, "1.488164E+00"),
    ("lb/ft³", Kind.DENSITY, "1.601846E+01"),
    ("in³", Kind.SECTION_MODULUS, "1.638706E-05"),
    ("in⁴", Kind.SECOND_MOMENT, "4.162314E-07"),
    ("°", Kind.ANGLE, "1.745329E-02"),
    ("°F", Kind.TEMPERATURE_DIFFERENCE, "5.555556E-01"),
]


@pytest.mark.parametrize(("spelling", "kind", "factor"), EXACT)
def test_exact_factors(spelling: str, kind: Kind, factor: float) -> None:
    assert to_si(1.0, spelling, kind) == pytest.approx(factor, rel=1e-15)


@pytest.mark.parametrize(("spelling", "kind", "printed"), PRINTED)
def test_seven_figure_factors(spelling: str, kind: Kind, printed: str) -> None:
    half_a_digit = 0.5e-6 * 10.0 ** int(printed.split("E")[1])
    # 1.0001: pint's own last bits, where a printed figure ends in an exact half
    assert to_si(1.0, spelling, kind) == pytest.approx(float(printed), abs=half_a_digit * 1.0001)


def test_long_ton_force_is_the_long_ton_times_gravity() -> None:
    # long ton 1.016047E+03 kg as printed; half its last digit times gravity
    assert to_si(1.0, "long ton-force", Kind.LOAD) == pytest.approx(
        1.016047e3 * 9.80665, abs=0.5e-3 * 9.80665
    )


def test_standard_gravity() -> None:
    assert pytest.approx(9.80665, rel=1e-15) == STANDARD_GRAVITY


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"), [(32.0, 0.0), (212.0, 100.0), (-40.0, -40.0), (70.0, 38.0 / 1.8)]
)
def test_fahrenheit_by_its_definition(fahrenheit: float, celsius: float) -> None:
    # K = (°F + 459.67)/1.8 and °C = (°F − 32)/1.8, exact
    kelvin = to_si(fahrenheit, "degF", Kind.TEMPERATURE)
    assert kelvin == pytest.approx((fahrenheit + 459.67) / 1.8, rel=1e-14)
    assert kelvin == pytest.approx(to_si(celsius, "degC", Kind.TEMPERATURE), rel=1e-14)


def test_a_difference_of_temperature_has_no_offset() -> None:
    assert to_si(180.0, "°F", Kind.TEMPERATURE_DIFFERENCE) == pytest.approx(100.0, rel=1e-14)
    assert to_si(100.0, "°C", Kind.TEMPERATURE_DIFFERENCE) == pytest.approx(100.0, rel=1e-15)


def test_expansion_coefficient_per_degree_fahrenheit() -> None:
    # a kelvin is 1.8 degrees Fahrenheit
    assert to_si(6.5, "1e-6/°F", Kind.EXPANSION) == pytest.approx(11.7e-6, rel=1e-14)


@pytest.mark.parametrize(("spelling", "kind", "_factor"), EXACT + PRINTED)
def test_there_and_back(spelling: str, kind: Kind, _factor: object) -> None:
    assert from_si(to_si(1234.5, spelling, kind), spelling, kind) == pytest.approx(
        1234.5, rel=1e-14
    )


def test_rotation_per_degree() -> None:
    assert unit("N·m/deg", Kind.ROTATIONAL_STIFFNESS).factor == pytest.approx(
        180.0 / math.pi, rel=1e-14
    )
