"""What a drawing is made of: lines, closed shapes, circles and words, in millimetres, y down."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

Point = tuple[float, float]

HAIR, THIN, PLAIN, STRONG, PIPE = 0.12, 0.2, 0.3, 0.5, 0.9
"""Widths of lines [mm]."""


class Fill(StrEnum):
    """What a shape is filled with."""

    NONE = "none"
    WHITE = "white"
    BLACK = "black"
    HATCH = "hatch"
    """Slanting lines."""
    DOTS = "dots"


class Anchor(StrEnum):
    """Which part of the words stands at their point."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Stroke:
    """An open line through points."""

    points: tuple[Point, ...]
    width: float = THIN
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed line through points, filled."""

    points: tuple[Point, ...]
    fill: Fill = Fill.NONE
    width: float = THIN
    """0 draws no line around it."""


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle, filled."""

    centre: Point
    radius: float
    fill: Fill = Fill.NONE
    width: float = THIN


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text; the middle of its capitals stands at the height of `at`.

    Parameters
    ----------
    size
        Size of the type [mm].
    """

    at: Point
    text: str
    size: float = 2.5
    anchor: Anchor = Anchor.MIDDLE
    bold: bool = False


Item = Stroke | Shape | Circle | Words


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing: its size [mm], its items from back to front, and what it shows, in words."""

    width: float
    height: float
    items: tuple[Item, ...]
    told: str


def rectangle(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    """Return the corners of an upright rectangle [mm]."""
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def shifted(items: Iterable[Item], right: float, down: float) -> list[Item]:
    """Return items moved on the paper [mm]."""
    return [_moved(item, right, down) for item in items]


def _moved(item: Item, right: float, down: float) -> Item:
    def at(point: Point) -> Point:
        return (point[0] + right, point[1] + down)

    match item:
        case Stroke():
            return Stroke(tuple(map(at, item.points)), item.width, item.dashed)
        case Shape():
            return Shape(tuple(map(at, item.points)), item.fill, item.width)
        case Circle():
            return Circle(at(item.centre), item.radius, item.fill, item.width)
        case Words():
            return Words(at(item.at), item.text, item.size, item.anchor, item.bold)


def below_each_other(
    parts: Sequence[tuple[float, Sequence[Item]]], gap: float
) -> tuple[float, list[Item]]:
    """Put parts, each with its height, below each other; return the whole height [mm] and items."""
    items: list[Item] = []
    down = 0.0
    for height, part in parts:
        items += shifted(part, 0.0, down)
        down += height + gap
    return max(0.0, down - gap), items
