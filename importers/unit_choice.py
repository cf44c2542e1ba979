"""Which unit each column is written in: one set for metric plants, one for customary ones."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from importers.declared import Column, kind_of
from supports.units import Kind

UnitSet = Mapping[Kind | str, str]
"""Unit by kind of quantity; a field named takes precedence over its kind."""

METRIC: UnitSet = MappingProxyType(
    {
        Kind.LOAD: "kN",
        Kind.LENGTH: "mm",
        Kind.MASS: "kg",
        Kind.RATE: "N/mm",
        Kind.LOAD_PER_TURN: "kN/turn",
        Kind.MOMENT: "kN·m",
        Kind.ROTATIONAL_STIFFNESS: "kN·m/rad",
        Kind.MASS_PER_LENGTH: "kg/m",
        Kind.DENSITY: "kg/m³",
        Kind.STRESS: "bar",
        Kind.TEMPERATURE: "°C",
        Kind.ANGLE: "°",
        Kind.FRACTION: "%",
        Kind.COUNT: "-",
        "derating": "-",
        "share": "-",
    }
)

CUSTOMARY: UnitSet = MappingProxyType(
    {
        **METRIC,
        Kind.LOAD: "lbf",
        Kind.LENGTH: "in",
        Kind.MASS: "lb",
        Kind.RATE: "lbf/in",
        Kind.LOAD_PER_TURN: "lbf/turn",
        Kind.MOMENT: "lbf·ft",
        Kind.ROTATIONAL_STIFFNESS: "lbf·in/deg",
        Kind.MASS_PER_LENGTH: "lb/ft",
        Kind.DENSITY: "lb/ft³",
        Kind.STRESS: "psi",
        Kind.TEMPERATURE: "°F",
    }
)


def unit_for(column: Column, units: UnitSet) -> str:
    """Return the unit that a column is written in; '' for a column of no quantities."""
    kind = kind_of(column)
    return (units.get(column.field) or units[kind]) if kind else ""


def heading_with_unit(column: Column, units: UnitSet) -> str:
    """Return the heading as written, e.g. ``Rod length pin to pin [mm]``."""
    unit = unit_for(column, units)
    return f"{column.heading} [{unit}]" if unit else column.heading
