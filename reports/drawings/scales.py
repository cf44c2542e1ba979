"""Load scale and pointer gauge of a unit, from marks whose places are worked out already."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from reports.drawings.boxes import text_width
from reports.drawings.primitives import (
    HAIR,
    PLAIN,
    STRONG,
    THIN,
    Anchor,
    Drawing,
    Fill,
    Item,
    Shape,
    Stroke,
    Words,
    rectangle,
)

_STEP, _ABOVE, _BELOW = 7.6, 5.4, 5.0
"""Height of a level of labels, room above and below the axis [mm]."""
_NAME, _VALUE, _LARGE = 2.1, 2.9, 3.5
_FOOT, _FOOT_SIZE = 3.6, 2.6

Marks = Mapping[str, Any]


def load_scale_drawing(marks: Marks) -> Drawing:
    """Draw a load scale: limits, window, present and required load."""
    axis = _ABOVE + _STEP * _levels(marks["above"])
    low, high, width = marks["low"], marks["high"], marks["width"]
    west = 6.0 if low is None else low
    east = width - 6.0 if high is None else high
    items = [*_beyond(low, high, axis), Stroke(((west, axis), (east, axis)), PLAIN)]
    items += _ticks(west, east, axis)
    if marks["window"] is not None:
        left, right = marks["window"]
        corners = rectangle(left, axis - 1.5, right, axis + 1.5)
        items.append(Shape(corners, Fill.DOTS, PLAIN))
    items += [
        Stroke(((edge, axis - 3.4), (edge, axis + 4.0)), STRONG)
        for edge in (low, high)
        if edge is not None
    ]
    items += _labelled(marks, axis)
    return _drawn(marks, axis, items)


def pointer_gauge_drawing(marks: Marks) -> Drawing:
    """Draw a pointer gauge: stops, travel, marks and last readings."""
    axis = _ABOVE + _STEP * _levels(marks["above"])
    west, east = marks["inset"], marks["width"] - marks["inset"]
    items: list[Item] = [Stroke(((west, axis), (east, axis)), PLAIN), *_ticks(west, east, axis)]
    if len(marks["travel"]) == 2:
        first, last = marks["travel"]
        items.append(Shape(rectangle(first, axis - 0.5, last, axis + 0.5), Fill.BLACK, 0.0))
    items += [Stroke(((edge, axis - 3.0), (edge, axis + 3.0)), STRONG) for edge in (west, east)]
    items += _end(marks["left"], west - 1.5, axis, Anchor.END)
    items += _end(marks["right"], east + 1.5, axis, Anchor.START)
    items += [
        Stroke(((mark["x"], axis - 2.0), (mark["x"], axis + 4.4)), STRONG)
        for mark in marks["below"]
    ]
    items += _labelled(marks, axis)
    return _drawn(marks, axis, items)


def _end(words: str, x: float, axis: float, anchor: Anchor) -> Iterator[Item]:
    """Give the words at an end, a line each: name and number."""
    name, _, number = words.rpartition(" ")
    yield Words((x, axis - 1.5), name.replace("\u00a0", " "), _NAME, anchor)
    yield Words((x, axis + 1.5), number, _NAME, anchor)


def _levels(marks: Sequence[Marks]) -> int:
    return max((mark["level"] + 1 for mark in marks), default=0)


def _drawn(marks: Marks, axis: float, items: Sequence[Item]) -> Drawing:
    bottom = axis + _BELOW + _STEP * _levels(marks["below"])
    words = marks["words"]
    size = min(_FOOT_SIZE, _FOOT_SIZE * marks["width"] / text_width(words, _FOOT_SIZE))
    foot = Words((marks["width"] / 2.0, bottom + 1.2), words, round(size, 3))
    return Drawing(marks["width"], bottom + _FOOT, (*items, foot), marks["told"])


def _beyond(low: float | None, high: float | None, axis: float) -> Iterator[Item]:
    for start, end in ((low and low - 6.0, low), (high, high and high + 6.0)):
        if start is not None and end is not None:
            yield Shape(rectangle(start, axis - 1.3, end, axis + 1.3), Fill.HATCH, 0.0)


def _ticks(west: float, east: float, axis: float) -> Iterator[Item]:
    for place in range(21):
        x = west + (east - west) * place / 20.0
        yield Stroke(((x, axis - 0.7), (x, axis + (1.4 if place % 5 == 0 else 0.7))), HAIR)


def _labelled(marks: Marks, axis: float) -> Iterator[Item]:
    """Give hairlines to lifted labels, then the labels, then the marks over both."""
    for mark in marks["above"]:
        yield from _leader(mark, axis - 4.6, axis - _ABOVE - _STEP * mark["level"])
    for mark in marks["below"]:
        yield from _leader(mark, axis + 5.0, axis + _BELOW + _STEP * mark["level"])
    for mark in marks["above"]:
        yield from _label(mark, axis - _ABOVE - _STEP * mark["level"] - 5.4)
    for mark in marks["below"]:
        yield from _label(mark, axis + _BELOW + _STEP * mark["level"] + 1.6)
    for mark in sorted(marks["above"], key=lambda one: one["shape"]):
        yield from _sign(mark["shape"], mark["x"], axis - 4.4)
    for mark in marks["below"]:
        yield from _sign(mark["shape"], mark["x"], axis + 0.6)


def _leader(mark: Marks, near: float, far: float) -> Iterator[Item]:
    if mark["level"]:
        yield Stroke(((mark["x"], near), (mark["x"], far)), HAIR)


def _label(mark: Marks, top: float) -> Iterator[Item]:
    needed = mark["shape"] == "required"
    x = mark["label_x"]
    yield Words((x, top), mark["name"], _NAME, bold=True)
    yield Words((x, top + 3.1), mark["value"], _LARGE if needed else _VALUE, bold=needed)


def _sign(shape: str, x: float, top: float) -> Iterator[Item]:
    """Give the sign of a mark: black or white wedge, cross of a hand mark, diamond of the plate."""
    wedge = ((x - 2.0, top), (x + 2.0, top), (x, top + 4.0))
    match shape:
        case "required":
            yield Shape(wedge, Fill.BLACK, THIN)
        case "present":
            yield Shape(wedge, Fill.WHITE, PLAIN)
        case "hand":
            yield Stroke(((x - 2.0, top), (x + 2.0, top + 4.0)), STRONG)
            yield Stroke(((x + 2.0, top), (x - 2.0, top + 4.0)), STRONG)
        case "nameplate":
            corners = ((x, top), (x + 2.0, top + 2.0), (x, top + 4.0), (x - 2.0, top + 2.0))
            yield Shape(corners, Fill.WHITE, PLAIN)
