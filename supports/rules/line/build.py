"""From a route in the register to a line that can be calculated."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from supports.calc.line.line import Line
from supports.calc.line.parts import Bend, LumpedMass, Node, Part, Pipe, RigidPart, Vector
from supports.calc.line.restraints import Support
from supports.errors import CannotCalculate
from supports.rules.line.holding import end_of, held_by
from supports.rules.line.metal import INSTALLED, Metal, masses_of, metal_of, section_of, size_of
from supports.snapshots import NozzleLimitView, RouteElementView, RouteView, WeightItemView
from supports.vocabulary import RoutePiece

_STRAIGHT = {RoutePiece.PIPE, RoutePiece.REDUCER}
_AT_NODE = 1e-3
"""How near a place must be to a node to be that node [m]."""


@dataclass(frozen=True, slots=True)
class BuiltLine:
    """A line ready to be calculated, with what was assumed and what is missing."""

    line: Line
    metal: Metal
    tags_at: dict[str, str]
    """Node of each support by its tag."""
    distances: dict[str, float]
    """Distance along the route of each node [m]."""
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
    held = [
        (view, place.node, held_by(view, place.node, _along(place.node, route, at)))
        for view in route.supports
        for place in view.attachments
        if place.line == route.line.number and place.node in at
    ]
    placed = {view.tag for view, _, _ in held}
    nowhere = [f"{v.tag}: its node on the route" for v in route.supports if v.tag not in placed]
    supports: list[Support] = [h.support for _, _, h in held if h.support is not None]
    supports += [end_of(end, _limits_at(route, end.node)) for end in route.ends]
    number, masses = route.line.number, _masses(route)
    return BuiltLine(
        line=Line(number, nodes, parts, tuple(supports), masses, installed_at=INSTALLED),
        metal=metal,
        tags_at={view.tag: node for view, node, _ in held},
        distances=_distances(route, at),
        notes=(*_notes(route), *(h.note for _, _, h in held if h.note)),
        missing=(*nowhere, *(h.missing for _, _, h in held if h.missing)),
    )  # fmt: skip


def _nodes(route: RouteView) -> tuple[Node, ...]:
    unplaced = [n.node for n in route.nodes if None in (n.east, n.north, n.elevation)]
    if unplaced:
        raise CannotCalculate(
            f"nodes of line {route.line.number} have no place", found=", ".join(unplaced)
        )
    return tuple(
        Node(n.node, n.east or 0.0, n.north or 0.0, n.elevation or 0.0) for n in route.nodes
    )


_Places = dict[str, "np.typing.NDArray[np.float64]"]


def _part(element: RouteElementView, route: RouteView, metal: Metal, at: _Places) -> Part:
    name = f"{element.from_node}-{element.to_node}"
    if element.piece in _STRAIGHT:
        return Pipe(
            name, element.from_node, element.to_node,
            section_of(element, route, metal), masses_of(element, route, metal),
        )  # fmt: skip
    if element.piece is RoutePiece.BEND:
        return _bend(name, element, route, metal, at)
    return RigidPart(
        name, element.from_node, element.to_node, mass=_body(element), offset=element.centre,
        expansion=metal.expansion,
    )  # fmt: skip


def _body(element: RouteElementView) -> float:
    if element.mass is None:
        raise CannotCalculate(
            f"{element.piece} {element.from_node} to {element.to_node} has no mass",
            remedy="A blank is not a zero: give its mass",
        )
    return element.mass


def _bend(
    name: str, element: RouteElementView, route: RouteView, metal: Metal, at: _Places
) -> Bend:
    diameter, wall = size_of(element, route)
    return Bend(
        name, element.from_node, element.to_node, _corner(element, route, at),
        section_of(element, route, metal), masses_of(element, route, metal),
        wall=wall, mean_radius=(diameter - wall) / 2.0,
    )  # fmt: skip


def _corner(element: RouteElementView, route: RouteView, at: _Places) -> Vector:
    """Return where the tangents of a bend meet, from the straight piece before or behind it."""
    start, end = at[element.from_node], at[element.to_node]
    for node, here, there in (
        (element.from_node, start, end),
        (element.to_node, end, start),
    ):
        tangent = _straight_into(node, element, route, at)
        if tangent is not None:
            chord = there - here
            reach = float(chord @ chord) / (2.0 * float(tangent @ chord))
            corner = here + tangent * reach
            return (float(corner[0]), float(corner[1]), float(corner[2]))
    raise CannotCalculate(
        f"bend {element.from_node} to {element.to_node} has no straight piece beside it",
        where=f"line {route.line.number}",
    )


def _straight_into(
    node: str, bend: RouteElementView, route: RouteView, at: _Places
) -> np.typing.NDArray[np.float64] | None:
    """Return the unit vector by which a straight piece runs into a node of a bend."""
    for other in route.elements:
        if other is bend or other.piece is RoutePiece.BEND:
            continue
        ends = (other.from_node, other.to_node)
        if node in ends:
            far = ends[0] if ends[1] == node else ends[1]
            arrow: np.typing.NDArray[np.float64] = at[node] - at[far]
            return arrow / float(np.linalg.norm(arrow))
    return None


def _along(node: str, route: RouteView, at: _Places) -> Vector:
    """Return the direction of the pipe at a node."""
    for element in route.elements:
        if node in (element.from_node, element.to_node) and element.piece is not RoutePiece.BEND:
            arrow = at[element.to_node] - at[element.from_node]
            east, north, up = arrow / float(np.linalg.norm(arrow))
            return (float(east), float(north), float(up))
    return (1.0, 0.0, 0.0)


def _masses(route: RouteView) -> tuple[LumpedMass, ...]:
    """Return bodies that sit on pieces which bend: a reducer's mass besides its length of pipe."""
    return tuple(
        LumpedMass(f"{e.piece} {e.from_node}-{e.to_node}", e.to_node, e.mass, e.centre)
        for e in route.elements
        if e.piece in _STRAIGHT and e.mass
    )


