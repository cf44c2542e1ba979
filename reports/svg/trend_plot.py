"""Readings against time as SVG: each plant state by its own sign, black on white."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from xml.sax.saxutils import escape

from reports.languages import IN_ENGLISH, Texts
from supports.rules.walkdown.trend import Point, Trend
from supports.rules.walkdown.words import Half
from supports.vocabulary import PlantState

WIDTH, HEIGHT = 640.0, 300.0
LEFT, RIGHT, TOP = 66.0, 16.0, 34.0
SIGNS = {
    PlantState.OPERATING_STEADY: "M-5 4L0 -5L5 4Z",
    PlantState.OPERATING_PART_LOAD: "M-5 -4L0 5L5 -4Z",
    PlantState.SHUT_DOWN_FULL: "M-4.5 -4.5H4.5V4.5H-4.5Z",
    PlantState.SHUT_DOWN_DRAINED: "M0 -6L6 0L0 6L-6 0Z",
}
"""A sign for each state; any other is a cross."""
CROSS = "M-5 -5L5 5M-5 5L5 -5"
FILLED = frozenset({PlantState.OPERATING_STEADY, PlantState.SHUT_DOWN_FULL})


Band = tuple[tuple[Half, ...], float, float]
"""Halves of the cycle, low, high."""


@dataclass(frozen=True, slots=True)
class TrendPlot:
    """What is drawn: values already in the unit of the scale.

    Parameters
    ----------
    bands
        What is expected in halves of the cycle, drawn as grey bands.
    size
        Of the type: larger for a plot that is printed narrow.
    """

    title: str
    unit: str
    points: tuple[Point, ...]
    lines: tuple[Trend, ...] = ()
    bands: tuple[Band, ...] = ()
    size: float = 11.0

    @property
    def bottom(self) -> float:
        """Return the height of the axis of days above the foot: room for two lines of type."""
        return 24.0 + 2.0 * self.size


class _Axes:
    """From days and values to places on the drawing."""

    def __init__(self, plot: TrendPlot) -> None:
        days = [one.day.toordinal() for one in plot.points]
        values = [one.value for one in plot.points]
        values += [edge for _, low, high in plot.bands for edge in (low, high)]
        self.first, self.last = min(days), max(*days, min(days) + 30)
        room = 0.08 * (max(values) - min(values)) or 0.05 * abs(values[0]) or 1.0
        self.low, self.high = min(values) - room, max(values) + room
        self.base = HEIGHT - plot.bottom

    def x(self, day: date) -> float:
        share = (day.toordinal() - self.first) / (self.last - self.first)
        return LEFT + share * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return self.base - share * (self.base - TOP)


def trend_svg(plot: TrendPlot, say: Texts = IN_ENGLISH) -> str:
    """Return the plot as SVG text; without a reading it says so."""
    if not plot.points:
        return _wrapped(plot, [_text(WIDTH / 2, HEIGHT / 2, say("no reading"), "middle")])
    axes = _Axes(plot)
    parts = [_band(axes, band, say) for band in plot.bands]
    parts += [*_value_axis(axes, plot.unit), *_day_axis(axes, plot.size), *_legend(plot, say)]
    parts += [_line(axes, one) for one in plot.lines]
    parts += [_point(axes, one) for one in plot.points]
    return _wrapped(plot, parts)


def _wrapped(plot: TrendPlot, parts: Sequence[str]) -> str:
    title = plot.title
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {HEIGHT:g}" '
        f'font-family="Inter, sans-serif" font-size="{plot.size:g}" role="img">'
        f"<title>{escape(title)}</title>"
        f'<rect width="{WIDTH:g}" height="{HEIGHT:g}" fill="white"/>'
        f"{_text(LEFT, 3 + plot.size, title, 'start', bold=True)}{''.join(parts)}</svg>"
    )


def _text(x: float, y: float, words: str, anchor: str, *, bold: bool = False) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"{weight}>{escape(words)}</text>'


def _band(axes: _Axes, band: Band, say: Texts) -> str:
    halves, low, high = band
    words = _expected(halves, say)
    top, bottom = axes.y(high), axes.y(low)
    wide = WIDTH - LEFT - RIGHT
    below = bottom + 12.0 < axes.base
    words_at = bottom + 11.0 if below else top - 4.0
    return (
        f'<rect x="{LEFT:g}" y="{top:.1f}" width="{wide:g}" height="{bottom - top:.1f}" '
        f'fill="#dddddd"/>{_text(LEFT + 4, words_at, words, "start")}'
    )


def _expected(halves: tuple[Half, ...], say: Texts) -> str:
    """Return what a band is; one that holds in both halves needs no more words."""
    if halves == (Half.OPERATING,):
        return say("expected in operation")
    return say("expected shut down") if halves == (Half.SHUT_DOWN,) else say("expected")


def steps_of(low: float, high: float) -> list[float]:
    """Return round values between two bounds, three to seven of them.

    >>> steps_of(0.0, 10.0)
    [0.0, 2.0, 4.0, 6.0, 8.0, 10.0]
    """
    rough = (high - low) / 5.0
    power = 10.0 ** _floor_log(rough)
    step = next(power * n for n in (1.0, 2.0, 5.0, 10.0) if power * n >= rough * 0.999)
    first = -(-low // step) * step
    count = int((high - first) / step + 1e-9)
    return [round(first + n * step, 10) for n in range(count + 1)]


def _floor_log(value: float) -> int:
    return int(f"{value:e}".partition("e")[2])


def _value_axis(axes: _Axes, unit: str) -> list[str]:
    parts = [_text(LEFT - 6, TOP - 12, unit, "end")]
    for value in steps_of(axes.low, axes.high):
        y = axes.y(value)
        parts.append(
            f'<path d="M{LEFT:g} {y:.1f}H{WIDTH - RIGHT:g}" stroke="#999999" stroke-width="0.5"/>'
        )
        parts.append(_text(LEFT - 6, y + 4, f"{value:g}", "end"))
    return parts


def _day_axis(axes: _Axes, size: float) -> list[str]:
    first, last = date.fromordinal(axes.first), date.fromordinal(axes.last)
    base = axes.base
    parts = [f'<path d="M{LEFT:g} {base:g}H{WIDTH - RIGHT:g}" stroke="black"/>']
    every = max(1, (last.year - first.year) // 8)
    starts = [date(year, 1, 1) for year in range(first.year, last.year + 1, every)]
    ticks = [day for day in starts if first <= day <= last]
    shown = ticks if len(ticks) >= 2 else [first, last]
    for day in shown:
        words = str(day.year) if len(ticks) >= 2 else day.isoformat()
        x = axes.x(day)
        parts.append(f'<path d="M{x:.1f} {base:g}v5" stroke="black"/>')
        at_edge = len(ticks) < 2 and day is shown[-1]
        parts.append(_text(x, base + 6 + size, words, "end" if at_edge else "middle"))
    return parts


def _legend(plot: TrendPlot, say: Texts) -> list[str]:
    slopes = {
        one.state: say(": {slope} a year", slope=f"{one.slope:+.2g} {plot.unit}")
        for one in plot.lines
    }
    parts, x = [], LEFT
    for state in dict.fromkeys(one.state for one in plot.points):
        words = f"{say.word(str(state))}{slopes.get(state, '')}"
        parts.append(_sign(x + 5, HEIGHT - 12, state))
        parts.append(_text(x + 15, HEIGHT - 8, words, "start"))
        x += 28 + 0.564 * plot.size * len(words)
    return parts


def _sign(x: float, y: float, state: PlantState) -> str:
    fill = "black" if state in FILLED else "white"
    shape = SIGNS.get(state, CROSS)
    return (
        f'<path transform="translate({x:.1f} {y:.1f})" d="{shape}" fill="{fill}" '
        'stroke="black" stroke-width="1.2"/>'
    )


def _point(axes: _Axes, one: Point) -> str:
    return _sign(axes.x(one.day), axes.y(one.value), one.state)


def _line(axes: _Axes, trend: Trend) -> str:
    x1, x2 = axes.x(trend.first), axes.x(trend.last)
    y1, y2 = axes.y(trend.at(trend.first)), axes.y(trend.at(trend.last))
    dash = "" if trend.state in FILLED else ' stroke-dasharray="6 4"'
    return f'<path d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}" stroke="black" fill="none"{dash}/>'
