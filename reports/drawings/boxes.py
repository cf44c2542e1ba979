"""Upright boxes on the paper: how much room words take, and what overlaps what."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from reports.drawings.primitives import Anchor, Circle, Item, Point, Shape, Stroke, Words

LINE_HEIGHT = 1.25
"""Height of a line of words over the size of its type [1]."""
_BOLD = 1.07
_WIDTHS = {
    0.30: "'ijl!,.:; ·I\u00a0\u202f",
    0.42: 'ft()/[]{}r"²|',
    0.56: "^*`–?skxzJacvyL³_°-",
    0.66: "ehnoEF0123456789bdgpquZP#RST$&BK+<=>~−±≤≥×äöüß",
    0.78: "ADVCGHUNOQXYÄÖÜ",
    0.97: "wm%M@W→",
}
"""Width over size of the paper's type, in classes, each rounded up; digits are all alike [1]."""
_WIDTH_OF = {sign: width for width, signs in _WIDTHS.items() for sign in signs}
_UNKNOWN_SIGN = 1.0


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box [mm], y down."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box) -> bool:
        """Return whether the two share any room."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def grown(self, by: float) -> Box:
        """Return the box with a margin [mm]."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def holds(self, other: Box) -> bool:
        """Return whether the other lies inside."""
        return (
            self.left <= other.left
            and self.top <= other.top
            and other.right <= self.right
            and other.bottom <= self.bottom
        )

    def nearest(self, point: Point) -> Point:
        """Return the point of the box nearest to a point."""
        return (
            min(max(point[0], self.left), self.right),
            min(max(point[1], self.top), self.bottom),
        )

    def crossed_by(self, start: Point, end: Point) -> bool:
        """Return whether a straight line runs through the box (clipped at its four sides)."""
        low, high = 0.0, 1.0
        across, down = end[0] - start[0], end[1] - start[1]
        for step, room in (
            (-across, start[0] - self.left),
            (across, self.right - start[0]),
            (-down, start[1] - self.top),
            (down, self.bottom - start[1]),
        ):
            if step == 0.0:
                if room <= 0.0:
                    return False
            elif step < 0.0:
                low = max(low, room / step)
            else:
                high = min(high, room / step)
        return low < high


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return the width that words take [mm], rather too wide than too narrow."""
    signs = sum(_WIDTH_OF.get(sign, _UNKNOWN_SIGN) for sign in text)
    return signs * size * (_BOLD if bold else 1.0)


def box_of(words: Words) -> Box:
    """Return the room that a line of words takes."""
    width = text_width(words.text, words.size, bold=words.bold)
    before = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[words.anchor] * width
    left, middle = words.at[0] - before, words.at[1]
    half = words.size * LINE_HEIGHT / 2.0
    return Box(left, middle - half, left + width, middle + half)


def around(points: Iterable[Point]) -> Box:
    """Return the smallest box around points."""
    across, down = zip(*points, strict=True)
    return Box(min(across), min(down), max(across), max(down))


def box_around(items: Sequence[Item]) -> Box:
    """Return the smallest box around items."""
    return around(point for item in items for point in _corners(item))


def _corners(item: Item) -> tuple[Point, ...]:
    match item:
        case Stroke() | Shape():
            return item.points
        case Circle():
            x, y = item.centre
            return ((x - item.radius, y - item.radius), (x + item.radius, y + item.radius))
        case Words():
            box = box_of(item)
            return ((box.left, box.top), (box.right, box.bottom))


def segments_cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Return whether the lines a–b and c–d cross between their ends."""
    return _side(a, b, c) * _side(a, b, d) < 0.0 and _side(c, d, a) * _side(c, d, b) < 0.0


def _side(a: Point, b: Point, point: Point) -> float:
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])
