"""From plant coordinates to the paper: parallel projection with three axes 120° apart.

Long straight runs are drawn shorter, each axis by itself, so that runs which are level, upright or
in line stay so whatever way the line takes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from reports.drawings.boxes import around, segments_cross
from reports.drawings.primitives import Point
from reports.drawings.spacing import Spaced, capped

Vector = tuple[float, float, float]

_COS, _SIN = math.cos(math.pi / 6.0), 0.5
LONGEST, SHORTEST = 0.16, 0.022
"""Longest and shortest gap drawn, as shares of the line's extent along its three axes [1]."""


@dataclass(frozen=True, slots=True)
class View:
    """A way of looking: quarter turns about the vertical, shortened axes, scale and shift."""

    axes: tuple[Spaced, Spaced, Spaced]
    quarters: int
    scale: float
    shift: Point

    def at(self, place: Vector) -> Point:
        """Return where a place is on the paper [mm]."""
        east, north, up = (axis.at(value) for axis, value in zip(self.axes, place, strict=True))
        x, y = flat((east, north, up), self.quarters)
        return (self.shift[0] + self.scale * x, self.shift[1] + self.scale * y)

    def along(self, direction: Vector) -> Point:
        """Return a plant direction on the paper, of length 1."""
        x, y = flat(direction, self.quarters)
        size = math.hypot(x, y) or 1.0
        return (x / size, y / size)

    def cut_between(self, start: Vector, end: Vector) -> bool:
        """Return whether the way between two places is drawn shorter than it is."""
        return any(axis.cut_within(a, b) for axis, a, b in zip(self.axes, start, end, strict=True))


def flat(place: Vector, quarters: int) -> Point:
    """Project a place; north points up to the right at 0 quarters, y is down."""
    east, north, up = place
    for _ in range(quarters):
        east, north = -north, east
    return (_COS * (east + north), -(_SIN * (north - east) + up))


def best_view(
    nodes: dict[str, Vector], runs: Sequence[tuple[str, str]], room: tuple[float, float]
) -> View:
    """Return the view with the fewest pipes crossing, then the largest scale, that fits the room.

    Parameters
    ----------
    nodes
        Coordinates [m].
    runs
        Pairs of nodes joined by a piece.
    room
        Width and height on the paper [mm].
    """
    axes = _axes(nodes)
    views = [_fitted(nodes, axes, quarters, room) for quarters in range(4)]
    return min(views, key=lambda view: (_crossings(view, nodes, runs), -view.scale, view.quarters))


def _axes(nodes: dict[str, Vector]) -> tuple[Spaced, Spaced, Spaced]:
    columns = list(zip(*nodes.values(), strict=True))
    extent = sum(max(column) - min(column) for column in columns) or 1.0
    first, second, third = (
        capped(column, LONGEST * extent, SHORTEST * extent) for column in columns
    )
    return first, second, third


def _fitted(
    nodes: dict[str, Vector],
    axes: tuple[Spaced, Spaced, Spaced],
    quarters: int,
    room: tuple[float, float],
) -> View:
    raw = View(axes, quarters, 1.0, (0.0, 0.0))
    box = around([raw.at(place) for place in nodes.values()])
    wide, high = box.right - box.left, box.bottom - box.top
    scale = min(room[0] / wide if wide else math.inf, room[1] / high if high else math.inf)
    scale = scale if math.isfinite(scale) else 1.0
    left = (room[0] - scale * wide) / 2.0 - scale * box.left
    top = (room[1] - scale * high) / 2.0 - scale * box.top
    return View(axes, quarters, scale, (left, top))


def _crossings(view: View, nodes: dict[str, Vector], runs: Sequence[tuple[str, str]]) -> int:
    lines = [(view.at(nodes[a]), view.at(nodes[b])) for a, b in runs]
    return sum(segments_cross(*one, *other) for one, other in combinations(lines, 2))
