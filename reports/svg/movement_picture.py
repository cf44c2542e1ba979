"""A line's movement picture as SVG: what was predicted beside what was read, support by support."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from reports.languages import IN_ENGLISH, Texts
from reports.svg.trend_plot import steps_of

HEIGHT, LEFT, RIGHT, TOP, BOTTOM = 320.0, 60.0, 20.0, 40.0, 76.0
STEP, LEAST = 62.0, 640.0


@dataclass(frozen=True, slots=True)
class Moved:
    """A support's movement from shut down to operating, up positive, in the unit of the picture.

    Parameters
    ----------
    predicted, read
        None where not known.
    marked
        Whether its movement broke a rule.
    """

    tag: str
    predicted: float | None
    read: float | None
    marked: bool = False


def movement_svg(title: str, unit: str, supports: Sequence[Moved], say: Texts = IN_ENGLISH) -> str:
    """Return the picture as SVG text."""
    width = max(LEAST, LEFT + RIGHT + STEP * len(supports))
    values = [v for one in supports for v in (one.predicted, one.read) if v is not None]
    low, high = min([0.0, *values]), max([0.0, *values])
    room = 0.1 * (high - low) or 1.0
    low, high = low - room, high + room

    def y(value: float) -> float:
        return HEIGHT - BOTTOM - (value - low) / (high - low) * (HEIGHT - TOP - BOTTOM)

    parts = [_text(LEFT, 14, title, "start", "bold"), _text(LEFT, TOP - 8, unit, "end")]
    for value in steps_of(low, high):
        stroke = "1.6" if value == 0 else "0.5"
        parts.append(
            f'<path d="M{LEFT:g} {y(value):.1f}H{width - RIGHT:g}" stroke="#666666" '
            f'stroke-width="{stroke}"/>{_text(LEFT - 6, y(value) + 4, f"{value:g}", "end")}'
        )
    for number, one in enumerate(supports):
        x = LEFT + STEP * (number + 0.5)
        parts += _support(x, one, y(one.predicted or 0.0), y(one.read or 0.0), say)
    parts.append(_key(say))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {HEIGHT:g}" '
        f'font-family="Inter, sans-serif" font-size="11" role="img"><title>{escape(title)}</title>'
        f'<rect width="{width:g}" height="{HEIGHT:g}" fill="white"/>{"".join(parts)}</svg>'
    )


def _support(x: float, one: Moved, predicted: float, read: float, say: Texts) -> list[str]:
    base = HEIGHT - BOTTOM
    parts = [_text(x, base + 16, one.tag, "middle", "bold" if one.marked else "normal")]
    if one.predicted is not None and one.read is not None:
        parts.append(
            f'<path d="M{x:.1f} {predicted:.1f}V{read:.1f}" stroke="black" '
            f'stroke-width="{2.4 if one.marked else 1}"/>'
        )
    if one.predicted is not None:
        parts.append(
            f'<circle cx="{x:.1f}" cy="{predicted:.1f}" r="5.5" fill="white" stroke="black" '
            'stroke-width="1.4"/>'
        )
    if one.read is not None:
        parts.append(f'<path transform="translate({x:.1f} {read:.1f})" d="M-5.5 4L0 -6L5.5 4Z"/>')
    parts.append(_text(x, base + 30, _beneath(one, say), "middle"))
    return parts


def _beneath(one: Moved, say: Texts) -> str:
    if one.marked:
        return say("see table")
    if one.read is None:
        return say("not read")
    return say("not predicted") if one.predicted is None else ""


def _key(say: Texts) -> str:
    y = HEIGHT - 12
    return (
        f'<circle cx="{LEFT + 6:g}" cy="{y - 4:g}" r="5.5" fill="white" stroke="black" '
        f'stroke-width="1.4"/>{_text(LEFT + 16, y, say("predicted"), "start")}'
        f'<path transform="translate({LEFT + 96:g} {y - 4:g})" d="M-5.5 4L0 -6L5.5 4Z"/>'
        f"{_text(LEFT + 106, y, say('read on a pair of walks; up is positive'), 'start')}"
    )


def _text(x: float, y: float, words: str, anchor: str, weight: str = "normal") -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-weight="{weight}">'
        f"{escape(words)}</text>"
    )
