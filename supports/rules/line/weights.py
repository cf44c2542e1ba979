"""What a change adds to a line: a node at each place, the pipe split there if need be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from supports.calc.line.parts import LumpedMass, Node, Pipe, Vector
from supports.errors import CannotCalculate
from supports.rules.line.build import BuiltLine
from supports.rules.line.holding import across
from supports.sentences import Sentence
from supports.snapshots import WeightItemView

_AT_NODE = 1e-3
"""How near a place must be to a node to be that node [m]."""


def with_weights(
    built: BuiltLine, items: Sequence[WeightItemView]
) -> tuple[BuiltLine, tuple[LumpedMass, ...]]:
    """Return the line with a node at every place where weight is added, and the masses there.

    A centre of gravity off the axis stands to the left of the run where its figure is positive.

    Raises
    ------
    CannotCalculate
        The place of an item along the line is not known, or lies off the line.
    """
    masses = []
    for number, item in enumerate(items, start=1):
        if item.along is None:
            raise CannotCalculate(
                Sentence(
                    "'{description}' has no place along the line", description=item.description
                ),
                remedy="Give its distance along in the sheet 'Weight items'",
            )
        built, node = node_at(built, item.along)
        offset = _offset(item, _run_at(built, node))
        masses.append(LumpedMass(f"{number} {item.description}", node, item.mass, offset))
    return built, tuple(masses)


def _offset(item: WeightItemView, along: Vector) -> Vector:
    east, north, _ = across(along)
    aside = item.off_axis or 0.0
    return (east * aside, north * aside, item.above_axis or 0.0)


def _run_at(built: BuiltLine, node: str) -> Vector:
    places = {n.name: n for n in built.line.nodes}
    part = next(p for p in built.line.parts if node in (p.start, p.end))
    start, end = places[part.start], places[part.end]
    return (end.x - start.x, end.y - start.y, end.z - start.z)


def node_at(built: BuiltLine, along: float) -> tuple[BuiltLine, str]:
    """Return a node at a distance along the route [m], splitting the pipe there if there is none.

    Inside a bend or a body it is the nearer end.

    Raises
    ------
    CannotCalculate
        The place lies off the line.
    """
    for node, distance in built.distances.items():
        if abs(distance - along) <= _AT_NODE:
            return built, node
    for part in built.line.parts:
        first, last = built.distances[part.start], built.distances[part.end]
        if first < along < last:
            if isinstance(part, Pipe):
                return _split(built, part, along, (along - first) / (last - first))
            nearer = part.start if along - first < last - along else part.end
            return built, nearer
    raise CannotCalculate(
        Sentence("{along} m lies off line {line}", along=f"{along:.3f}", line=built.line.name),
        expected=Sentence("0 to {most} m", most=f"{max(built.distances.values()):.3f}"),
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
