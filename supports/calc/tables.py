"""Tables shipped with the tool: each row names its source, each reader keeps that name.

A table is a default. A site that owns the standard replaces the file by the edition in force.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np

from supports.errors import CannotCalculate
from supports.sentences import Sentence
from supports.units import Kind, to_si

BEYOND = 2.0
"""How far outside a table's first and last row its end value still serves [K]: the customary
tables begin at 70 °F (21.1 °C), metric users at 20 °C."""


@dataclass(frozen=True, slots=True)
class TableValue:
    """A value in SI, the source of its rows, and whether a printed copy was read for them."""

    value: float
    source: str
    confirmed: bool


@cache
def rows(name: str) -> tuple[Mapping[str, str], ...]:
    """Return the rows of a shipped table as text.

    Parameters
    ----------
    name
        File name without its ending.

    Returns
    -------
    tuple of mappings
        One mapping from heading to text for each row, in the order of the file.

    Notes
    -----
    Source: each row's own `source` column.
    """
    text = files("supports.data").joinpath(f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def row(name: str, heading: str, wanted: str) -> Mapping[str, str]:
    """Return the one row in which a heading has the text wanted.

    Parameters
    ----------
    name
        File name without its ending.
    heading, wanted
        The column, and the text looked for in it.

    Returns
    -------
    mapping
        From heading to text.

    Raises
    ------
    CannotCalculate
        The table has no such row.

    Notes
    -----
    Source: each row's own `source` column.
    """
    for one in rows(name):
        if one[heading] == wanted:
            return one
    raise _absent(name, heading, wanted)


def _absent(name: str, heading: str, wanted: str) -> CannotCalculate:
    known = ", ".join(dict.fromkeys(one[heading] for one in rows(name)))
    return CannotCalculate(
        Sentence(
            "table {name} has no {heading} '{wanted}'", name=name, heading=heading, wanted=wanted
        ),
        expected=Sentence("one of {known}", known=known),
        remedy="Enter the value itself with its source",
    )


def mean_expansion(material: str, temperature: float) -> TableValue:
    """Return the mean coefficient of thermal expansion from about 20 °C to a temperature.

    Parameters
    ----------
    material
        Name in the table, such as 'carbon steel'.
    temperature
        Temperature of the pipe [K].

    Returns
    -------
    TableValue
        Mean coefficient α [1/K].

    Raises
    ------
    CannotCalculate
        Material or temperature outside the table.

    Notes
    -----
    Linear between rows. Source: ASME Section II Part D, Table TE-1; see the rows. The coefficient
    counts from 70 °F, which is 21.1 °C.
    """
    return _between("mean_expansion", material, temperature, Kind.EXPANSION)


def modulus(material: str, temperature: float) -> TableValue:
    """Return the modulus of elasticity at a temperature.

    Parameters
    ----------
    material
        Name in the table, such as 'carbon steel'.
    temperature
        Temperature of the pipe [K].

    Returns
    -------
    TableValue
        Modulus E [Pa].

    Raises
    ------
    CannotCalculate
        Material or temperature outside the table.

    Notes
    -----
    Linear between rows. Source: ASME Section II Part D; see the rows.
    """
    return _between("modulus", material, temperature, Kind.STRESS)


def density(material: str) -> TableValue:
    """Return the customary density of a material.

    Parameters
    ----------
    material
        Name in the table, such as 'water'.

    Returns
    -------
    TableValue
        Density [kg/m³].

    Raises
    ------
    CannotCalculate
        The table has no such material.

    Notes
    -----
    Source: see the row.
    """
    found = row("densities", "material", material)
    return TableValue(float(found["density_kg_m3"]), found["source"], found["confirmed"] == "yes")


def _between(name: str, material: str, temperature: float, kind: Kind) -> TableValue:
    points = [one for one in rows(name) if one["material"] == material]
    if not points:
        raise _absent(name, "material", material)
    at = [to_si(float(p["temperature"]), p["temperature_unit"], Kind.TEMPERATURE) for p in points]
    if not at[0] - BEYOND <= temperature <= at[-1] + BEYOND:
        raise CannotCalculate(
            Sentence(
                "table {name} does not reach to the temperature for {material}",
                name=name,
                material=material,
            ),
            found=f"{temperature:.1f} K",
            expected=Sentence("{low} to {high} K", low=f"{at[0]:.1f}", high=f"{at[-1]:.1f}"),
            remedy="Enter the value itself with its source",
        )
    values = [to_si(float(p["value"]), p["value_unit"], kind) for p in points]
    return _with_sources(
        float(np.interp(temperature, at, values)), _around(points, at, temperature)
    )


def _around(
    points: Sequence[Mapping[str, str]], at: Sequence[float], temperature: float
) -> list[Mapping[str, str]]:
    """Return the one or two rows that a value between them rests on."""
    above = min(int(np.searchsorted(at, temperature - 1e-6)), len(at) - 1)
    exact = abs(at[above] - temperature) < 1e-6 or above == 0
    return [points[above]] if exact else [points[above - 1], points[above]]


def _with_sources(value: float, used: Sequence[Mapping[str, str]]) -> TableValue:
    sources = "; ".join(dict.fromkeys(one["source"] for one in used))
    return TableValue(value, sources, all(one["confirmed"] == "yes" for one in used))
