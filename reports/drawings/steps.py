"""Who is turned when, drawn: units down, rounds across."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reports.drawings.boxes import text_width
from reports.drawings.primitives import (
    HAIR,
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

_ROW, _SIZE = 5.6, 2.4


@dataclass(frozen=True, slots=True)
class Turned:
    """What is done to one unit in each step; empty where it is left alone."""

    unit: str
    in_step: tuple[str, ...]


def rounds_matrix(
    steps: Sequence[str], units: Sequence[Turned], width: float = 264.0, say: Texts = IN_ENGLISH
) -> Drawing:
    """Draw who is turned in which step: units down, steps across, words where something is done."""
    left = 4.0 + max((text_width(u.unit, _SIZE, bold=True) for u in units), default=20.0)
    cell = (width - left) / max(1, len(steps))
    top, bottom = 7.0, 7.0 + _ROW * len(units)
    items: list[Item] = [
        Words((left + cell * (n + 0.5), 3.5), name, _SIZE, bold=True)
        for n, name in enumerate(steps)
    ]
    for number, unit in enumerate(units):
        items += _unit_row(unit, top + _ROW * number, left, cell)
    lines = (left + cell * n for n in range(len(steps) + 1))
    items += [Stroke(((x, top), (x, bottom)), HAIR) for x in lines]
    items += [Stroke(((0.0, y), (width, y)), HAIR) for y in _edges(top, len(units))]
    items.append(Stroke(((0.0, top), (width, top)), STRONG))
    return Drawing(width, bottom + 1.0, tuple(items), _matrix_told(steps, units, say))


def _edges(top: float, rows: int) -> Iterator[float]:
    return (top + _ROW * row for row in range(1, rows + 1))


def _unit_row(unit: Turned, top: float, left: float, cell: float) -> Iterator[Item]:
    middle = top + _ROW / 2.0
    for number, words in enumerate(unit.in_step):
        if words:
            x = left + cell * number
            yield Shape(rectangle(x, top, x + cell, top + _ROW), Fill.DOTS, 0.0)
            half = text_width(words, _SIZE, bold=True) / 2.0 + 0.6
            ground = rectangle(
                x + cell / 2 - half, top + 0.7, x + cell / 2 + half, top + _ROW - 0.7
            )
            yield Shape(ground, Fill.WHITE, 0.0)
            yield Words((x + cell / 2.0, middle), words, _SIZE, bold=True)
    yield Words((0.0, middle), unit.unit, _SIZE, Anchor.START, bold=True)


def _matrix_told(steps: Sequence[str], units: Sequence[Turned], say: Texts) -> str:
    done = (
        say("{unit} in {step}: {words}.", unit=unit.unit, step=steps[n], words=words)
        for unit in units
        for n, words in enumerate(unit.in_step)
        if words
    )
    return " ".join((say("Who is turned when."), *done))
