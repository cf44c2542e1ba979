"""Unit factors against NIST Special Publication 811 (2008 edition), appendix B.8.

The printed factors themselves are in `supports.verification.units_of_measure`. The ton-force
of the long ton is not in the table: it is the printed mass times standard gravity.
"""

from __future__ import annotations

import math

import pytest

from supports.units import STANDARD_GRAVITY, Kind, from_si, to_si, unit
from supports.verification.units_of_measure import EXACT, PRINTED


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


@pytest.mark.parametrize(("spelling", "kind"), [row[:2] for row in EXACT + PRINTED])
def test_there_and_back(spelling: str, kind: Kind) -> None:
    assert from_si(to_si(1234.5, spelling, kind), spelling, kind) == pytest.approx(
        1234.5, rel=1e-14
    )


def test_rotation_per_degree() -> None:
    assert unit("N·m/deg", Kind.ROTATIONAL_STIFFNESS).factor == pytest.approx(
        180.0 / math.pi, rel=1e-14
    )
