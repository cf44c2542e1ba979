"""One column of the straight drawing: bars over the pipe, sign and numbers beneath it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.drawings.primitives import (
    HAIR,
    PLAIN,
    STRONG,
    THIN,
    Anchor,
    Fill,
    Item,
    Shape,
    Stroke,
    Words,
    rectangle,
)
from reports.drawings.symbols import DOWN, Axes, nozzle_sign, sign_along, support_sign
from reports.languages import IN_ENGLISH, Texts
from supports.vocabulary import SupportKind

if TYPE_CHECKING:
    from reports.drawings.straight import StraightNozzle, StraightSupport

BARS = (Fill.WHITE, Fill.HATCH, Fill.BLACK)
"""Before, added, planned."""
_WIDE, _UNKNOWN = 2.6, 5.0
_FULL = 0.62
"""Height of 100 % of a nozzle's limit as a share of the room for bars [1]."""
_SMALL, _TAG = 2.05, 2.3
ROWS = ("before", "added", "planned")


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: height [mm], negative below the pipe, None if not known; cut if too tall."""

    height: float | None
    cut: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """What stands at one place of the line."""

    distance: float
    name: str
    sign: SupportKind | None
    bars: tuple[Bar, Bar, Bar]
    written: tuple[str, str, str]
    foot: str
    low: float | None = None
    high: float | None = None
    full: float | None = None

    @property
    def below(self) -> float:
        """Return how far the bars reach below the pipe [mm]."""
        return max((-bar.height for bar in self.bars if bar.height is not None), default=0.0)


def load_column(support: StraightSupport, scale: float, tallest: float) -> Column:
    """Return the column of a support; `scale` in [mm/N], bars downward at most a third as tall."""
    bars = [_bar(load, scale, tallest) for load in support.loads]
    return Column(
        support.distance,
        support.tag,
        support.kind,
        (bars[0], bars[1], bars[2]),
        support.written,
        f"{support.distance:.1f} m",
        None if support.low is None else min(support.low * scale, tallest),
        None if support.high is None else min(support.high * scale, tallest),
    )


def use_column(nozzle: StraightNozzle, tallest: float) -> Column:
    """Return the column of a nozzle: uses as bars against 100 %."""
    full = _FULL * tallest
    bars = [_bar(use, full, tallest) for use in nozzle.uses]
    return Column(
        nozzle.distance,
        nozzle.name,
        None,
        (bars[0], bars[1], bars[2]),
        nozzle.written,
        nozzle.what,
        full=full,
    )


def _bar(value: float | None, scale: float, tallest: float) -> Bar:
    if value is None:
        return Bar(None)
    height = value * scale
    lowest = -tallest / 3.0
    return Bar(min(max(height, lowest), tallest), cut=height > tallest or height < lowest)


def column_items(column: Column, x: float, base: float, sunk: float) -> list[Item]:
    """Draw a column at `x`, the pipe at `base`, words beneath all bars of the strip [mm]."""
    items: list[Item] = []
    for number, (bar, fill) in enumerate(zip(column.bars, BARS, strict=True)):
        items += _bar_items(bar, fill, x - 1.5 * _WIDE + number * _WIDE, base)
    items += _limits(column, x + 1.5 * _WIDE + 1.3, base)
    if column.full is not None:
        y = base - column.full
        items.append(Stroke(((x - 6.0, y), (x + 6.0, y)), PLAIN, dashed=True))
        items.append(Words((x - 6.8, y), "100 %", _SMALL, Anchor.END))
    items += _sign(column, x, base + sunk)
    return [*items, *_words(column, x, base + sunk + 12.0)]


def _bar_items(bar: Bar, fill: Fill, left: float, base: float) -> Iterator[Item]:
    right = left + _WIDE
    if bar.height is None:
        yield Stroke(_closed(left, base - _UNKNOWN, right, base), HAIR, dashed=True)
        yield Words(((left + right) / 2.0, base - _UNKNOWN / 2.0), "?", _TAG, bold=True)
        return
    top = base - bar.height
    yield Shape(rectangle(left, min(top, base), right, max(top, base)), fill)
    if bar.cut:
        toward = 2.0 if bar.height > 0 else -2.0
        for step in (toward, 1.6 * toward):
            y = top + step
            points = ((left - 0.5, y + 0.5), (right + 0.5, y - 0.5))
            yield Stroke(points, STRONG)


def _closed(
    left: float, top: float, right: float, bottom: float
) -> tuple[tuple[float, float], ...]:
    corners = rectangle(left, top, right, bottom)
    return (*corners, corners[0])


def _limits(column: Column, x: float, base: float) -> Iterator[Item]:
    ends = [end for end in (column.low, column.high) if end is not None]
    for end in ends:
        yield Stroke(((x - 0.9, base - end), (x + 0.9, base - end)), PLAIN)
    if len(ends) == 2:
        yield Stroke(((x, base - ends[0]), (x, base - ends[1])), THIN)


def _sign(column: Column, x: float, base: float) -> list[Item]:
    if column.sign is None:
        return nozzle_sign((x, base + 2.0), DOWN)
    if column.sign in {SupportKind.GUIDE, SupportKind.LINE_STOP, SupportKind.ANCHOR}:
        pipe = Stroke(((x - 3.0, base + 4.5), (x + 3.0, base + 4.5)), STRONG)
        return [pipe, *support_sign(column.sign, (x, base + 4.5), (1.0, 0.0))]
    return _turned_down(column.sign, x, base + 1.4)


def _turned_down(kind: SupportKind, x: float, y: float) -> list[Item]:
    """Return a sign beneath the pipe, whatever side it stands on in the plant."""
    return sign_along(kind, Axes((x, y), DOWN))


def _words(column: Column, x: float, top: float) -> Iterator[Item]:
    yield Words((x, top), column.name, _TAG, bold=True)
    for number, text in enumerate(column.written):
        yield Words((x, top + 4.2 + 3.4 * number), text, _SMALL, bold=number == len(ROWS) - 1)
    yield Words((x, top + 15.2), column.foot, _SMALL)


def captions(base: float, sunk: float, unit: str, say: Texts = IN_ENGLISH) -> list[Item]:
    """Name the rows of numbers at the left edge, and the places where the figure begins."""
    top = base + sunk + 12.0
    words = [f"{say(name)}, {unit}" for name in ROWS]
    rows = [Words((0.0, top + 4.2 + 3.4 * n), w, _SMALL, Anchor.START) for n, w in enumerate(words)]
    return [*rows, Words((0.0, top + 15.2), say("along the line"), _SMALL, Anchor.START)]
