"""Thermal expansion against ASME Section II Part D, Table TE-1 (2001), and a published lecture.

Column B gives the mean coefficient, column C the total growth in inches per 100 ft from 70 °F. The
shipped table holds column B; column C, printed to 0.1 in, is the independent check. Half a digit of
C and half a digit of B (0.05e-6 per °F over the whole range) make the tolerance.
"""

from __future__ import annotations

import pytest

from supports.calc.pipe_properties import growth
from supports.calc.tables import mean_expansion, modulus
from supports.units import Kind, from_si, to_si

CARBON_C = [
    (200, 1.0), (300, 1.9), (400, 2.8), (500, 3.7), (600, 4.7), (700, 5.7), (800, 6.8), (900, 7.9),
    (1000, 9.0),
]  # fmt: skip
NINE_CHROME_C = [(200, 0.9), (300, 1.7), (400, 2.5), (500, 3.3), (600, 4.1), (700, 5.0)]
TOTALS = [("carbon steel", *row) for row in CARBON_C] + [
    ("9Cr-1Mo steel", *row) for row in NINE_CHROME_C
]


@pytest.mark.parametrize(("material", "fahrenheit", "inches"), TOTALS)
def test_total_growth_per_hundred_feet(material: str, fahrenheit: int, inches: float) -> None:
    alpha = mean_expansion(material, to_si(float(fahrenheit), "°F", Kind.TEMPERATURE)).value
    warming = to_si(fahrenheit - 70.0, "°F", Kind.TEMPERATURE_DIFFERENCE)
    total = growth(alpha, to_si(100.0, "ft", Kind.LENGTH), warming)
    tolerance = 0.05 + 0.05e-6 * (fahrenheit - 70) * 1200
    assert from_si(total, "in", Kind.LENGTH) == pytest.approx(inches, abs=tolerance)


@pytest.mark.parametrize(
    ("celsius", "per_kelvin"),
    [(20, 11.5), (100, 12.1), (200, 12.7), (300, 13.3), (400, 13.8), (500, 14.4)],
)
def test_metric_column_of_carbon_steel(celsius: int, per_kelvin: float) -> None:
    # Metric column from memory. Both columns are rounded (0.05e-6 per K and per °F): 0.14e-6 per K.
    alpha = mean_expansion("carbon steel", to_si(float(celsius), "°C", Kind.TEMPERATURE)).value
    assert alpha * 1e6 == pytest.approx(per_kelvin, abs=0.14)


def test_growth_of_a_restrained_pipe_in_a_published_lecture() -> None:
    # Pipe of 10 ft, 6.5e-6 per °F, 70 to 250 °F; printed 0.14 in. Half the last digit.
    total = growth(
        to_si(6.5, "1e-6/°F", Kind.EXPANSION),
        to_si(10.0, "ft", Kind.LENGTH),
        to_si(180.0, "°F", Kind.TEMPERATURE_DIFFERENCE),
    )
    assert from_si(total, "in", Kind.LENGTH) == pytest.approx(0.14, abs=0.005)


@pytest.mark.parametrize(
    ("celsius", "gigapascal"),
    [(20, 202), (100, 198), (200, 192), (300, 185), (400, 171), (500, 151), (550, 137)],
)
def test_modulus_of_carbon_steel_in_the_metric_edition(celsius: int, gigapascal: float) -> None:
    # Section II Part D metric edition, from memory; the customary table differs by up to 0.7 %.
    value = modulus("carbon steel", to_si(float(celsius), "°C", Kind.TEMPERATURE)).value
    assert value / 1e9 == pytest.approx(gigapascal, rel=0.01)


@pytest.mark.parametrize(
    ("fahrenheit", "msi"),
    [(500, 25.8), (600, 25.3), (700, 24.8), (800, 24.1), (900, 23.5), (1000, 22.8)],
)
def test_modulus_of_austenitic_steel_in_the_customary_edition(fahrenheit: int, msi: float) -> None:
    # Printed in 1e6 psi; the shipped metric values are from memory and rounded to 1 GPa: 1 %.
    value = modulus("austenitic steel", to_si(float(fahrenheit), "°F", Kind.TEMPERATURE)).value
    assert from_si(value, "ksi", Kind.STRESS) / 1e3 == pytest.approx(msi, rel=0.01)
