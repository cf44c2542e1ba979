"""A line drawn straight: every support in its order with three bars, nozzles as shares of limits.

The bars are before (white), weight added and nothing re-set (hatched), as planned (black). Gaps are
drawn in proportion as far as the columns leave room.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reports.drawings.boxes import text_width
from reports.drawings.columns import (
    BARS,
    Bar,
    Column,
    captions,
    column_items,
    load_column,
    use_column,
)
from reports.drawings.primitives import (
    HAIR,
    PIPE,
    STRONG,
    Anchor,
    Drawing,
    Fill,
    Item,
    Shape,
    Stroke,
    Words,
    below_each_other,
    rectangle,
    shifted,
)
from reports.drawings.spacing import Spaced, fitted
from reports.drawings.symbols import weight_sign
from reports.languages import IN_ENGLISH, Texts
from supports.vocabulary import SupportKind

Three = tuple[float | None, float | None, float | None]
ABREAST = 15
"""Columns side by side."""
LEFT, RIGHT = 27.0, 12.0
_LEAST = 14.5
_WORD_SIZE, _KEY_SIZE, _LEVEL = 2.1, 2.3, 3.2
_WORDS_ROOM = 4 * _LEVEL
_BELOW = 31.0


@dataclass(frozen=True, slots=True)
class StraightSupport:
    """A support: loads before, added, planned [N]; limits of its setting [N]; place [m]."""

    tag: str
    kind: SupportKind
    distance: float
    loads: Three
    written: tuple[str, str, str]
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class StraightNozzle:
    """A nozzle: worst use of its limits before, added, planned [1]; None is not known."""

    name: str
    what: str
    distance: float
    uses: Three
    written: tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class StraightWeight:
    """Something put on or taken off at a distance [m]."""

    distance: float
    words: str
    put_on: bool = True


@dataclass(frozen=True, slots=True)
class StraightLine:
    """What is drawn; distances along the line [m], unit of the written loads."""

    number: str
    supports: tuple[StraightSupport, ...]
    nozzles: tuple[StraightNozzle, ...] = ()
    weights: tuple[StraightWeight, ...] = ()
    unit: str = "kN"


def straight(
    line: StraightLine, width: float = 264.0, tallest: float = 32.0, say: Texts = IN_ENGLISH
) -> Drawing:
    """Draw a line straight, in as many strips as its supports need, all to one scale of load."""
    every = (value for s in line.supports for value in (*s.loads, s.high))
    top = max((abs(value) for value in every if value is not None), default=0.0)
    scale = tallest / top if top else 0.0
    strips = [
        _strip(line, columns, width, tallest, say) for columns in _groups(line, scale, tallest)
    ]
    height, items = below_each_other([*strips, (7.0, _key(line, say))], 5.0)
    return Drawing(width, height, tuple(items), _told(line, say))


def _groups(line: StraightLine, scale: float, tallest: float) -> Iterator[list[Column]]:
    columns = [load_column(s, scale, tallest) for s in line.supports]
    columns += [use_column(n, tallest) for n in line.nozzles]
    columns.sort(key=lambda column: column.distance)
    for start in range(0, len(columns), ABREAST):
        yield columns[start : start + ABREAST]


def _strip(
    line: StraightLine, columns: Sequence[Column], width: float, tallest: float, say: Texts
) -> tuple[float, list[Item]]:
    axis = _axis(columns, width)
    base = _WORDS_ROOM + tallest + 4.0
    items: list[Item] = [Stroke(((LEFT - 6.0, base), (width - 2.0, base)), PIPE)]
    items += _weights(line.weights, axis, base, width)
    sunk = max((column.below for column in columns), default=0.0)
    for column, x in zip(columns, axis.drawn, strict=True):
        items += column_items(column, x, base, sunk)
    items += captions(base, sunk, line.unit, say)
    return base + sunk + _BELOW, items


def _axis(columns: Sequence[Column], width: float) -> Spaced:
    """Return where columns stand; two at one place are drawn side by side."""
    room = width - LEFT - RIGHT
    places = [column.distance for column in columns]
    apart = [place + 1e-3 * n for n, place in enumerate(places)]
    spaced = fitted(apart, room, _LEAST)
    return Spaced(spaced.true, tuple(LEFT + x for x in spaced.drawn), spaced.cut)


def _weights(
    weights: Sequence[StraightWeight], axis: Spaced, base: float, width: float
) -> list[Item]:
    """Draw weights as arrows onto the pipe, their words above, lifted where they would collide."""
    items: list[Item] = []
    ends: list[float] = []
    inside = [w for w in weights if axis.true[0] - 1.0 <= w.distance <= axis.true[-1] + 1.0]
    for weight in sorted(inside, key=lambda one: one.distance):
        x = axis.at(weight.distance)
        half = text_width(weight.words, _WORD_SIZE) / 2.0
        centre = min(max(x, half), width - half)
        level = next((n for n, end in enumerate(ends) if end < centre - half), len(ends))
        ends[level : level + 1] = [centre + half + 2.0]
        y = _WORDS_ROOM - 1.5 - level * _LEVEL
        items.append(Stroke(((x, y + 1.5), (x, base - 6.0)), HAIR, dashed=True))
        items += weight_sign((x, base), on=weight.put_on)
        ground = rectangle(centre - half - 0.4, y - 1.4, centre + half + 0.4, y + 1.4)
        items.append(Shape(ground, Fill.WHITE, 0.0))
        items.append(Words((centre, y), weight.words, _WORD_SIZE))
    return items


def _key(line: StraightLine, say: Texts) -> list[Item]:
    """Explain the bars and marks that the drawing uses."""
    items: list[Item] = []
    left = LEFT - 6.0
    for sign, words in _keyed(line, say):
        items += shifted(sign, left, 0.0)
        items.append(Words((left + 6.2, 3.5), words, _KEY_SIZE, Anchor.START))
        left += 12.0 + text_width(words, _KEY_SIZE)
    return items


def _keyed(line: StraightLine, say: Texts) -> Iterator[tuple[list[Item], str]]:
    names = (say("before"), say("weight added, nothing re-set"), say("as planned"))
    for fill, name in zip(BARS, names, strict=True):
        yield [Shape(rectangle(0.5, 2.0, 4.5, 5.0), fill)], name
    if any(s.low is not None or s.high is not None for s in line.supports):
        ends: list[Item] = [Stroke(((1.5, y), (3.5, y))) for y in (1.4, 5.6)]
        yield [Stroke(((2.5, 1.4), (2.5, 5.6))), *ends], say("range of the setting")
    if line.nozzles:
        yield [Stroke(((0.0, 3.5), (5.0, 3.5)), dashed=True)], say("100 % of a nozzle's limit")
    if any(column.cut for column in _bars(line)):
        strokes: list[Item] = [Stroke(((1.0, y), (4.0, y - 0.8)), STRONG) for y in (3.4, 4.8)]
        yield strokes, say("bar cut, see its number")


def _bars(line: StraightLine) -> Iterator[Bar]:
    for nozzle in line.nozzles:
        yield from use_column(nozzle, 1.0).bars


def _told(line: StraightLine, say: Texts) -> str:
    held = (
        say(
            "{tag} at {distance} m: before {before}, added {added}, planned {planned} {unit}.",
            tag=s.tag,
            distance=f"{s.distance:.1f}",
            before=s.written[0],
            added=s.written[1],
            planned=s.written[2],
            unit=line.unit,
        )
        for s in line.supports
    )
    ends = (
        say(
            "Nozzle {name}, {what}: {before}, {added}, {planned} of its limit.",
            name=n.name,
            what=say.sentence(n.what),
            before=n.written[0],
            added=n.written[1],
            planned=n.written[2],
        )
        for n in line.nozzles
    )
    return say(
        "Line {number} drawn straight. {names}", number=line.number, names=" ".join((*held, *ends))
    )