def _limits_at(route: RouteView, node: str) -> NozzleLimitView | None:
    return next((n for n in route.nozzles if n.node == node), None)


def _distances(route: RouteView, at: _Places) -> dict[str, float]:
    """Return the distance of each node along the route, the pieces taken in their order [m]."""
    done: dict[str, float] = {}
    for element in route.elements:
        done.setdefault(element.from_node, 0.0)
        done[element.to_node] = done[element.from_node] + _length(element, at)
    return done


def _length(element: RouteElementView, at: _Places) -> float:
    chord = float(np.linalg.norm(at[element.to_node] - at[element.from_node]))
    if element.piece is not RoutePiece.BEND or not element.bend_radius:
        return chord
    half = min(1.0, chord / (2.0 * element.bend_radius))
    return 2.0 * element.bend_radius * float(np.arcsin(half))


def _notes(route: RouteView) -> Iterator[str]:
    yield "Modulus of the cold pipe; no friction at rests and guides; beam theory, elastic."
    if any(e.piece in {RoutePiece.VALVE, RoutePiece.FLANGE_PAIR} for e in route.elements):
        yield "Valves and flanges are taken as stiff; their contents and insulation are not added."
    if all(end.stiffness is None for end in route.ends):
        yield "Ends are taken as rigid and at rest."


def with_weights(
    built: BuiltLine, items: Sequence[WeightItemView]
) -> tuple[BuiltLine, tuple[LumpedMass, ...]]:
    """Return the line with a node at every place where weight is added, and the masses there.

    Raises
    ------
    CannotCalculate
        The place of an item along the line is not known, or lies off the line.
    """
    masses = []
    for number, item in enumerate(items, start=1):
        if item.along is None:
            raise CannotCalculate(f"'{item.description}' has no place along the line")
        built, node = _node_at(built, item.along)
        offset = (0.0, 0.0, item.above_axis or 0.0)
        masses.append(LumpedMass(f"{number} {item.description}", node, item.mass, offset))
    return built, tuple(masses)


def _node_at(built: BuiltLine, along: float) -> tuple[BuiltLine, str]:
    """Return a node at a distance along the route, splitting the pipe there if there is none."""
    for node, distance in built.distances.items():
        if abs(distance - along) <= _AT_NODE:
            return built, node
    for part in built.line.parts:
        first, last = built.distances[part.start], built.distances[part.end]
        if first < along < last:
            if isinstance(part, Pipe):
                return _split(built, part, along, (along - first) / (last - first))
            nearest = part.start if along - first < last - along else part.end
            return built, nearest
    raise CannotCalculate(
        f"{along:.3f} m lies off line {built.line.name}",
        expected=f"0 to {max(built.distances.values()):.3f} m",
    )


def _split(built: BuiltLine, part: Pipe, along: float, share: float) -> tuple[BuiltLine, str]:
    places = {node.name: node for node in built.line.nodes}
    start, end = places[part.start], places[part.end]
    name = f"at {along:.3f} m"
    middle = Node(
        name,
        start.x + share * (end.x - start.x),
        start.y + share * (end.y - start.y),
        start.z + share * (end.z - start.z),
    )
    halves = (
        replace(part, name=f"{part.name}a", end=name),
        replace(part, name=f"{part.name}b", start=name),
    )
    parts = tuple(half for p in built.line.parts for half in (halves if p is part else (p,)))
    line = replace(built.line, nodes=(*built.line.nodes, middle), parts=parts)
    return replace(built, line=line, distances={**built.distances, name: along}), name
