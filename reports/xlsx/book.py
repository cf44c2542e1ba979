"""Workbooks: text stays text, ids stay locked, same input gives same bytes."""

from __future__ import annotations

import io
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import xlsxwriter
from xlsxwriter.utility import xl_col_to_name

from reports.contents.common import PageSize, PaperHead
from reports.contents.written import NOT_KNOWN, cut, plain
from supports.plant_time import in_utc, to_the_minute
from supports.units import Kind, unit

PAPER = {PageSize.A4: 9, PageSize.LETTER: 1}
FIRST_ROW = 4
"""Row index of the headings; the paper's head stands above."""
LONGEST_CELL = 32_000
"""A cell holds 32 767 signs at most (limit of the file format)."""
LINE, BOX, HIGHEST_ROW = 13.5, 26.0, 409.0
"""Heights [pt]: of a line of words, of a row that people fill, of the highest row there is."""
BOLD_SIGNS = 0.85
"""Signs of a bold heading that fit in a column, as a share of its width."""
LISTS_SHEET = "_lists"
"""Hidden sheet with the words of the drop-downs: a list written into a rule is parted at commas."""

Cell = str | float | int | None


@dataclass(frozen=True, slots=True)
class Column:
    """One column: heading, width in signs, number format, whether people fill it."""

    heading: str
    width: float
    number: str = "General"
    entry: bool = False
    choices: tuple[str, ...] = ()
    rule: Mapping[str, Any] | None = None
    hidden: bool = False


class Book:
    """A workbook in the making; `finished` returns its bytes."""

    def __init__(self, head: PaperHead, page: PageSize) -> None:
        self._head, self._page = head, page
        self._bytes = io.BytesIO()
        self._book = xlsxwriter.Workbook(
            self._bytes,
            {
                "in_memory": True,
                "strings_to_formulas": False,
                "strings_to_urls": False,
                "strings_to_numbers": False,
            },
        )
        made = in_utc(head.made).replace(tzinfo=None)
        self._book.set_properties({"title": plain(head.title), "created": made})
        self._looks: dict[tuple[str, bool], Any] = {}
        self._lists: list[tuple[str, ...]] = []

    def finished(self) -> bytes:
        """Close the workbook and return its bytes."""
        self._write_lists()
        self._book.close()
        return self._bytes.getvalue()

    def table(
        self, name: str, columns: Sequence[Column], rows: Sequence[Sequence[Cell]], *,
        pages_wide: int = 1,
    ) -> Any:  # fmt: skip
        """Write one sheet: head of the paper, headings, rows; return the sheet.

        Parameters
        ----------
        pages_wide
            Printed pages beside each other; the first two columns stand on each.
        """
        sheet = self._book.add_worksheet(name)
        self._print_set_up(sheet)
        sheet.fit_to_pages(pages_wide, 0)
        if pages_wide > 1:
            sheet.repeat_columns(0, 1)
        self._head_rows(sheet)
        for place, column in enumerate(columns):
            self._column(sheet, place, column, len(rows))
        sheet.set_row(FIRST_ROW, row_height([c.heading for c in columns], columns, bold=True))
        for number, row in enumerate(rows, FIRST_ROW + 1):
            sheet.set_row(number, row_height(row, columns))
            for place, (value, column) in enumerate(zip(row, columns, strict=True)):
                self._cell(sheet, number, place, value, self._look(column))
        sheet.protect("", {"format_columns": True, "format_rows": True, "sort": True})
        return sheet

    def facts(self, name: str, facts: Mapping[str, str]) -> None:
        """Write a hidden, locked sheet of names and values."""
        sheet = self._book.add_worksheet(name)
        for number, (key, value) in enumerate(facts.items()):
            sheet.write_string(number, 0, key)
            sheet.write_string(number, 1, value)
        sheet.protect()
        sheet.hide()

    def _cell(self, sheet: Any, row: int, place: int, value: Cell, look: Any) -> None:
        if value is None:
            sheet.write_blank(row, place, None, look)
        elif isinstance(value, str):
            sheet.write_string(row, place, plain(value)[:LONGEST_CELL], look)
        else:
            sheet.write_number(row, place, value, look)

    def _look(self, column: Column) -> Any:
        key = (column.number, column.entry)
        if key not in self._looks:
            dress = {
                "num_format": column.number,
                "locked": not column.entry,
                "border": 1,
                "border_color": "#808080",
                "valign": "vcenter",
                "text_wrap": True,
                "font_size": 10,
            }
            if not column.entry:
                dress["bg_color"] = "#EEEEEE"
            self._looks[key] = self._book.add_format(dress)
        return self._looks[key]

    def _column(self, sheet: Any, place: int, column: Column, rows: int) -> None:
        heading = self._book.add_format(
            {"bold": True, "text_wrap": True, "valign": "top", "bottom": 2, "font_size": 9}
        )
        sheet.write_string(FIRST_ROW, place, column.heading, heading)
        sheet.set_column(place, place, column.width, None, {"hidden": int(column.hidden)})
        if not rows:
            return
        last = FIRST_ROW + rows
        if column.choices:
            sheet.data_validation(
                FIRST_ROW + 1, place, last, place, self._list_rule(column.choices)
            )
        elif column.rule:
            sheet.data_validation(FIRST_ROW + 1, place, last, place, dict(column.rule))

    def _list_rule(self, choices: tuple[str, ...]) -> dict[str, Any]:
        if choices not in self._lists:
            self._lists.append(choices)
        place = xl_col_to_name(self._lists.index(choices), col_abs=True)
        return {
            "validate": "list",
            "source": f"='{LISTS_SHEET}'!{place}$1:{place}${len(choices)}",
            "error_title": "Not on the list",
            "error_message": "Choose one of the words on the list.",
        }

    def _write_lists(self) -> None:
        if not self._lists:
            return
        sheet = self._book.add_worksheet(LISTS_SHEET)
        for place, choices in enumerate(self._lists):
            for row, word in enumerate(choices):
                sheet.write_string(row, place, word)
        sheet.protect()
        sheet.hide()

    def _head_rows(self, sheet: Any) -> None:
        head, bold = self._head, self._book.add_format({"bold": True, "font_size": 14})
        sheet.write_string(0, 0, plain(head.title), bold)
        sheet.write_string(1, 0, plain(head.about))
        sheet.write_string(2, 0, _identity(head))
        sheet.freeze_panes(FIRST_ROW + 1, 2)

    def _print_set_up(self, sheet: Any) -> None:
        sheet.set_landscape()
        sheet.set_paper(PAPER[self._page])
        sheet.set_margins(left=0.4, right=0.4, top=0.6, bottom=0.7)
        sheet.repeat_rows(FIRST_ROW)
        sheet.hide_gridlines(2)
        head = self._head
        sheet.set_header(
            f"&L&B{_amp(cut(head.title, 50))}&C{_amp(cut(head.about, 60))}"
            f"&R{_amp(cut(head.number, 24))}  page &P of &N"
        )
        sheet.set_footer(f"&L&8{_amp(cut(_identity(head), 180))}&R&8 {_amp(cut(head.plant, 30))}")


