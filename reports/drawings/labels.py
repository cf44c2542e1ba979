"""Labels that do not collide: each goes to the nearest free room, with a leader to its point.

Greedy: the labels with the least room around them first; around its point each tries rings of
places, wider and wider, then the whole sheet. A label never lies on another one, on a symbol or
over the edge; lying over a pipe or crossing a leader costs, so it is done only at need.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from reports.drawings.boxes import LINE_HEIGHT, Box, segments_cross, text_width
from reports.drawings.primitives import (
    HAIR,
    Anchor,
    Circle,
    Fill,
    Item,
    Point,
    Shape,
    Stroke,
    Words,
    rectangle,
)

_RINGS = (3.0, 5.0, 7.5, 10.5, 14.0, 18.0, 23.0, 29.0, 36.0)
_DIRECTIONS = 16
_GRID = 6.0
_PAD = 0.6
_OVER_PIPE, _ACROSS_PIPE, _CROSSING = 60.0, 24.0, 14.0
"""What it costs to lie over a pipe, to be cut off from the point by one, to cross a leader [mm]."""
_TOUCHING = 3.4
"""Distance below which a label needs no leader [mm]."""


@dataclass(frozen=True, slots=True)
class Label:
    """Lines of words that belong to a point; the first line is printed bold.

    Parameters
    ----------
    lean
        Direction that it would rather stand in, as seen from its point.
    """

    at: Point
    lines: tuple[str, ...]
    size: float = 2.3
    lean: Point = (0.7, -0.7)

    @property
    def extent(self) -> Point:
        """Return width and height [mm]."""
        widths = [text_width(text, self.size, bold=n == 0) for n, text in enumerate(self.lines)]
        height = self.size * LINE_HEIGHT * len(self.lines)
        return (max(widths) + 2.0 * _PAD, height + _PAD)


@dataclass(frozen=True, slots=True)
class Placed:
    """A label with its room."""

    label: Label
    box: Box

    @property
    def tie(self) -> tuple[Point, Point]:
        """Return the straight way from the point to the label."""
        return (self.label.at, self.box.nearest(self.label.at))

    @property
    def leader(self) -> tuple[Point, Point] | None:
        """Return the line to draw between them; None where the label stands close by."""
        return self.tie if math.dist(*self.tie) > _TOUCHING else None

    def items(self) -> list[Item]:
        """Return what is drawn: white ground and words (leaders are drawn beneath all labels)."""
        box, label = self.box, self.label
        ground = Shape(rectangle(box.left, box.top, box.right, box.bottom), Fill.WHITE, 0.0)
        step = label.size * LINE_HEIGHT
        words: list[Item] = [
            Words(
                (box.left + _PAD, box.top + _PAD / 2.0 + step * (n + 0.5)),
                text,
                label.size,
                Anchor.START,
                bold=n == 0,
            )
            for n, text in enumerate(label.lines)
        ]
        return [ground, *words]


@dataclass(slots=True)
class Sheet:
    """What stands on the sheet already: boxes no label may touch, lines it should not cross."""

    area: Box
    taken: list[Box] = field(default_factory=list)
    lines: list[tuple[Point, Point]] = field(default_factory=list)
    leaders: list[tuple[Point, Point]] = field(default_factory=list)

    def place(self, labels: Sequence[Label]) -> tuple[list[Placed], list[Label]]:
        """Return the labels placed, and those that found no room."""
        placed: list[Placed] = []
        left_over: list[Label] = []
        for label in sorted(labels, key=self._room_around):
            found = self._best(label)
            if found is None:
                left_over.append(label)
                continue
            placed.append(found)
            self.taken.append(found.box)
            if found.leader:
                self.leaders.append(found.leader)
        return placed, left_over

    def _room_around(self, label: Label) -> float:
        """Return how far the nearest taken room is, so that the tightest labels go first."""
        return (
            sum(math.dist(box.nearest(label.at), label.at) < _RINGS[3] for box in self.taken) * -1
        )

    def _best(self, label: Label) -> Placed | None:
        near = self._cheapest(label, _near(label))
        if near is None or near[0] > _RINGS[-1]:
            far = self._cheapest(label, self._anywhere(label))
            near = min((one for one in (near, far) if one), key=lambda one: one[0], default=None)
        return near[1] if near else None

    def _cheapest(self, label: Label, boxes: Iterator[Box]) -> tuple[float, Placed] | None:
        best: tuple[float, Placed] | None = None
        for box in boxes:
            least = math.dist(box.nearest(label.at), label.at)
            if best is not None and least >= best[0]:
                continue
            if not self.area.holds(box) or any(box.overlaps(one) for one in self.taken):
                continue
            placed = Placed(label, box)
            cost = least + self._cost(placed)
            if best is None or cost < best[0]:
                best = (cost, placed)
        return best

    def _cost(self, placed: Placed) -> float:
        box, tie = placed.box, placed.tie
        over = sum(box.crossed_by(*line) for line in self.lines)
        across = sum(segments_cross(*tie, *line) for line in self.lines)
        crossing = 2.5 * sum(box.crossed_by(*line) for line in self.leaders)
        if placed.leader:
            crossing += sum(segments_cross(*tie, *line) for line in self.leaders)
            crossing += sum(_through(tie, one) for one in self.taken)
        cost = _OVER_PIPE * over + _ACROSS_PIPE * across + _CROSSING * crossing
        return cost + (placed.leader is not None) + _against(placed)

    def _anywhere(self, label: Label) -> Iterator[Box]:
        width, height = label.extent
        for row in range(int((self.area.bottom - self.area.top - height) / _GRID) + 1):
            for column in range(int((self.area.right - self.area.left - width) / _GRID) + 1):
                left, top = self.area.left + column * _GRID, self.area.top + row * _GRID
                yield Box(left, top, left + width, top + height)


def _near(label: Label) -> Iterator[Box]:
    width, height = label.extent
    for ring in _RINGS:
        for step in range(_DIRECTIONS):
            angle = 2.0 * math.pi * step / _DIRECTIONS
            x, y = math.cos(angle), math.sin(angle)
            middle_x = label.at[0] + x * ring + _sign(x) * width / 2.0
            middle_y = label.at[1] + y * ring + _sign(y) * height / 2.0
            left, top = middle_x - width / 2.0, middle_y - height / 2.0
            yield Box(left, top, left + width, top + height)


def _sign(value: float) -> float:
    return 0.0 if abs(value) < 0.1 else math.copysign(1.0, value)


def _against(placed: Placed) -> float:
    """Return a small cost for standing away from where the label leans to."""
    box, (x, y) = placed.box, placed.label.at
    away = ((box.left + box.right) / 2.0 - x, (box.top + box.bottom) / 2.0 - y)
    size = math.hypot(*away) or 1.0
    lean = placed.label.lean
    return 1.5 * (1.0 - (away[0] * lean[0] + away[1] * lean[1]) / size)


def _through(leader: tuple[Point, Point], box: Box) -> bool:
    """Return whether a leader runs through a box other than the symbol that it starts from."""
    return not _inside(leader[0], box.grown(0.5)) and box.crossed_by(*leader)


def _inside(point: Point, box: Box) -> bool:
    return box.left <= point[0] <= box.right and box.top <= point[1] <= box.bottom


def leader_items(placed: Sequence[Placed]) -> list[Item]:
    """Return the leaders with a dot at each point."""
    items: list[Item] = []
    for one in placed:
        if one.leader:
            items += [Stroke(one.leader, HAIR), Circle(one.leader[0], 0.35, Fill.BLACK, 0.0)]
    return items
