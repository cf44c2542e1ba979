"""From a route in the register to a line that can be calculated."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from supports.calc.line.line import Line
from supports.calc.line.parts import Bend, LumpedMass, Node, Part, Pipe, RigidPart
from supports.errors import CannotCalculate
from supports.rules.line.corners import Places, along_at, corner_of, distances_of
from supports.rules.line.ends import ends_of, nameless, without_doubles
from supports.rules.line.holding import Held, held_by
from supports.rules.line.metal import (
    INSTALLED,
    Metal,
    mass_unknowns,
    masses_of,
    metal_of,
    section_of,
    size_of,
)
from supports.sentences import Sentence, joined
from supports.snapshots import RouteElementView, RouteView, SupportView
from supports.vocabulary import EndKind, RoutePiece

STRAIGHT = {RoutePiece.PIPE, RoutePiece.REDUCER}
"""Pieces that bend like straight pipe."""
_BODIES = {RoutePiece.VALVE, RoutePiece.FLANGE_PAIR, RoutePiece.RIGID}


@dataclass(frozen=True, slots=True)
class BuiltLine:
    """A line ready to be calculated, with what was assumed and what is missing."""

    line: Line
    metal: Metal
    tags_at: dict[str, str]
    """Node of each support by its tag."""
    distances: dict[str, float]
    """Distance along the route of each node [m]."""
    nozzle_nodes: frozenset[str]
    """Nodes of the ends that are nozzles."""
    notes: tuple[str, ...]
    missing: tuple[str, ...]


def built_line(route: RouteView) -> BuiltLine:
    """Return the model of a line.

    Raises
    ------
    CannotCalculate
        A size, a coordinate or the material is not known.
    """
    metal, nodes = metal_of(route), _nodes(route)
    at = {node.name: np.array([node.x, node.y, node.z]) for node in nodes}
    parts = tuple(_part(e, route, metal, at) for e in route.elements)
    held = _held(route, at)
    pointed = [h.support for _, _, h in held if h.support is not None]
    supports, doubles = without_doubles(ends_of(route), pointed)
    placed = {view.tag for view, _, _ in held}
    nowhere = [f"{v.tag}: its node on the route" for v in route.supports if v.tag not in placed]
    number, masses = route.line.number, _masses(route)
    return BuiltLine(
        line=Line(number, nodes, parts, supports, masses, installed_at=INSTALLED),
        metal=metal,
        tags_at={view.tag: node for view, node, _ in held},
        distances=distances_of(route, at),
        nozzle_nodes=frozenset(e.node for e in route.ends if e.end_kind is EndKind.NOZZLE),
        notes=(*_notes(route), *doubles, *(note for _, _, h in held for note in h.notes)),
        missing=(*mass_unknowns(route), *nowhere, *(h.missing for _, _, h in held if h.missing)),
    )


def _held(route: RouteView, at: Places) -> list[tuple[SupportView, str, Held]]:
    return [
        (view, place.node, held_by(view, place, along_at(place.node, route, at)))
        for view in route.supports
        for place in view.attachments
        if place.line == route.line.number and place.node in at
    ]


def _nodes(route: RouteView) -> tuple[Node, ...]:
    unplaced = [n.node for n in route.nodes if None in (n.east, n.north, n.elevation)]
    if unplaced:
        raise CannotCalculate(
            Sentence("nodes of line {line} have no place", line=route.line.number),
            found=joined(unplaced, ", "),
        )
    return tuple(
        Node(n.node, n.east or 0.0, n.north or 0.0, n.elevation or 0.0, n.place)
        for n in route.nodes
    )


def _part(element: RouteElementView, route: RouteView, metal: Metal, at: Places) -> Part:
    name = f"{element.from_node}-{element.to_node}"
    if element.piece in STRAIGHT:
        return Pipe(
            name, element.from_node, element.to_node,
            section_of(element, route, metal), masses_of(element, route, metal),
            place=element.place,
        )  # fmt: skip
    if element.piece is RoutePiece.BEND:
        return _bend(name, element, route, metal, at)
    return RigidPart(
        name, element.from_node, element.to_node, mass=_body(element), offset=element.centre,
        expansion=metal.expansion, place=element.place,
    )  # fmt: skip


def _body(element: RouteElementView) -> float:
    if element.mass is None:
        raise CannotCalculate(
            Sentence(
                "{piece} {from_node} to {to_node} has no mass",
                piece=element.piece,
                from_node=element.from_node,
                to_node=element.to_node,
            ),
            where=str(element.place),
            remedy="A blank is not a zero: give its mass",
        )
    return element.mass


def _bend(name: str, element: RouteElementView, route: RouteView, metal: Metal, at: Places) -> Bend:
    diameter, wall = size_of(element, route)
    return Bend(
        name, element.from_node, element.to_node, corner_of(element, route, at),
        section_of(element, route, metal), masses_of(element, route, metal),
        wall=wall, mean_radius=(diameter - wall) / 2.0, place=element.place,
    )  # fmt: skip


def _masses(route: RouteView) -> tuple[LumpedMass, ...]:
    """Return bodies that sit on pieces which bend: a reducer's mass besides its length of pipe."""
    return tuple(
        LumpedMass(f"{e.piece} {e.from_node}-{e.to_node}", e.to_node, e.mass, e.centre)
        for e in route.elements
        if e.piece in STRAIGHT and e.mass
    )


def _notes(route: RouteView) -> Iterator[str]:
    yield "Modulus of the cold pipe; no friction at rests and guides; beam theory, elastic."
    yield "Springs hang from rigid steel; rods stay plumb."
    if any(e.piece in _BODIES for e in route.elements):
        yield "Valves and flanges are taken as stiff; their contents and insulation are not added."
    if all(end.stiffness is None for end in route.ends):
        yield "Ends are taken as rigid."
    if not any(any(end.movement) for end in route.ends):
        yield "Ends are taken as not moving when hot: no movement is on record."
    for limits in nameless(route):
        yield f"Nozzle {limits.nozzle}: its limits stand at no end of the route and are not used."