def row_height(row: Sequence[Cell], columns: Sequence[Column], *, bold: bool = False) -> float:
    """Return the height [pt] that wrapped words need; not every program works it out itself.

    Parameters
    ----------
    bold
        Of headings, whose signs are wider.
    """
    share = BOLD_SIGNS if bold else 1.0
    lines = max(
        (
            _lines(value, column.width * share)
            for value, column in zip(row, columns, strict=True)
            if isinstance(value, str) and not column.hidden
        ),
        default=1,
    )
    least = BOX if any(column.entry for column in columns) and not bold else 0.0
    return min(max(least, LINE * lines + 2.0), HIGHEST_ROW)


def _lines(text: str, width: float) -> int:
    """Return the lines that a text takes when it is broken between words."""
    count = 0
    for part in text.split("\n"):
        room = 0.0
        for word in part.split(" "):
            if room < len(word):
                count += max(1, math.ceil(len(word) / width))
                room = width - len(word) % width - 1.0
            else:
                room -= len(word) + 1.0
    return count


def _identity(head: PaperHead) -> str:
    parts = (
        head.number,
        f"revision {cut(head.revision, 12)}",
        f"made {to_the_minute(head.made)}",
        f"valid until {cut(head.valid_until)}",
        f"fingerprint {cut(head.fingerprint, 20)}",
        f"copy no. {cut(head.copy_number, 8) or '____'}",
        f"prepared {cut(head.prepared_by, 20)}",
        f"checked {cut(head.checked_by, 20)}",
    )
    return " · ".join(parts)


def _amp(text: str) -> str:
    return text.replace("&", "&&")


def number_rule(criteria: str, low: float, high: float, words: str) -> dict[str, Any]:
    """Return a rule for a number between two bounds; `criteria` is 'decimal' or 'integer'."""
    return {
        "validate": criteria,
        "criteria": "between",
        "minimum": low,
        "maximum": high,
        "error_title": "Not in range",
        "error_message": words,
    }


def in_unit(si: float | None, symbol: str, kind: Kind, digits: int = 4) -> Cell:
    """Return an SI value as a number in the unit named, or the words for unknown."""
    return NOT_KNOWN if si is None else round(unit(symbol, kind).from_si(si), digits) + 0.0
