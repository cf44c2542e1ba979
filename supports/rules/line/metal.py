"""The pipe of a line: stiffness of its wall, mass per metre of all that it carries."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from supports.calc.line.parts import Masses, Section
from supports.calc.pipe_properties import insulation_mass, ring_area, second_moment
from supports.calc.tables import density, mean_expansion, modulus
from supports.errors import CannotCalculate
from supports.sentences import Sentence
from supports.snapshots import RouteElementView, RouteView

OPERATING, WATER = "operating", "test water"
"""Names of the contents cases."""

_BARE = {"none", "no", "bare"}
"""How people write that a pipe is not insulated."""

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
            Sentence("line {line} cannot be screened", line=route.line.number),
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
            Sentence(
                "piece {from_node} to {to_node} has no size",
                from_node=element.from_node,
                to_node=element.to_node,
            ),
            where=Sentence("line {line}", line=route.line.number),
            expected="outside diameter and wall, on the piece or on the line",
        )
    return diameter, wall


def masses_of(element: RouteElementView, route: RouteView, metal: Metal) -> Masses:
    """Return the mass per metre of an element.

    The register's figures hold for the line's own size; a piece of another size is worked out.
    """
    diameter, wall = size_of(element, route)
    line = route.line
    own_size = (diameter, wall) == (line.outside_diameter, line.wall)
    pipe = line.pipe_mass_per_length if own_size else None
    contents = {WATER: _bore(diameter, wall) * density("water").value}
    content = _content(diameter, wall, route)
    if content is not None:
        contents[OPERATING] = content
    return Masses(
        metal=ring_area(diameter, wall) * metal.density if pipe is None else pipe,
        cover=_cover(diameter, route, own_size=own_size) or 0.0,
        contents=contents,
    )


def mass_unknowns(route: RouteView) -> tuple[str, ...]:
    """Return what is missing to weigh a line: a blank is not a zero."""
    line = route.line
    facts = {
        "content, by mass per metre or density": line.content_mass_per_length
        if line.content_mass_per_length is not None
        else route.content_density,
        "insulation, by mass per metre or by thickness and density ('none' if there is none)":
        _insulation(line.outside_diameter or 0.0, route, own_size=True),
    }  # fmt: skip
    return tuple(name for name, value in facts.items() if value is None)


def _bore(diameter: float, wall: float) -> float:
    """Return the area of the bore [m²]."""
    return (diameter - 2.0 * wall) ** 2 * pi / 4.0


def _content(diameter: float, wall: float, route: RouteView) -> float | None:
    """Return the content [kg/m]: of the line's bore as given, else from its density."""
    line = route.line
    given = line.content_mass_per_length
    if given is not None and line.outside_diameter and line.wall:
        return given * _bore(diameter, wall) / _bore(line.outside_diameter, line.wall)
    if given is not None:
        return given
    packed = route.content_density
    return None if packed is None else _bore(diameter, wall) * packed


def _cover(diameter: float, route: RouteView, *, own_size: bool) -> float | None:
    """Return insulation with cladding [kg/m]; None where the insulation is not known."""
    insulation = _insulation(diameter, route, own_size=own_size)
    return None if insulation is None else insulation + (route.cladding_mass_per_length or 0.0)


def _insulation(diameter: float, route: RouteView, *, own_size: bool) -> float | None:
    if route.insulation.strip().lower() in _BARE:
        return 0.0
    thickness, packed = route.insulation_thickness, route.insulation_density
    worked_out = None
    if thickness is not None and (packed is not None or thickness == 0.0):
        worked_out = insulation_mass(diameter, thickness, packed or 0.0)
    given = route.line.insulation_mass_per_length
    if given is None or (not own_size and worked_out is not None):
        return worked_out
    return given
