"""The blank workbook that users fill, and plain workbooks for whoever has rows to write."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path
from typing import Any

import xlsxwriter
from xlsxwriter.exceptions import FileCreateError

from importers.declared import Column, Form, Sheet, kind_of
from importers.sheets import HELP_SHEETS, SHEETS
from importers.table import Raw, letters
from importers.unit_choice import METRIC, UnitSet, heading_with_unit
from supports.errors import FileUnusable
from supports.units import Kind

ROWS_PREPARED = 2_000
"""Rows of the blank workbook that carry drop-downs and text format."""

_CREATED = datetime(2000, 1, 1)  # noqa: DTZ001  same content, same bytes: no clock in a file
_TEXT = {"num_format": "@"}
_DAY = {"num_format": "yyyy-mm-dd"}
_HEADING = {"bold": True, "text_wrap": True, "valign": "top", "bottom": 1}
_NEEDED = {**_HEADING, "bg_color": "#FFF2CC"}

Table = Sequence[Sequence[Raw | None]]
"""Rows of cells, the headings first; None is blank."""

_RULES = (
    "One row for each thing; the headings stay as they are.",
    "A shaded heading must be filled; any other cell may stay blank.",
    "A blank means 'not known'. Do not write 0, 999 or '?' for that.",
    "Tags, line numbers and serials are text: 007 stays 007.",
    "The unit stands in the heading, as in 'Load [kN]'; another unit may be put there instead.",
    "kg as a load, t, ton and lb can mean two things and are refused: write kgf, lbf or kN.",
    "Numbers carry a point for the decimals and no thousands separators.",
    "Days are written as year-month-day: 2009-04-03.",
    "On the sheet 'Nameplates' the units stand in the row, as printed on the scale.",
    "A table of load per turn is written as '18 to 20: 0.27; 20 to 24: 0.29'.",
    "Nothing is stored while a finding forbids it; each finding names file, sheet and cell.",
)


def write_tables(path: Path, tables: Mapping[str, Table]) -> None:
    """Write filled sheets: text as text, never as a formula; numbers as numbers, days as days."""
    book = _book(path)
    formats = _Formats(book)
    for name, rows in tables.items():
        sheet = book.add_worksheet(name)
        for r, row in enumerate(rows):
            for c, value in enumerate(row):
                formats.put(sheet, r, c, value, heading=r == 0)
        sheet.freeze_panes(1, 0)
    _store(book, path)


def write_blank(path: Path, sheets: Sequence[Sheet] = SHEETS, units: UnitSet = METRIC) -> None:
    """Write the blank workbook: a sheet for each subject, drop-downs, notes, how to fill it."""
    book = _book(path)
    formats = _Formats(book)
    _write_help(book, formats, sheets)
    lists = _word_lists(sheets)
    for sheet in sheets:
        _write_sheet(book.add_worksheet(sheet.name), formats, sheet, units, lists)
    _write_words(book, formats, lists)
    _store(book, path)


def _store(book: Any, path: Path) -> None:
    try:
        book.close()
    except FileCreateError as error:
        raise FileUnusable("the file cannot be written", where=str(path)) from error


def _book(path: Path) -> Any:
    book = xlsxwriter.Workbook(str(path), {"strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"created": _CREATED})
    return book


class _Formats:
    """Cell formats, made once for a workbook."""

    def __init__(self, book: Any) -> None:
        self.heading = book.add_format(_HEADING)
        self.needed = book.add_format(_NEEDED)
        self.text = book.add_format(_TEXT)
        self.day = book.add_format(_DAY)

    def put(self, sheet: Any, row: int, column: int, value: Raw | None, *, heading: bool) -> None:
        """Write one value as what it is."""
        if value is None or value == "":
            return
        if isinstance(value, str):
            sheet.write_string(row, column, value, self.heading if heading else self.text)
        elif isinstance(value, datetime | date):
            sheet.write_datetime(row, column, value, self.day)
        elif isinstance(value, bool):
            sheet.write_boolean(row, column, value)
        else:
            sheet.write(row, column, value)


def _write_help(book: Any, formats: _Formats, sheets: Sequence[Sheet]) -> None:
    page = book.add_worksheet(HELP_SHEETS[0])
    page.set_column(0, 0, 100)
    page.write_string(0, 0, "How to fill this workbook", formats.heading)
    lines = [*_RULES, "Sheets: " + ", ".join(sheet.name for sheet in sheets) + "."]
    wrapped = book.add_format({"text_wrap": True, "valign": "top"})
    for row, line in enumerate(lines, 1):
        page.write_string(row, 0, line, wrapped)


def _word_lists(sheets: Sequence[Sheet]) -> dict[type[StrEnum], str]:
    """Return the range of the sheet of words that holds each closed list."""
    kinds = dict.fromkeys(words for sheet in sheets for c in sheet.columns for words in _words(c))
    return {
        words: f"={HELP_SHEETS[1]}!${letters(i)}$2:${letters(i)}${len(words) + 1}"
        for i, words in enumerate(kinds)
    }


def _words(column: Column) -> Iterator[type[StrEnum]]:
    if isinstance(column.form, type) and issubclass(column.form, StrEnum):
        yield column.form


def _write_words(book: Any, formats: _Formats, lists: Mapping[type[StrEnum], str]) -> None:
    page = book.add_worksheet(HELP_SHEETS[1])
    for c, words in enumerate(lists):
        page.write_string(0, c, words.__name__, formats.heading)
        for r, word in enumerate(words, 1):
            page.write_string(r, c, word.value)


def _write_sheet(
    page: Any,
    formats: _Formats,
    sheet: Sheet,
    units: UnitSet,
    lists: Mapping[type[StrEnum], str],
) -> None:
    page.freeze_panes(1, len(sheet.key))
    page.set_row(0, 45)
    for c, column in enumerate(sheet.columns):
        heading = heading_for(sheet, column, units)
        page.write_string(0, c, heading, formats.needed if column.needed else formats.heading)
        page.write_comment(0, c, "\n".join(_note(column)))
        page.set_column(c, c, 16, formats.text if _is_text(column) else None)
        for words in _words(column):
            options = {"validate": "list", "source": lists[words], "error_title": "Not on the list"}
            page.data_validation(1, c, ROWS_PREPARED, c, options)


def heading_for(sheet: Sheet, column: Column, units: UnitSet) -> str:
    """Return the heading of a column; no unit where the sheet gives it row by row."""
    if any(other.heading == column.unit_column for other in sheet.columns):
        return column.heading
    return heading_with_unit(column, units)


def _is_text(column: Column) -> bool:
    return kind_of(column) is None and column.form not in {Form.WHOLE, Form.DAY}


def _note(column: Column) -> Iterator[str]:
    if column.needed:
        yield "Must be filled."
    for words in _words(column):
        yield "One of: " + ", ".join(words)
    if column.form is Form.DAY:
        yield "A day, as 2009-04-03."
    if column.form is Form.NAME:
        yield "Text, exactly as on the drawing or the plate."
    if column.form is Form.TURN_TABLE:
        yield "As '18 to 20: 0.27; 20 to 24: 0.29'."
    if kind := kind_of(column):
        signed = column.signed or kind is Kind.TEMPERATURE
        yield f"Quantity: {kind}, " + ("with its sign." if signed else "0 or more.")
    if column.unit_column:
        yield f"Unit in the heading, or row by row in '{column.unit_column}'."
    if column.aliases:
        yield "Also taken as heading: " + ", ".join(column.aliases)
