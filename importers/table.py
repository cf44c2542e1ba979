"""One neutral table: rows of cells exactly as found, whatever the file was.

Rows stay plain lists, so that a sheet of four million cells costs no object each; a `Cell` is made
only where somebody looks at one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import Self

from supports.findings import Place

Raw = str | float | int | bool | date | datetime | time | timedelta
"""What a reader hands over for one cell; blank is ''."""


class RefusedCell(str):
    """A cell whose value cannot be taken as it stands; `why` says which case it is."""

    __slots__ = ()
    why = ""


class ErrorCell(RefusedCell):
    """The error text (``#REF!`` and the like) that stands where a value should."""

    __slots__ = ()
    why = "error"


class StruckCell(RefusedCell):
    """Text that is struck through, in whole or in part; the part struck stands in ~~ ~~."""

    __slots__ = ()
    why = "struck"


class MovingCell(RefusedCell):
    """A day that the sheet counts anew whenever it is opened."""

    __slots__ = ()
    why = "moving"


class UncountedCell(RefusedCell):
    """A formula that no program has worked out yet, so that nobody knows its value."""

    __slots__ = ()
    why = "uncounted"


class MaskedCell(RefusedCell):
    """A number whose format shows another one: in thousands, by conditions, with words within."""

    __slots__ = ()
    why = "masked"


class PercentCell(float):
    """A fraction that the sheet shows as a percentage."""

    __slots__ = ()


class DeclaredCell(float):
    """A number whose unit a person has declared; it keeps its text as found."""

    __slots__ = ("found", "unit")

    def __new__(cls, number: float, unit: str, found: str) -> Self:
        """Make the number and keep unit and text beside it."""
        cell = super().__new__(cls, number)
        cell.unit, cell.found = unit, found
        return cell

    unit: str
    found: str


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: its text as found and the value behind it."""

    text: str
    value: Raw
    is_error: bool
    is_number: bool
    is_date: bool


@dataclass(frozen=True, slots=True)
class Table:
    """All rows of one sheet; ``rows[0]`` is row 1 of the sheet.

    Parameters
    ----------
    all_text
        The file keeps no kinds of cell: everything in it is text (CSV).
    semicolons
        Its cells are parted by semicolons, as programs do where the comma parts decimals.
    hidden_rows, hidden_columns
        Counted from 0.
    hidden
        The sheet as a whole is hidden.
    merged
        Merged blocks as (first row, first column, last row, last column), counted from 0.
    remarks
        Comments beside cells, by (row, column).
    starts_in_1904
        Day numbers of the workbook count from 1904.
    saved_on
        The day on which the workbook says it was last saved.
    pictures
        How many lie over the cells.
    coloured
        Cells that stand out by their colour, by (row, column).
    """

    file: str
    sheet: str
    rows: Sequence[Sequence[Raw]]
    all_text: bool = False
    semicolons: bool = False
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()
    hidden: bool = False
    filtered: bool = False
    merged: tuple[tuple[int, int, int, int], ...] = ()
    remarks: Mapping[tuple[int, int], str] = field(default_factory=dict)
    starts_in_1904: bool = False
    saved_on: date | None = None
    pictures: int = 0
    coloured: frozenset[tuple[int, int]] = frozenset()

    def cell(self, row: int, column: int) -> Cell:
        """Return the cell at a row and a column counted from 0; outside all is blank."""
        line = self.rows[row] if row < len(self.rows) else ()
        return seen(line[column] if column < len(line) else "")

    def place(self, row: int, column: int) -> Place:
        """Return the address of a cell counted from 0."""
        return Place(self.file, self.sheet, f"{letters(column)}{row + 1}")


def seen(raw: Raw) -> Cell:
    """Look at one raw value."""
    return Cell(
        text_of(raw),
        raw,
        is_error=isinstance(raw, RefusedCell),
        is_number=isinstance(raw, float | int) and not isinstance(raw, bool),
        is_date=isinstance(raw, date | datetime),
    )


def text_of(raw: Raw) -> str:
    """Return the text of a cell; a file that keeps numbers does not tell how it showed them.

    >>> text_of(4500.0), text_of(22.1), text_of(" PS-1 ")
    ('4500', '22.1', ' PS-1 ')
    """
    if isinstance(raw, str):
        return raw
    if isinstance(raw, bool):
        return str(raw).upper()
    if isinstance(raw, DeclaredCell):
        return raw.found
    if isinstance(raw, PercentCell):
        return f"{raw * 100.0:.13g} %"
    if isinstance(raw, float):
        return f"{raw:.15g}"
    return raw.isoformat() if isinstance(raw, date | datetime | time) else str(raw)


def is_blank(raw: Raw) -> bool:
    """Return whether a cell holds nothing but spaces."""
    return isinstance(raw, str) and not raw.strip("\u00a0\u200b\ufeff \t\r\n")


def letters(index: int) -> str:
    """Return the letters of a column counted from 0.

    >>> letters(0), letters(25), letters(26), letters(701)
    ('A', 'Z', 'AA', 'ZZ')
    """
    text = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def column_index(text: str) -> int:
    """Return the column counted from 0 that letters name.

    >>> column_index("AA")
    26
    """
    index = 0
    for letter in text:
        index = index * 26 + ord(letter) - ord("A") + 1
    return index - 1
