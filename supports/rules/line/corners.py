"""Where a route runs: corners of bends, directions at nodes, lengths along the pieces."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from supports.calc.line.parts import Vector
from supports.errors import CannotCalculate
from supports.sentences import Sentence
from supports.snapshots import RouteElementView, RouteView
from supports.vocabulary import RoutePiece

Point = npt.NDArray[np.float64]
Places = dict[str, Point]
"""Coordinates of each node [m]."""


def corner_of(bend: RouteElementView, route: RouteView, at: Places) -> Vector:
    """Return where the tangents of a bend meet, from the straight piece before or behind it.

    Raises
    ------
    CannotCalculate
        No straight piece stands beside the bend, or it runs away from it.
    """
    corners = [corner for corner in corners_of(bend, route, at) if corner is not None]
    if not corners:
        raise CannotCalculate(
            Sentence(
                "bend {from_node} to {to_node} has no straight piece beside it",
                from_node=bend.from_node,
                to_node=bend.to_node,
            ),
            where=Sentence("line {line}", line=route.line.number),
        )
    return _vector(corners[0])


def corners_of(bend: RouteElementView, route: RouteView, at: Places) -> tuple[Point | None, ...]:
    """Return the corner as seen from the piece before and from the piece behind."""
    start, end = at[bend.from_node], at[bend.to_node]
    return (
        _seen_from(straight_into(bend.from_node, bend, route, at), start, end),
        _seen_from(straight_into(bend.to_node, bend, route, at), end, start),
    )


def _seen_from(tangent: Point | None, here: Point, there: Point) -> Point | None:
    if tangent is None:
        return None
    chord = there - here
    ahead = float(tangent @ chord)
    if ahead <= 0.0:
        return None
    corner: Point = here + tangent * (float(chord @ chord) / (2.0 * ahead))
    return corner


def straight_into(node: str, bend: RouteElementView, route: RouteView, at: Places) -> Point | None:
    """Return the unit vector by which a straight piece runs into a node of a bend."""
    for other in route.elements:
        if other is bend or other.piece is RoutePiece.BEND:
            continue
        ends = (other.from_node, other.to_node)
        if node in ends:
            far = ends[0] if ends[1] == node else ends[1]
            return _unit(at[node] - at[far])
    return None


def along_at(node: str, route: RouteView, at: Places) -> Vector:
    """Return the direction of the pipe at a node."""
    for element in route.elements:
        if node in (element.from_node, element.to_node) and element.piece is not RoutePiece.BEND:
            return _vector(_unit(at[element.to_node] - at[element.from_node]))
    return (1.0, 0.0, 0.0)


def distances_of(route: RouteView, at: Places) -> dict[str, float]:
    """Return the distance of each node along the route, the pieces taken in their order [m]."""
    done: dict[str, float] = {}
    for element in route.elements:
        done.setdefault(element.from_node, 0.0)
        done[element.to_node] = done[element.from_node] + length_of(element, at)
    return done


def length_of(element: RouteElementView, at: Places) -> float:
    """Return the length of a piece along its axis [m]."""
    chord = float(np.linalg.norm(at[element.to_node] - at[element.from_node]))
    if element.piece is not RoutePiece.BEND or not element.bend_radius:
        return chord
    half = min(1.0, chord / (2.0 * element.bend_radius))
    return 2.0 * element.bend_radius * float(np.arcsin(half))


def _unit(arrow: Point) -> Point:
    out: Point = arrow / float(np.linalg.norm(arrow))
    return out


def _vector(point: Point) -> Vector:
    east, north, up = map(float, point)
    return (east, north, up)
