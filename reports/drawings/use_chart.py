"""Use of limits step by step: a bar for the worst, a line for each nozzle, props marked, 100 %."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reports.drawings.boxes import text_width
from reports.drawings.primitives import (
    HAIR,
    PLAIN,
    STRONG,
    Anchor,
    Circle,
    Drawing,
    Fill,
    Item,
    Point,
    Shape,
    Stroke,
    Words,
    rectangle,
)
from reports.languages import IN_ENGLISH, Texts

_SIZE, _SMALL = 2.4, 2.0
_MOST = 1.5
"""Use at which bars and lines are cut [1]."""
_LEFT, _RIGHT, _TOP, _GAP = 12.0, 4.0, 3.0, 4.5
_MARK = 1.1
_NAME = 4.4
"""Room that the name of a step takes below its bar [mm]."""
_NO_WORDS = 4.6
"""Narrowest bar that has room for its percent at its foot [mm]."""


@dataclass(frozen=True, slots=True)
class StepBar:
    """Worst use of any limit after one step [1]; `name` stands below it."""

    name: str
    use: float | None


@dataclass(frozen=True, slots=True)
class NozzleLine:
    """Use of one nozzle's limits [1] at some of the bars, by their place from 0."""

    name: str
    points: tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class HeldSpan:
    """A prop or travel stop that is in from one bar to another, both by place from 0."""

    name: str
    first: int
    last: int


def use_chart(
    bars: Sequence[StepBar],
    lines: Sequence[NozzleLine],
    spans: Sequence[HeldSpan] = (),
    width: float = 176.0,
    height: float = 62.0,
    say: Texts = IN_ENGLISH,
) -> Drawing:
    """Draw bars against the line of 100 %; a use over it is black, nozzles differ by their mark."""
    key = list(_key(lines, say))
    top = _TOP + _GAP * len(key)
    frame = _Frame(top, height, (width - _LEFT - _RIGHT) / max(1, len(bars)))
    items: list[Item] = []
    for row, (mark, name) in enumerate(key):
        items += _key_row(mark, name, _TOP + _GAP * row)
    items += _grid(frame, width)
    every = max(1, math.ceil(_NAME / frame.wide))
    for place, bar in enumerate(bars):
        items += _bar(frame, place, bar)
        if place % every == 0:
            items.append(Words((frame.x(place), frame.bottom + 3.0), bar.name, _SMALL))
    for number, line in enumerate(lines):
        items += _line(frame, number, line)
    items.append(Words((_LEFT - 1.5, frame.bottom + 3.0), say("step"), _SMALL, Anchor.END))
    for row, span in enumerate(spans):
        items += _span(frame, span, frame.bottom + 7.4 + _GAP * row, say)
    whole = frame.bottom + 6.0 + _GAP * len(spans)
    return Drawing(width, whole, tuple(items), _told(bars, lines, spans, say))


@dataclass(frozen=True, slots=True)
class _Frame:
    top: float
    height: float
    wide: float

    @property
    def bottom(self) -> float:
        return self.top + self.height

    def x(self, place: int) -> float:
        return _LEFT + self.wide * (place + 0.5)

    def y(self, use: float) -> float:
        return self.bottom - self.height * min(max(use, 0.0), _MOST) / _MOST


def _grid(frame: _Frame, width: float) -> Iterator[Item]:
    for share in (0.0, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5):
        y, limit = frame.y(share), share == 1.0
        line = Stroke(((_LEFT, y), (width - _RIGHT, y)), STRONG if limit else HAIR, dashed=limit)
        yield line
        words = f"{100.0 * share:.0f} %"
        yield Words((_LEFT - 1.5, y), words, _SIZE if limit else _SMALL, Anchor.END, bold=limit)


