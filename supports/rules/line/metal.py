"""The pipe of a line: stiffness of its wall, mass per metre of all that it carries."""

from __future__ import annotations

from dataclasses import dataclass

from supports.calc.line.parts import Masses, Section
from supports.calc.pipe_properties import insulation_mass, ring_area, second_moment
from supports.calc.tables import density, mean_expansion, modulus
from supports.errors import CannotCalculate
from supports.snapshots import RouteElementView, RouteView

OPERATING, WATER = "operating", "test water"
"""Names of the contents cases."""

INSTALLED = 293.15
"""Temperature at which lines are taken to be fitted [K]; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Metal:
    """Material figures of a line: modulus when fitted [Pa], expansion [1/K], density [kg/m³]."""

    modulus: float
    expansion: float
    density: float
    source: str


def metal_of(route: RouteView) -> Metal:
    """Return the material figures of a line.

    The modulus is that of the cold pipe, which gives the larger nozzle loads (common practice).

    Raises
    ------
    CannotCalculate
        Material or operating temperature is not known, or outside the tables.
    """
    hot = route.line.operating_temperature
    if not route.material or hot is None:
        raise CannotCalculate(
            f"line {route.line.number} cannot be screened",
            found="material or operating temperature not known",
            remedy="Bring them in with the sheet 'Lines'",
        )
    elastic = modulus(route.material, INSTALLED)
    growth = mean_expansion(route.material, hot)
    return Metal(
        elastic.value,
        growth.value,
        density(route.material).value,
        f"{elastic.source}; {growth.source}",
    )


def section_of(element: RouteElementView, route: RouteView, metal: Metal) -> Section:
    """Return the stiffness of an element's wall; size from the element, else from the line."""
    diameter, wall = size_of(element, route)
    return Section(
        area=ring_area(diameter, wall),
        second_moment=second_moment(diameter, wall),
        modulus=metal.modulus,
        expansion=metal.expansion,
    )


def size_of(element: RouteElementView, route: RouteView) -> tuple[float, float]:
    """Return outside diameter and wall of an element [m].

    Raises
    ------
    CannotCalculate
        Neither the element nor the line gives them.
    """
    diameter = element.outside_diameter or route.line.outside_diameter
    wall = element.wall or route.line.wall
    if not diameter or not wall:
        raise CannotCalculate(
            f"piece {element.from_node} to {element.to_node} has no size",
            where=f"line {route.line.number}",
            expected="outside diameter and wall, on the piece or on the line",
        )
    return diameter, wall


def masses_of(element: RouteElementView, route: RouteView, metal: Metal) -> Masses:
    """Return the mass per metre of an element: the register's figures, else from sizes."""
    diameter, wall = size_of(element, route)
    bore = (diameter - 2.0 * wall) ** 2 * 0.7853981633974483
    line = route.line
    pipe = line.pipe_mass_per_length or ring_area(diameter, wall) * metal.density
    content = line.content_mass_per_length
    if content is None and route.content_density is not None:
        content = bore * route.content_density
    contents = {WATER: bore * density("water").value}
    if content is not None:
        contents[OPERATING] = content
    return Masses(metal=pipe, cover=_cover(diameter, route), contents=contents)


def _cover(diameter: float, route: RouteView) -> float:
    """Return insulation with cladding [kg/m]."""
    insulation = route.line.insulation_mass_per_length
    thickness, packed = route.insulation_thickness, route.insulation_density
    if insulation is None and thickness is not None and packed is not None:
        insulation = insulation_mass(diameter, thickness, packed)
    return (insulation or 0.0) + (route.cladding_mass_per_length or 0.0)
