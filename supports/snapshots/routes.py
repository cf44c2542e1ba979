"""The route of a line: nodes, elements and ends."""

from __future__ import annotations

from dataclasses import dataclass

from supports.findings import Place
from supports.snapshots.lines import LineView, NozzleLimitView
from supports.snapshots.supports import SupportView
from supports.vocabulary import EndKind, RoutePiece

NOWHERE = Place()
"""The place of a row that came from no sheet."""


@dataclass(frozen=True, slots=True)
class RouteNodeView:
    """A node of a line's route, in plant coordinates [m]."""

    node: str
    east: float | None
    north: float | None
    elevation: float | None
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class RouteElementView:
    """A piece of a line's route: lengths [m], mass [kg]."""

    from_node: str
    to_node: str
    piece: RoutePiece
    outside_diameter: float | None = None
    wall: float | None = None
    bend_radius: float | None = None
    mass: float | None = None
    centre: tuple[float, float, float] = (0.0, 0.0, 0.0)
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class RouteEndView:
    """An end of a line: stiffness [N/m], [N·m/rad], rigid where None; movement [m]."""

    node: str
    end_kind: EndKind
    nozzle: str = ""
    stiffness: float | None = None
    rotational_stiffness: float | None = None
    movement: tuple[float, float, float] = (0.0, 0.0, 0.0)
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class RouteView:
    """A line with its route in space, and all that holds it."""

    line: LineView
    material: str
    insulation_thickness: float | None
    insulation_density: float | None
    cladding_mass_per_length: float | None
    content_density: float | None
    insulation: str = ""
    """In words; 'none' tells that there is none, a blank tells nothing."""
    nodes: tuple[RouteNodeView, ...] = ()
    elements: tuple[RouteElementView, ...] = ()
    ends: tuple[RouteEndView, ...] = ()
    supports: tuple[SupportView, ...] = ()
    nozzles: tuple[NozzleLimitView, ...] = ()
