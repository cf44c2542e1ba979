"""A whole column of cells at a time: from what stands there to the register's values."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from importers.days import maybe_swapped, read_day
from importers.declared import UNIT_COLUMNS, Form
from importers.faults import LONGEST_VALUE, Fault, Ledger, Outcome, too_long
from importers.headings import Taken
from importers.table import Raw, RefusedCell, is_blank, text_of
from importers.unit_words import read_unit
from importers.words import read_name, read_tag, read_text, read_whole, read_word
from supports.findings import Severity
from supports.proposals import Value

_DECIMAL_COMMA = re.compile(r"\s*[-+−]?\d+,(?:\d{1,2}|\d{4,})\s*[^\d,.]*")
_DECIMAL_POINT = re.compile(r"\s*[-+−]?(?:\d*\.(?:\d{1,2}|\d{4,})|0*\.\d+)\s*[^\d,.]*")
Codes = npt.NDArray[np.int_]
_NUMBER_OR_BLANK = {float, type(None)}


@dataclass(slots=True)
class Body:
    """The rows below the headings that are neither blank nor headings again.

    Parameters
    ----------
    rows
        Cells, all rows equally wide.
    numbers
        The row of the sheet that each is, counted from 0.
    semicolons
        The cells were parted by semicolons, as where the comma parts decimals.
    """

    rows: list[list[Raw]]
    numbers: list[int]
    semicolons: bool = False
    _decimal_commas: bool | None = None
    _groups: dict[int, tuple[list[str], Codes]] = field(default_factory=dict)
    _columns: list[tuple[Raw, ...]] | None = None

    def column(self, index: int) -> Sequence[Raw]:
        """Return the cells of one column."""
        if self._columns is None:
            self._columns = list(zip(*self.rows, strict=True))
        return self._columns[index] if self.rows else ()

    def has_decimal_commas(self) -> bool:
        """Return whether a cell holds a number that can only have a decimal comma.

        Cells parted by semicolons speak for it too, as long as no cell has a decimal point.
        """
        if self._decimal_commas is None:
            self._decimal_commas = self._any_like(_DECIMAL_COMMA, ",") or (
                self.semicolons and not self._any_like(_DECIMAL_POINT, ".")
            )
        return self._decimal_commas

    def _any_like(self, pattern: re.Pattern[str], sign: str) -> bool:
        texts = (raw for row in self.rows for raw in row if isinstance(raw, str) and sign in raw)
        return any(map(pattern.fullmatch, texts))

    def groups(self, index: int) -> tuple[list[str], Codes]:
        """Return the different texts of a column, and for each row which of them it holds."""
        if index not in self._groups:
            texts = [text_of(raw).strip() for raw in self.column(index)]
            order = {text: number for number, text in enumerate(dict.fromkeys(texts))}
            self._groups[index] = list(order), np.array([order[text] for text in texts], dtype=int)
        return self._groups[index]


@dataclass(slots=True)
class Converted:
    """The values of one column; `bad` are the rows whose cell was refused."""

    values: list[Value]
    bad: set[int] = field(default_factory=set)

    def numbers(self) -> npt.NDArray[np.float64]:
        """Return the values as numbers; what is none compares with nothing."""
        if set(map(type, self.values)) <= _NUMBER_OR_BLANK:
            return np.array(self.values, dtype=np.float64)
        return np.array([v if isinstance(v, float) else np.nan for v in self.values])


def read_cells(body: Body, taken: Taken, ledger: Ledger, latest: date | None = None) -> Converted:
    """Read a column that holds no quantities."""
    reader, column = _reader(taken, latest), body.column(taken.index)
    marks = _marks(column)
    cells = dict(zip(marks, column, strict=True))
    known = {mark: _outcome(raw, reader) for mark, raw in cells.items()}
    values = {mark: outcome.value for mark, outcome in known.items()}
    answer = Converted(list(map(values.__getitem__, marks)))
    if taken.column.form is Form.DAY and (swapped := maybe_swapped(column)):
        at, doubt = swapped
        ledger.add(doubt, body.numbers[at], taken.index, column[at])
    if any(outcome.fault for outcome in known.values()):
        for i, mark in enumerate(marks):
            if (fault := known[mark].fault) is not None:
                _put_down(fault, i, column[i], body, taken, ledger, answer)
    return answer


def _marks(column: Sequence[Raw]) -> Sequence[Raw | tuple[type, Raw]]:
    """Return for each cell what is equal in equal cells only; a text is no struck-through text."""
    if set(map(type, column)) <= {str}:
        return column
    return [raw if type(raw) is str else (type(raw), raw) for raw in column]


def _put_down(
    fault: Fault, i: int, raw: Raw, body: Body, taken: Taken, ledger: Ledger, answer: Converted
) -> None:
    if fault.code == "number-as-text":
        ledger.once(fault, body.numbers[i], taken.index, raw)
        return
    ledger.add(fault, body.numbers[i], taken.index, raw)
    if fault.severity is Severity.STOP:
        answer.bad.add(i)


def _outcome(raw: Raw, reader: Callable[[Raw], Outcome]) -> Outcome:
    if isinstance(raw, RefusedCell):
        return Outcome(None, refusal(raw))
    if is_blank(raw):
        return Outcome(None)
    if reader is not read_text and isinstance(raw, str) and len(raw) > LONGEST_VALUE:
        return Outcome(None, too_long(raw))
    return reader(raw)


def refusal(cell: RefusedCell) -> Fault:
    """Return the fault of a cell whose value cannot be taken as it stands."""
    return _REFUSALS[cell.why]


_REFUSALS = {
    "uncounted": Fault(
        "formula-not-worked-out",
        "the cell holds a formula that no program has worked out yet",
        "a value",
        "Open the workbook in a spreadsheet program and save it, or type the value",
    ),
    "masked": Fault(
        "shown-otherwise",
        "the format of the cell shows another number than the one that it holds",
        "the number as it is shown, with its unit",
        "Look at the cell in a spreadsheet program and type what it shows",
    ),
    "error": Fault(
        "error-cell",
        "the formula in the cell has failed",
        "a value",
        "Mend the formula or type the value",
    ),
    "struck": Fault(
        "struck-through",
        "the cell holds text that is struck through",
        "the value that holds today, alone",
        "Type the value that holds; the old one belongs to the history",
    ),
    "moving": Fault(
        "date-moves",
        "the value is counted anew from today's date whenever the sheet is opened",
        "the value itself, typed",
        "Find out the value that held and type it",
    ),
}


def _reader(taken: Taken, latest: date | None) -> Callable[[Raw], Outcome]:
    form = taken.column.form
    if isinstance(form, type) and issubclass(form, StrEnum):
        return lambda raw: read_word(raw, form)
    if form is Form.UNIT:
        return lambda raw: _read_unit_cell(raw, taken)
    if form is Form.DAY:
        return lambda raw: read_day(raw, latest)
    if form is Form.NAME:
        return read_tag if taken.column.field in {"tag", "former_tag"} else read_name
    return read_whole if form is Form.WHOLE else read_text


def _read_unit_cell(raw: Raw, taken: Taken) -> Outcome:
    unit = read_unit(text_of(raw), UNIT_COLUMNS[taken.column.heading][0])
    return Outcome(None, unit) if isinstance(unit, Fault) else Outcome(unit.symbol)


def equally_wide(rows: Sequence[Sequence[Raw]], width: int) -> list[list[Raw]]:
    """Return rows filled up with blanks to one width."""
    blank: list[Raw] = [""]
    return [
        row if isinstance(row, list) and len(row) == width else [*row, *blank * (width - len(row))]
        for row in rows
    ]
