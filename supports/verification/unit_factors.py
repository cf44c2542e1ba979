"""The factor of every unit that is taken, held against pint, an independent library of units."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from supports.units import Kind, unit
from supports.verification.check import PublishedCheck, Trust

SOURCE = "pint, a library of units"
_ROUNDED = 1e-15
"""Both are rounded to floats once or twice on the way."""

BY_PINT = (
    (Kind.LOAD, "N", "newton"),
    (Kind.LOAD, "kN", "kilonewton"),
    (Kind.LOAD, "MN", "meganewton"),
    (Kind.LOAD, "daN", "decanewton"),
    (Kind.LOAD, "kgf", "kilogram_force"),
    (Kind.LOAD, "lbf", "pound_force"),
    (Kind.LOAD, "kip", "kip"),
    (Kind.LOAD, "tonne-force", "metric_ton * standard_gravity"),
    (Kind.LOAD, "short ton-force", "force_ton"),
    (Kind.LOAD, "long ton-force", "long_ton * standard_gravity"),
    (Kind.LENGTH, "m", "meter"),
    (Kind.LENGTH, "mm", "millimeter"),
    (Kind.LENGTH, "cm", "centimeter"),
    (Kind.LENGTH, "in", "inch"),
    (Kind.LENGTH, "ft", "foot"),
    (Kind.MASS, "kg", "kilogram"),
    (Kind.MASS, "g", "gram"),
    (Kind.MASS, "lb", "pound"),
    (Kind.MASS, "tonne", "metric_ton"),
    (Kind.RATE, "N/m", "newton / meter"),
    (Kind.RATE, "N/mm", "newton / millimeter"),
    (Kind.RATE, "kN/m", "kilonewton / meter"),
    (Kind.RATE, "kN/mm", "kilonewton / millimeter"),
    (Kind.RATE, "daN/mm", "decanewton / millimeter"),
    (Kind.RATE, "daN/cm", "decanewton / centimeter"),
    (Kind.RATE, "kgf/mm", "kilogram_force / millimeter"),
    (Kind.RATE, "kgf/cm", "kilogram_force / centimeter"),
    (Kind.RATE, "lbf/in", "pound_force / inch"),
    (Kind.LOAD_PER_TURN, "N/turn", "newton"),
    (Kind.LOAD_PER_TURN, "kN/turn", "kilonewton"),
    (Kind.LOAD_PER_TURN, "daN/turn", "decanewton"),
    (Kind.LOAD_PER_TURN, "kgf/turn", "kilogram_force"),
    (Kind.LOAD_PER_TURN, "lbf/turn", "pound_force"),
    (Kind.MOMENT, "N·m", "newton * meter"),
    (Kind.MOMENT, "kN·m", "kilonewton * meter"),
    (Kind.MOMENT, "lbf·ft", "pound_force * foot"),
    (Kind.MOMENT, "lbf·in", "pound_force * inch"),
    (Kind.MOMENT, "kgf·m", "kilogram_force * meter"),
    (Kind.ROTATIONAL_STIFFNESS, "N·m/rad", "newton * meter / radian"),
    (Kind.ROTATIONAL_STIFFNESS, "kN·m/rad", "kilonewton * meter / radian"),
    (Kind.ROTATIONAL_STIFFNESS, "N·m/deg", "newton * meter / degree"),
    (Kind.ROTATIONAL_STIFFNESS, "lbf·in/deg", "pound_force * inch / degree"),
    (Kind.MASS_PER_LENGTH, "kg/m", "kilogram / meter"),
    (Kind.MASS_PER_LENGTH, "lb/ft", "pound / foot"),
    (Kind.DENSITY, "kg/m³", "kilogram / meter ** 3"),
    (Kind.DENSITY, "lb/ft³", "pound / foot ** 3"),
    (Kind.DENSITY, "g/cm³", "gram / centimeter ** 3"),
    (Kind.STRESS, "Pa", "pascal"),
    (Kind.STRESS, "kPa", "kilopascal"),
    (Kind.STRESS, "MPa", "megapascal"),
    (Kind.STRESS, "GPa", "gigapascal"),
    (Kind.STRESS, "bar", "bar"),
    (Kind.STRESS, "psi", "psi"),
    (Kind.STRESS, "ksi", "ksi"),
    (Kind.TEMPERATURE, "K", "kelvin"),
    (Kind.TEMPERATURE, "°C", "delta_degree_Celsius"),
    (Kind.TEMPERATURE, "°F", "delta_degree_Fahrenheit"),
    (Kind.TEMPERATURE_DIFFERENCE, "K", "kelvin"),
    (Kind.TEMPERATURE_DIFFERENCE, "°F", "delta_degree_Fahrenheit"),
    (Kind.EXPANSION, "1/K", "1 / kelvin"),
    (Kind.EXPANSION, "1e-6/K", "1e-6 / kelvin"),
    (Kind.EXPANSION, "1e-6/°F", "1e-6 / delta_degree_Fahrenheit"),
    (Kind.ANGLE, "rad", "radian"),
    (Kind.ANGLE, "°", "degree"),
    (Kind.FRACTION, "1", "dimensionless"),
    (Kind.FRACTION, "%", "0.01 * dimensionless"),
    (Kind.AREA, "m²", "meter ** 2"),
    (Kind.AREA, "mm²", "millimeter ** 2"),
    (Kind.AREA, "cm²", "centimeter ** 2"),
    (Kind.AREA, "in²", "inch ** 2"),
    (Kind.SECTION_MODULUS, "m³", "meter ** 3"),
    (Kind.SECTION_MODULUS, "cm³", "centimeter ** 3"),
    (Kind.SECTION_MODULUS, "in³", "inch ** 3"),
    (Kind.SECOND_MOMENT, "m⁴", "meter ** 4"),
    (Kind.SECOND_MOMENT, "cm⁴", "centimeter ** 4"),
    (Kind.SECOND_MOMENT, "in⁴", "inch ** 4"),
    (Kind.COUNT, "1", "dimensionless"),
)
"""What pint calls each unit; a temperature by its difference."""


def checks() -> Iterator[PublishedCheck]:
    """Give a check for each factor; pint reads its definitions now."""
    import pint

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry()
    for kind, symbol, name in BY_PINT:
        factor = float(registry.parse_expression(name).to_base_units().magnitude)
        yield PublishedCheck(
            subject="Units of measure",
            source=SOURCE,
            place=name,
            what=f"SI factor of {symbol} as {kind}",
            printed=f"{factor:.15g}",
            published=factor,
            unit="",
            ours=partial(_factor, symbol, kind),
            tolerance=_ROUNDED * factor,
            because="exact: the last bits of a float",
            trust=Trust.LIBRARY,
        )


def _factor(symbol: str, kind: Kind) -> float:
    return unit(symbol, kind).factor
