"""Work against time as bars: a row a place, days across, black where a slip moves the end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from reports.drawings.boxes import text_width
from reports.drawings.primitives import (
    HAIR,
    PLAIN,
    STRONG,
    Anchor,
    Drawing,
    Fill,
    Item,
    Shape,
    Stroke,
    Words,
    rectangle,
)
from reports.languages import IN_ENGLISH, Texts

_LOWEST, _HIGHEST = 5.2, 9.0
"""Height of a row [mm]: as the sheet allows, between these."""
_NAMES = 95.0
"""Room for the names of the rows [mm]."""
_TOP, _KEY, _SIZE, _SMALL = 11.0, 7.0, 2.8, 2.3
_EDGE = 2.4
"""How much of a bar is seen beside its words at least [mm]."""
_NARROWEST_DAY = 4.2
"""Room that the number of a day takes [mm]."""
_KINDS = (
    (Fill.BLACK, "work that moves the end if it slips"),
    (Fill.HATCH, "other work"),
    (Fill.DOTS, "inspection"),
    (Fill.WHITE, "scaffold built or taken down; a line between: it stands"),
)


@dataclass(frozen=True, slots=True)
class Bar:
    """One piece of work: first day and last as decimal days from the first, and words inside."""

    start: float
    end: float
    fill: Fill
    words: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One place: its name, its bars, and from when to when something stands there.

    Parameters
    ----------
    strong
        Whether it heads a group: a scaffold, or the plant states.
    """

    name: str
    bars: tuple[Bar, ...]
    stands: tuple[float, float] | None = None
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Days:
    """The days across: their dates, one beside the other."""

    dates: tuple[date, ...]


def schedule_chart(
    rows: Sequence[Row],
    days: Days,
    width: float = 380.0,
    height: float = 215.0,
    say: Texts = IN_ENGLISH,
) -> Drawing:
    """Draw rows of bars under the days; rows share the height, few of them leave room [mm]."""
    row_height = min(_HIGHEST, max(_LOWEST, height / max(1, len(rows))))
    grid = _Grid((width - _NAMES) / max(1, len(days.dates)), row_height, len(rows))
    items: list[Item] = [*_calendar(days, grid)]
    for place, row in enumerate(rows):
        items += _row(row, grid, _TOP + grid.row * (place + 0.5), width)
    items += _key(grid.bottom + _KEY, say)
    return Drawing(width, grid.bottom + _KEY + 3.0, tuple(items), _told(rows, days, say))


@dataclass(frozen=True, slots=True)
class _Grid:
    day: float
    row: float
    rows: int

    @property
    def bottom(self) -> float:
        return _TOP + self.row * self.rows

    @property
    def half(self) -> float:
        """Return half the height of a bar [mm]."""
        return 0.31 * self.row

    def x(self, days: float) -> float:
        return _NAMES + self.day * days


def _calendar(days: Days, grid: _Grid) -> Iterator[Item]:
    """Give a line for each day, its number where there is room, and the month where it begins."""
    every = 1 if grid.day >= _NARROWEST_DAY else 7
    for place, one in enumerate(days.dates):
        monday = one.weekday() == 0
        x = grid.x(place)
        yield Stroke(((x, _TOP - 4.0), (x, grid.bottom)), PLAIN if monday else HAIR)
        if place % every == 0:
            middle = (x + grid.day / 2.0, _TOP - 2.2)
            yield Words(middle, str(one.day), _SIZE if every == 1 else _SMALL, bold=monday)
        if place == 0 or one.day == 1:
            yield Words((x + 0.8, _TOP - 6.6), f"{one:%Y-%m}", _SIZE, Anchor.START, bold=True)
    end = grid.x(len(days.dates))
    yield Stroke(((end, _TOP - 4.0), (end, grid.bottom)), PLAIN)
    yield Stroke(((0.0, _TOP), (end, _TOP)), STRONG)


def _row(row: Row, grid: _Grid, y: float, width: float) -> Iterator[Item]:
    yield Stroke(((0.0, y + grid.row / 2.0), (width, y + grid.row / 2.0)), HAIR)
    at = (0.0 if row.strong else 3.0, y)
    yield Words(at, _fitted(row.name, _NAMES - 4.0, row.strong), _SIZE, Anchor.START, row.strong)
    if row.stands is not None:
        yield Stroke(((grid.x(row.stands[0]), y), (grid.x(row.stands[1]), y)), STRONG)
    for bar in row.bars:
        yield from _bar(bar, grid, y)


def _bar(bar: Bar, grid: _Grid, y: float) -> Iterator[Item]:
    left, right = grid.x(bar.start), grid.x(bar.end)
    yield Shape(rectangle(left, y - grid.half, right, y + grid.half), bar.fill, PLAIN)
    room = text_width(bar.words, _SMALL, bold=True) / 2.0 + 0.5
    if bar.words and 2.0 * room + _EDGE < right - left:
        middle = (left + right) / 2.0
        if bar.fill is not Fill.WHITE:
            ground = rectangle(middle - room, y - 1.4, middle + room, y + 1.4)
            yield Shape(ground, Fill.WHITE, 0.0)
        yield Words((middle, y), bar.words, _SMALL, bold=True)


def _fitted(name: str, room: float, strong: bool) -> str:
    """Return a name that fits the room [mm], an ellipsis where there was more."""
    kept = name
    while kept and text_width(f"{kept}…", _SIZE, bold=strong) > room:
        kept = kept[:-1]
    return name if text_width(name, _SIZE, bold=strong) <= room else f"{kept.rstrip()}…"


def _key(y: float, say: Texts) -> Iterator[Item]:
    x = 0.0
    for fill, message in _KINDS:
        words = say(message)
        yield Shape(rectangle(x, y - 1.6, x + 9.0, y + 1.6), fill, PLAIN)
        yield Words((x + 11.0, y), words, _SIZE, Anchor.START)
        x += 18.0 + text_width(words, _SIZE)


def _told(rows: Sequence[Row], days: Days, say: Texts) -> str:
    if not days.dates:
        return say("Bars of work against time: no day.")
    named = (row.name for row in rows)
    first, last = days.dates[0], days.dates[-1]
    return say(
        "Bars of work against time from {first} to {last}: {names}.",
        first=first,
        last=last,
        names="; ".join(named),
    )
