"""Nodes of a line from lengths and directions, from a starting point on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from supports.calc.line.parts import NOWHERE, Node, Vector
from supports.errors import BadInput
from supports.findings import Place

COMPASS: dict[str, Vector] = {
    "east": (1.0, 0.0, 0.0),
    "west": (-1.0, 0.0, 0.0),
    "north": (0.0, 1.0, 0.0),
    "south": (0.0, -1.0, 0.0),
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
}
"""Directions by word: x is east, y is north, z is up."""


@dataclass(frozen=True, slots=True)
class Leg:
    """A step from the node before: `length` [m] along `direction` (any size, or a word)."""

    node: str
    length: float
    direction: Vector | str
    place: Place = NOWHERE


def nodes_along(start: Node, legs: Sequence[Leg]) -> tuple[Node, ...]:
    """Return `start` and one node for each leg.

    x_i = x_(i−1) + length × direction / |direction|.

    Parameters
    ----------
    start
        First node, coordinates [m].
    legs
        Steps with lengths [m].

    Returns
    -------
    tuple of Node
        Coordinates [m].

    Raises
    ------
    BadInput
        A direction is no direction.

    Source: vector addition.
    """
    out = [start]
    for leg in legs:
        last = out[-1]
        x, y, z = _unit(leg)
        step = leg.length
        out.append(
            Node(leg.node, last.x + step * x, last.y + step * y, last.z + step * z, leg.place)
        )
    return tuple(out)


def tangent_points(before: Node, corner: Node, after: Node, radius: float) -> tuple[Vector, Vector]:
    """Return where a bend of `radius` [m] leaves the leg before and joins the leg after its corner.

    Tangent length = R tan(angle / 2).

    Parameters
    ----------
    radius
        Bend radius [m].

    Returns
    -------
    tuple of Vector
        Start and end of the bend [m].

    Raises
    ------
    BadInput
        The bend does not fit between its neighbours, or there is no corner.

    Source: geometry of the circle.
    """
    a, b, c = (np.array([n.x, n.y, n.z]) for n in (before, corner, after))
    back, ahead = a - b, c - b
    reach_back, reach_ahead = float(np.linalg.norm(back)), float(np.linalg.norm(ahead))
    if not reach_back or not reach_ahead:
        raise BadInput("a bend needs three different points", where=f"node {corner.name}")
    first, last = -back / reach_back, ahead / reach_ahead
    angle = float(np.arctan2(np.linalg.norm(np.cross(first, last)), first @ last))
    tangent = radius * float(np.tan(angle / 2.0))
    if not 0.0 < tangent <= min(reach_back, reach_ahead) * (1.0 + 1e-9):
        raise BadInput(
            "the bend does not fit between its neighbours",
            where=f"node {corner.name}",
            found=f"a tangent length of {tangent:.3f} m",
            expected=f"more than 0 and no more than {min(reach_back, reach_ahead):.3f} m",
        )
    return _vector(b - tangent * first), _vector(b + tangent * last)


def _vector(values: np.ndarray[tuple[int], np.dtype[np.float64]]) -> Vector:
    return (float(values[0]), float(values[1]), float(values[2]))


def _unit(leg: Leg) -> Vector:
    given = COMPASS.get(leg.direction.lower()) if isinstance(leg.direction, str) else leg.direction
    size = sum(part * part for part in given) ** 0.5 if given else 0.0
    if not given or not size:
        raise BadInput(
            "a direction is a word of the compass, up, down, or three numbers not all zero",
            where=f"{leg.place or ''} node {leg.node}".strip(),
            found=str(leg.direction),
            expected=", ".join(COMPASS),
        )
    return (given[0] / size, given[1] / size, given[2] / size)
