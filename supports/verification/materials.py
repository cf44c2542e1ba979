"""Thermal growth and moduli of ASME Section II Part D, and a published lecture."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from supports.calc.pipe_properties import growth
from supports.calc.tables import mean_expansion, modulus
from supports.units import Kind, from_si, to_si
from supports.verification.check import PublishedCheck, Trust

SOURCE = "ASME Section II Part D"
TOTALS = (
    *(("carbon steel", *row) for row in (
        (200, "1.0"), (300, "1.9"), (400, "2.8"), (500, "3.7"), (600, "4.7"), (700, "5.7"),
        (800, "6.8"), (900, "7.9"), (1000, "9.0"),
    )),
    *(("9Cr-1Mo steel", *row) for row in (
        (200, "0.9"), (300, "1.7"), (400, "2.5"), (500, "3.3"), (600, "4.1"), (700, "5.0"),
    )),
)  # fmt: skip
"""Material, temperature [°F], total growth from 70 °F [in per 100 ft]: column C of Table TE-1."""
COEFFICIENTS = (
    (20, "11.5"), (100, "12.1"), (200, "12.7"), (300, "13.3"), (400, "13.8"), (500, "14.4"),
)  # fmt: skip
"""Temperature [°C], mean coefficient of carbon steel [1e-6 per K], metric edition."""
MODULI = (
    (20, "202"), (100, "198"), (200, "192"), (300, "185"), (400, "171"), (500, "151"), (550, "137"),
)  # fmt: skip
"""Temperature [°C], modulus of carbon steel [GPa], metric edition."""
MODULI_AUSTENITIC = (
    (500, "25.8"), (600, "25.3"), (700, "24.8"), (800, "24.1"), (900, "23.5"), (1000, "22.8"),
)  # fmt: skip
"""Temperature [°F], modulus of austenitic steel [1e6 psi], customary edition."""


def checks() -> Iterator[PublishedCheck]:
    """Give the checks of every row."""
    for material, fahrenheit, printed in TOTALS:
        yield PublishedCheck(
            "Materials", f"{SOURCE} (2001)", "Table TE-1, column C",
            f"{material}: growth of 100 ft, 70 to {fahrenheit} °F", printed, float(printed), "in",
            partial(_growth, material, fahrenheit), 0.05 + 0.05e-6 * (fahrenheit - 70) * 1200,
            "half a digit of column C, and of column B over the range", Trust.READ,
        )  # fmt: skip
    yield PublishedCheck(
        "Materials", "A published lecture on pipe stress", "restrained pipe",
        "10 ft at 6.5e-6 per °F, 70 to 250 °F: growth", "0.14", 0.14, "in", _lecture, 0.005,
        "half the last digit", Trust.READ,
    )  # fmt: skip
    for celsius, printed in COEFFICIENTS:
        yield PublishedCheck(
            "Materials", SOURCE, "Table TE-1, metric edition",
            f"carbon steel: mean coefficient to {celsius} °C", printed, float(printed), "1e-6/K",
            partial(_coefficient, celsius), 0.14, "both columns are rounded", Trust.MEMORY,
        )  # fmt: skip
    for celsius, printed in MODULI:
        yield PublishedCheck(
            "Materials", SOURCE, "Table TM-1, metric edition",
            f"carbon steel: modulus at {celsius} °C", printed, float(printed), "GPa",
            partial(_modulus, celsius), 0.01 * float(printed),
            "1 %: the customary table differs by up to 0.7 %", Trust.MEMORY,
        )  # fmt: skip
    for fahrenheit, printed in MODULI_AUSTENITIC:
        yield PublishedCheck(
            "Materials", SOURCE, "Table TM-1, customary edition",
            f"austenitic steel: modulus at {fahrenheit} °F", printed, float(printed), "1e6 psi",
            partial(_austenitic, fahrenheit), 0.01 * float(printed),
            "1 %: the shipped metric values are rounded to 1 GPa", Trust.READ,
        )  # fmt: skip


def _growth(material: str, fahrenheit: int) -> float:
    alpha = mean_expansion(material, to_si(float(fahrenheit), "°F", Kind.TEMPERATURE)).value
    warming = to_si(fahrenheit - 70.0, "°F", Kind.TEMPERATURE_DIFFERENCE)
    total = growth(alpha, to_si(100.0, "ft", Kind.LENGTH), warming)
    return from_si(float(total), "in", Kind.LENGTH)


def _lecture() -> float:
    total = growth(
        to_si(6.5, "1e-6/°F", Kind.EXPANSION),
        to_si(10.0, "ft", Kind.LENGTH),
        to_si(180.0, "°F", Kind.TEMPERATURE_DIFFERENCE),
    )
    return from_si(float(total), "in", Kind.LENGTH)


def _coefficient(celsius: int) -> float:
    found = mean_expansion("carbon steel", to_si(float(celsius), "°C", Kind.TEMPERATURE))
    return found.value * 1e6


def _modulus(celsius: int) -> float:
    found = modulus("carbon steel", to_si(float(celsius), "°C", Kind.TEMPERATURE))
    return found.value / 1e9


def _austenitic(fahrenheit: int) -> float:
    found = modulus("austenitic steel", to_si(float(fahrenheit), "°F", Kind.TEMPERATURE))
    return from_si(found.value, "ksi", Kind.STRESS) / 1e3