def _bar(frame: _Frame, place: int, bar: StepBar) -> Iterator[Item]:
    x, half = frame.x(place), min(4.0, 0.36 * frame.wide)
    if bar.use is None:
        yield Words((x, frame.bottom - 3.0), "?", _SIZE, bold=True)
        return
    top = frame.y(bar.use)
    fill = Fill.BLACK if bar.use > 1.0 else Fill.HATCH
    yield Shape(rectangle(x - half, top, x + half, frame.bottom), fill)
    if bar.use > _MOST:
        for down in (2.0, 3.4):
            ends = ((x - half - 0.5, top + down + 0.6), (x + half + 0.5, top + down - 0.6))
            yield Stroke(ends, 0.9)
    if frame.wide >= _NO_WORDS:
        words = f"{100.0 * bar.use:.0f}"
        room = text_width(words, _SMALL, bold=True) / 2.0 + 0.4
        foot = frame.bottom - 0.4
        yield Shape(rectangle(x - room, foot - 2.4, x + room, foot), Fill.WHITE, 0.0)
        yield Words((x, foot - 1.2), words, _SMALL, bold=True)


def _line(frame: _Frame, number: int, line: NozzleLine) -> Iterator[Item]:
    points = [(frame.x(place), frame.y(use)) for place, use in line.points]
    if len(points) > 1:
        yield Stroke(tuple(points), PLAIN, dashed=number % 2 == 1)
    for point in points:
        yield _mark(number, point)


def _mark(number: int, at: Point) -> Item:
    """Return the mark of a line: circle, square, diamond, triangle; white, then black."""
    x, y = at
    fill = (Fill.WHITE, Fill.BLACK)[number // 4 % 2]
    shapes = {
        1: rectangle(x - _MARK, y - _MARK, x + _MARK, y + _MARK),
        2: ((x, y - 1.4 * _MARK), (x + 1.4 * _MARK, y), (x, y + 1.4 * _MARK), (x - 1.4 * _MARK, y)),
        3: ((x, y - 1.3 * _MARK), (x + 1.3 * _MARK, y + _MARK), (x - 1.3 * _MARK, y + _MARK)),
    }
    return Shape(shapes[number % 4], fill, PLAIN) if number % 4 else Circle(at, _MARK, fill, PLAIN)


def _key(lines: Sequence[NozzleLine], say: Texts) -> Iterator[tuple[int | None, str]]:
    yield None, say("limit used most, whatever it is, after the step and on the way into it")
    for number, line in enumerate(lines):
        yield (
            number,
            say("nozzle {name}, before the first turn and after each round", name=line.name),
        )


def _key_row(mark: int | None, name: str, y: float) -> Iterator[Item]:
    if mark is None:
        yield Shape(rectangle(_LEFT, y - 1.2, _LEFT + 8.0, y + 1.2), Fill.HATCH)
    else:
        yield Stroke(((_LEFT, y), (_LEFT + 8.0, y)), PLAIN, dashed=mark % 2 == 1)
        yield _mark(mark, (_LEFT + 4.0, y))
    yield Words((_LEFT + 10.0, y), name, _SIZE, Anchor.START)


def _span(frame: _Frame, span: HeldSpan, y: float, say: Texts) -> Iterator[Item]:
    left, right = frame.x(span.first) - frame.wide / 2.0, frame.x(span.last) + frame.wide / 2.0
    yield Shape(rectangle(left, y - 1.6, right, y + 1.6), Fill.DOTS, PLAIN)
    words = say("{name} in", name=say.sentence(span.name))
    half = text_width(words, _SIZE, bold=True) / 2.0 + 0.8
    middle = max((left + right) / 2.0, half)
    yield Shape(rectangle(middle - half, y - 1.4, middle + half, y + 1.4), Fill.WHITE, 0.0)
    yield Words((middle, y), words, _SIZE, bold=True)


def _told(
    bars: Sequence[StepBar], lines: Sequence[NozzleLine], spans: Sequence[HeldSpan], say: Texts
) -> str:
    used = (f"{bar.name}: {_share(bar.use, say)}." for bar in bars)
    nozzles = (
        say(
            "Nozzle {name}: {uses}.",
            name=line.name,
            uses=", ".join(_share(use, say) for _, use in line.points),
        )
        for line in lines
    )
    held = (say(
                "{name} in from {first} to {last}.", name=say.sentence(span.name),
                first=bars[span.first].name, last=bars[span.last].name,
            )
            for span in spans)  # fmt: skip
    return " ".join((say("Worst use of limits by step."), *used, *nozzles, *held))


def _share(use: float | None, say: Texts) -> str:
    return say("not known") if use is None else f"{100.0 * use:.0f} %"
