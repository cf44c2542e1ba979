"""Guesses at what columns mean, for a person to confirm; each with its reason and runner-up."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from importers.days import read_day
from importers.declared import Column, Form, Sheet, kind_of
from importers.headings import names, plain, split, unit_in
from importers.quantity_text import Amount, read_amount
from importers.table import Raw, Table, is_blank, text_of
from importers.words import read_word

SAMPLE = 200
LEAST = 0.45
"""A column that fits less well is not proposed at all. Our own choice."""


@dataclass(frozen=True, slots=True)
class Guess:
    """What one column may mean."""

    index: int
    heading: str
    field: str
    score: float
    reason: str
    runner_up: str = ""
    runner_up_score: float = 0.0


def guess_columns(table: Table, sheet: Sheet, top: int) -> list[Guess]:
    """Guess what each column below the headings in row `top` means; '' where nothing fits."""
    return [
        _guess(sheet, index, text_of(raw).strip(), _sample(table, top, index))
        for index, raw in enumerate(table.rows[top])
        if not is_blank(raw)
    ]


def _sample(table: Table, top: int, index: int) -> list[Raw]:
    rows = table.rows[top + 1 : top + 1 + SAMPLE]
    return [row[index] for row in rows if index < len(row) and not is_blank(row[index])]


def _guess(sheet: Sheet, index: int, heading: str, values: Sequence[Raw]) -> Guess:
    found = sorted(
        (_score(column, sheet, heading, values) for column in sheet.columns),
        key=lambda scored: -scored[0],
    )
    (best, reason, field), (next_best, _, runner_up) = found[0], found[1]
    if best < LEAST:
        return Guess(index, heading, "", best, "nothing fits well enough", field, best)
    return Guess(index, heading, field, best, reason, runner_up, next_best)


def _score(
    column: Column, sheet: Sheet, heading: str, values: Sequence[Raw]
) -> tuple[float, str, str]:
    known = names(sheet)
    exact = split(heading, known)
    if exact and known[exact.name] is column:
        return 1.0, "the heading is a declared one", column.field
    likeness = max(_likeness(heading, text) for text in (column.heading, *column.aliases))
    kind = kind_of(column)
    unit = unit_in(heading, kind) if kind else ""
    fit = _fit(column, values)
    telling = 0.4 if _is_telling(column) else 0.2
    score = (0.55 * likeness + telling * fit + 0.15 * bool(unit)) * (1.0 if fit else 0.5)
    return score, "; ".join(_reasons(column, likeness, unit, fit)), column.field


def _reasons(column: Column, likeness: float, unit: str, fit: float) -> Iterator[str]:
    yield f"the heading resembles '{column.heading}' ({likeness:.0%})"
    if unit:
        yield f"its unit {unit} is one of a {kind_of(column)}"
    yield f"{fit:.0%} of its values can be read so"


def _is_telling(column: Column) -> bool:
    """Return whether values that fit say much: few texts are a day or a word of the list."""
    return column.form is Form.DAY or isinstance(column.form, type)


@cache
def _likeness(one: str, other: str) -> float:
    """Return how much two headings resemble each other, in whatever order their words stand."""
    pairs = ((plain(one), plain(other)), (_in_order(one), _in_order(other)))
    return max(difflib.SequenceMatcher(None, a, b).ratio() for a, b in pairs)


def _in_order(text: str) -> str:
    return " ".join(sorted(text.casefold().split()))


def _fit(column: Column, values: Sequence[Raw]) -> float:
    """Return the part of the values that the column could take."""
    if not values:
        return 0.0
    return sum(_fits(column, raw) for raw in values) / len(values)


def _fits(column: Column, raw: Raw) -> bool:
    form = column.form
    if kind_of(column):
        number = isinstance(raw, float) or isinstance(read_amount(text_of(raw)), Amount)
        return number and not isinstance(raw, bool)
    if form is Form.DAY:
        return read_day(raw).fault is None
    if isinstance(form, type) and issubclass(form, StrEnum):
        return read_word(raw, form).fault is None
    if form is Form.WHOLE:
        return isinstance(raw, float) or text_of(raw).strip().isdecimal()
    return isinstance(raw, str)
