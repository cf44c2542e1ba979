"""Columns of one subject: what the rules read, for one support, one line or the whole plant.

A frame is numpy arrays of one length. Numbers are SI floats; not-a-number is 'not known'. Words are
text; '' is 'not known'. Days are counted as `datetime.date.toordinal` does. Yes and no are 1 and 0.
A column that the register does not hold is absent, and reads as not known throughout. The columns
and what each means stand in ``supports/data/rule_columns.csv``.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
import numpy.typing as npt

from supports.units import Kind
from supports.vocabulary import Known

FloatColumn = npt.NDArray[np.float64]
BoolColumn = npt.NDArray[np.bool_]
IntColumn = npt.NDArray[np.int64]
TextColumn = npt.NDArray[np.object_]
Column = FloatColumn | TextColumn


class Subject(StrEnum):
    """What one row of a frame stands for."""

    UNIT = "unit"
    """A spring unit in place, or a support that has none."""
    SUPPORT = "support point"
    PIECE = "piece of hardware"
    LINE = "line"
    NOZZLE = "nozzle"
    CHANGE = "change"
    FINDING = "finding of a walkdown"
    FORM = "form handed in"
    VALUE = "value in a sheet"
    RECORD = "record under import"


@dataclass(frozen=True, slots=True)
class Frame:
    """Columns of one subject.

    Parameters
    ----------
    keys
        Number of each row's subject in the register; a unit's row without a unit has 0.
    names
        What people call it: tag, tag and position, line number.
    today
        The day for which the rules are asked, as a day number.
    """

    subject: Subject
    keys: IntColumn
    names: TextColumn
    columns: Mapping[str, Column]
    today: float = 0.0

    @property
    def size(self) -> int:
        """Return the number of rows."""
        return len(self.keys)

    def __getitem__(self, name: str) -> FloatColumn:
        """Return a column of numbers; all not known where the frame does not have it."""
        column: Any = self.columns.get(name)
        found: FloatColumn = np.full(self.size, np.nan) if column is None else column
        return found

    def text(self, name: str) -> TextColumn:
        """Return a column of words; all '' where the frame does not have it."""
        column: Any = self.columns.get(name)
        found: TextColumn = np.full(self.size, "", dtype=object) if column is None else column
        return found

    def yes(self, name: str) -> BoolColumn:
        """Return where a yes-or-no column says yes; not known is not yes."""
        return np.equal(self[name], 1.0)

    def no(self, name: str) -> BoolColumn:
        """Return where a yes-or-no column says no; not known is not no."""
        return np.equal(self[name], 0.0)

    def known(self, name: str) -> BoolColumn:
        """Return where a column is known."""
        column = self.columns.get(name)
        if column is None:
            return np.zeros(self.size, dtype=bool)
        if column.dtype == object:
            return np.asarray(column != "", dtype=bool)
        return ~np.isnan(column)

    def take(self, rows: npt.ArrayLike) -> Frame:
        """Return some of the rows."""
        chosen = np.asarray(rows)
        columns: dict[str, Column] = {name: c[chosen] for name, c in self.columns.items()}
        return replace(self, keys=self.keys[chosen], names=self.names[chosen], columns=columns)

    def with_columns(self, columns: Mapping[str, Column]) -> Frame:
        """Return the frame with columns added or replaced."""
        return replace(self, columns={**self.columns, **columns})


def frame(
    subject: Subject, names: Iterable[str], columns: Mapping[str, Iterable[Any]], today: float = 0.0
) -> Frame:
    """Build a frame from plain sequences, numbering its rows; None is not known."""
    called = texts(names)
    return Frame(
        subject,
        np.arange(1, len(called) + 1, dtype=np.int64),
        called,
        {name: column(name, values) for name, values in columns.items()},
        today,
    )


def whole_keys(made: Frame, keys: Iterable[int]) -> Frame:
    """Return a frame with the register's own numbers as keys."""
    return replace(made, keys=np.array(list(keys), dtype=np.int64))


def column(name: str, values: Iterable[Any]) -> Column:
    """Return a column of numbers or words, as the catalogue of columns has it."""
    return texts(values) if catalogue()[name].is_text else numbers(values)


def numbers(values: Iterable[Any]) -> FloatColumn:
    """Return numbers as a column; None is not known."""
    return np.array(list(values), dtype=np.float64)


def texts(values: Iterable[Any]) -> TextColumn:
    """Return words as a column; None is not known."""
    items = [value or "" for value in values]
    result = np.empty(len(items), dtype=object)
    result[:] = items
    return result


def answers_of(words: TextColumn) -> FloatColumn:
    """Return yes and no as 1 and 0; anything else is not known."""
    said: FloatColumn = np.select([words == Known.YES, words == Known.NO], [1.0, 0.0], np.nan)
    return said


def day_number(day: date | None) -> float:
    """Return a day as its number; not known stays so."""
    return np.nan if day is None else float(day.toordinal())


@dataclass(frozen=True, slots=True)
class ColumnMeaning:
    """What a column is called, its kind of quantity, and the register's cell that it comes from."""

    name: str
    subject: str
    label: str
    kind: str
    origin: str

    @property
    def is_text(self) -> bool:
        """Return whether it holds words."""
        return self.kind == "text"

    @property
    def quantity(self) -> Kind | None:
        """Return the kind of quantity, None for words, days and answers."""
        return None if self.kind in {"text", "day", "yes"} else Kind(self.kind)


@cache
def catalogue() -> dict[str, ColumnMeaning]:
    """Return every column that rules may read, by name."""
    text = (files("supports") / "data" / "rule_columns.csv").read_text(encoding="utf-8")
    return {row["name"]: ColumnMeaning(**row) for row in csv.DictReader(text.splitlines())}
