"""Faults in a line's route as findings with the rows they came from; nothing is assumed away."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator

import numpy as np

from supports.calc.line.checks import line_findings
from supports.errors import SupportsError
from supports.findings import Finding, Severity, any_forbids, cannot_judge
from supports.rules.line.build import STRAIGHT, BuiltLine, built_line
from supports.rules.line.corners import Places, corners_of
from supports.sentences import Sentence
from supports.snapshots import RouteElementView, RouteView
from supports.vocabulary import RoutePiece

_CORNERS_APART = 0.02
"""How far the corners of a bend, seen from before and from behind, may lie apart [m]; CP."""
_RADIUS_APART = 0.02
"""How far a bend may be from the radius given, as a share [1]; common practice, no source."""


def route_findings(route: RouteView) -> tuple[Finding, ...]:
    """Return every fault of a route, those first that keep it from being calculated."""
    found = [finding for check in _ROWS for finding in check(route)]
    if not any_forbids(found):
        found += [finding for check in _SHAPE for finding in check(route)]
    if any_forbids(found):
        return tuple(found)
    return (*found, *_of_the_model(route))


def _of_the_model(route: RouteView) -> tuple[Finding, ...]:
    try:
        built = built_line(route)
    except SupportsError as error:
        return (Finding("cannot-be-built", Severity.STOP, str(error), subject=route.line.number),)
    return (*_missing(built), *line_findings(built.line))


def _missing(built: BuiltLine) -> Iterator[Finding]:
    for words in built.missing:
        subject, colon, what = words.partition(": ")
        yield Finding(
            "cannot-be-screened",
            Severity.STOP,
            cannot_judge([what if colon else words]),
            remedy="Bring in what is missing",
            subject=subject if colon else built.line.name,
        )


def _line_facts(route: RouteView) -> Iterator[Finding]:
    facts = {
        "material": route.material,
        "operating temperature": route.line.operating_temperature,
    }
    for name, value in facts.items():
        if value is None or value == "":
            yield Finding(
                "line-fact-missing",
                Severity.STOP,
                cannot_judge([name]),
                remedy="Bring it in with the sheet 'Lines'",
                subject=route.line.number,
            )


def _node_rows(route: RouteView) -> Iterator[Finding]:
    for node in route.nodes:
        facts = {"east": node.east, "north": node.north, "elevation": node.elevation}
        absent = [name for name, value in facts.items() if value is None]
        if absent:
            yield Finding(
                "node-without-place",
                Severity.STOP,
                cannot_judge(absent),
                node.place,
                subject=Sentence("node {node}", node=node.node),
            )


def _element_rows(route: RouteView) -> Iterator[Finding]:
    known = {node.node for node in route.nodes}
    for element in route.elements:
        for node in (element.from_node, element.to_node):
            if node not in known:
                yield _piece(element, "node-unknown", "the piece ends at an unknown node", node)
        if element.from_node == element.to_node:
            yield _piece(element, "length-zero", "the piece ends where it begins")
        if element.piece not in {*STRAIGHT, RoutePiece.BEND} and element.mass is None:
            yield _piece(element, "body-without-mass", cannot_judge(["mass"]))
        yield from _size(element, route)


def _size(element: RouteElementView, route: RouteView) -> Iterator[Finding]:
    if element.piece not in {*STRAIGHT, RoutePiece.BEND}:
        return
    line = route.line
    if not (element.outside_diameter or line.outside_diameter) or not (element.wall or line.wall):
        yield _piece(element, "piece-without-size", cannot_judge(["diameter or wall"]))


def _end_rows(route: RouteView) -> Iterator[Finding]:
    known = {node.node for node in route.nodes}
    for end in route.ends:
        if end.node not in known:
            what = "the end stands at an unknown node"
            subject = Sentence("end {node}", node=end.node)
            yield Finding("node-unknown", Severity.STOP, what, end.place, subject=subject)
    if not route.ends:
        yield Finding(
            "line-without-ends",
            Severity.LOOK,
            "no anchor or nozzle is on record: nothing is said of loads on equipment",
            remedy="Bring in the sheet 'Line ends'",
            subject=route.line.number,
        )


def _zero_lengths(route: RouteView) -> Iterator[Finding]:
    at = _places(route)
    for element in route.elements:
        if not float(np.linalg.norm(at[element.to_node] - at[element.from_node])):
            yield _piece(element, "length-zero", "the piece has no length")


def _bends(route: RouteView) -> Iterator[Finding]:
    at = _places(route)
    for bend in route.elements:
        if bend.piece is not RoutePiece.BEND:
            continue
        corners = [corner for corner in corners_of(bend, route, at) if corner is not None]
        if not corners:
            yield _piece(bend, "bend-without-tangent", "no straight piece runs into the bend")
            continue
        apart = float(np.linalg.norm(corners[-1] - corners[0]))
        if apart > _CORNERS_APART:
            what = "the pieces before and behind the bend do not meet in one corner"
            found = Sentence("{length} apart", length=f"{apart * 1e3:.0f} mm")
            yield _piece(bend, "bend-askew", what, found, Severity.LOOK)
        yield from _radius(bend, float(np.linalg.norm(corners[0] - at[bend.from_node])), at)


def _radius(bend: RouteElementView, tangent: float, at: Places) -> Iterator[Finding]:
    half = float(np.linalg.norm(at[bend.to_node] - at[bend.from_node])) / 2.0
    cosine = min(1.0, half / tangent)
    radius = tangent * cosine / max((1.0 - cosine**2) ** 0.5, 1e-9)
    given = bend.bend_radius
    if given and abs(radius - given) > _RADIUS_APART * given:
        found = Sentence(
            "{radius} by its nodes, {given} given",
            radius=f"{radius:.3f} m", given=f"{given:.3f} m",
        )  # fmt: skip
        what = "the nodes of the bend do not fit its radius; the nodes are used"
        yield _piece(bend, "bend-radius-differs", what, found, Severity.LOOK)


def _doubles(route: RouteView) -> Iterator[Finding]:
    count = Counter(frozenset((e.from_node, e.to_node)) for e in route.elements)
    for element in route.elements:
        if count[frozenset((element.from_node, element.to_node))] > 1:
            yield _piece(element, "piece-twice", "two pieces join the same two nodes")


def _piece(
    element: RouteElementView, code: str, what: str, found: str = "",
    severity: Severity = Severity.STOP,
) -> Finding:  # fmt: skip
    name = Sentence(
        "{piece} {start} to {end}",
        piece=element.piece, start=element.from_node, end=element.to_node,
    )  # fmt: skip
    return Finding(code, severity, what, element.place, found, subject=name)


def _places(route: RouteView) -> Places:
    return {
        n.node: np.array([n.east or 0.0, n.north or 0.0, n.elevation or 0.0]) for n in route.nodes
    }


_Check = Callable[[RouteView], Iterator[Finding]]
_ROWS: tuple[_Check, ...] = (_line_facts, _node_rows, _element_rows, _end_rows, _doubles)
_SHAPE: tuple[_Check, ...] = (_zero_lengths, _bends)
