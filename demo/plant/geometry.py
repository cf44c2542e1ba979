"""Nodes, elements and ends of the lines, for a line calculation."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from itertools import pairwise

from demo.plant.lines import PlantLine
from demo.plant.points import Point, points
from demo.plant.routes import Element, Vector, elements
from supports.units import Kind

Row = dict[str, float | str]

Headings = tuple[tuple[str, str, Kind | None], ...]
"""Field, heading and kind of quantity of each column; no kind where the column holds text."""

NODES: Headings = (
    ("line", "Line number", None),
    ("node", "Node", None),
    ("east", "East", Kind.LENGTH),
    ("north", "North", Kind.LENGTH),
    ("elevation", "Elevation", Kind.LENGTH),
)
ELEMENTS: Headings = (
    ("line", "Line number", None),
    ("begins", "From node", None),
    ("ends", "To node", None),
    ("piece", "Piece", None),
    ("outside_diameter", "Outside diameter", Kind.LENGTH),
    ("wall", "Wall", Kind.LENGTH),
    ("radius", "Bend radius", Kind.LENGTH),
    ("mass", "Mass", Kind.MASS),
    ("offset_east", "Centre offset east", Kind.LENGTH),
    ("offset_north", "Centre offset north", Kind.LENGTH),
    ("offset_up", "Centre offset up", Kind.LENGTH),
)
ENDS: Headings = (
    ("line", "Line number", None),
    ("node", "Node", None),
    ("held", "Anchor or nozzle", None),
    ("nozzle", "Nozzle", None),
    ("turning", "Rotational stiffness", Kind.ROTATIONAL_STIFFNESS),
    ("moved_east", "Movement east", Kind.LENGTH),
    ("moved_north", "Movement north", Kind.LENGTH),
    ("moved_up", "Movement up", Kind.LENGTH),
)


@cache
def elements_of(line: PlantLine) -> tuple[Element, ...]:
    """Return the elements of a line, cut at its supports."""
    return elements(line.way, line.fittings, (at for _, at in attachments(line)))


@cache
def attachments(line: PlantLine) -> tuple[tuple[Point, float], ...]:
    """Return the supports that hold a line and where along it [m], those shared included."""
    own = [(p, p.at) for p in points() if p.line is line]
    shared = [(p, p.also[1]) for p in points() if p.also and p.also[0] is line]
    return tuple(sorted((*own, *shared), key=lambda pair: pair[1]))


@cache
def nodes(line: PlantLine) -> Mapping[str, float]:
    """Return the nodes of a line by name, with their distance along it [m]."""
    cut = elements_of(line)
    stops = [cut[0].begin, *(element.end for element in cut)]
    return {str(10 * number): stop for number, stop in enumerate(stops, start=1)}


def node_at(line: PlantLine, distance: float) -> str:
    """Return the node at a distance along the line [m]."""
    return min(nodes(line).items(), key=lambda item: abs(item[1] - distance))[0]


def node_rows(line: PlantLine) -> Iterator[Row]:
    """Return where the nodes are."""
    for name, distance in nodes(line).items():
        east, north, up = line.way.point_at(distance)
        yield {
            "line": line.number, "node": name, "east": east, "north": north, "elevation": up,
        }  # fmt: skip


def element_rows(line: PlantLine) -> Iterator[Row]:
    """Return what lies between neighbouring nodes."""
    for element, (begins, ends) in zip(elements_of(line), pairwise(nodes(line)), strict=True):
        yield {
            "line": line.number,
            "begins": begins,
            "ends": ends,
            "piece": element.piece,
            "outside_diameter": line.pipe.outside_diameter,
            "wall": line.pipe.wall,
            **({"radius": line.way.radius} if element.piece == "bend" else {}),
            **_weighed(element),
        }


def _weighed(element: Element) -> Row:
    """Return mass and centre of a fitting; a fitting cut by a node gives each part its share."""
    if element.fitting is None:
        return {}
    share = (element.end - element.begin) / element.fitting.length
    offset: Vector = element.fitting.offset
    names = ("offset_east", "offset_north", "offset_up")
    return {
        "mass": element.fitting.mass * share,
        **dict(zip(names, offset, strict=True)),
    }


def end_rows(line: PlantLine) -> Iterator[Row]:
    """Return how both ends of a line are held: at a nozzle of a machine or vessel."""
    names = list(nodes(line))
    for name, end in zip((names[0], names[-1]), line.ends, strict=True):
        east, north, up = end.movement
        yield {
            "line": line.number, "node": name, "held": "nozzle", "nozzle": end.nozzle,
            "moved_east": east, "moved_north": north, "moved_up": up,
            **({} if end.turning is None else {"turning": end.turning}),
        }  # fmt: skip
    for point, at in attachments(line):
        if point.kind.value == "anchor":
            yield {"line": line.number, "node": node_at(line, at), "held": "anchor"}
