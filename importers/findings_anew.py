"""Findings handed back for workbooks that cannot be written in their own form: anew, as .xlsx.

The same sheets with the same values in the same cells; formats and formulas stay in the original.
"""

from __future__ import annotations

import io
import math
from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from typing import Any

import xlsxwriter

from importers.findings_colours import COLOURS
from importers.findings_said import LINE, WIDTH, Said, column_of
from importers.table import Raw, Table, text_of
from importers.workbook import Workbook

_NARROWEST, _WIDEST = 9, 40
"""Width of a column of values [characters]; spreadsheet programs begin with the narrowest."""
_LITERAL = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_numbers": False,
    "strings_to_urls": False,
}


def anew_with(book: Workbook, texts: Mapping[str, Mapping[int, Said]]) -> bytes:
    """Return a workbook of the same cells with a column of findings on each sheet that has some."""
    out = io.BytesIO()
    written = xlsxwriter.Workbook(out, _LITERAL)
    formats = _formats(written)
    for table in book.tables:
        page = written.add_worksheet(table.sheet)
        _copy(page, table, formats)
        if said := texts.get(table.sheet):
            column = column_of(table.rows)
            page.set_column(column, column, WIDTH)
            page.freeze_panes(min(said), 0)
            for row, one in said.items():
                page.write_string(row - 1, column, one.text, formats[one.worst])
                if one.height > LINE:
                    page.set_row(row - 1, one.height)
    written.close()
    return out.getvalue()


def _formats(book: Any) -> dict[Any, Any]:
    wrapped = {"text_wrap": True, "valign": "top"}
    colours = {s: book.add_format({**wrapped, "bg_color": f"#{c}"}) for s, c in COLOURS.items()}
    shown = {date: "yyyy-mm-dd", datetime: "yyyy-mm-dd hh:mm", time: "hh:mm", timedelta: "[h]:mm"}
    return {
        **colours,
        **{kind: book.add_format({"num_format": form}) for kind, form in shown.items()},
    }


def _copy(page: Any, table: Table, formats: Mapping[Any, Any]) -> None:
    if table.hidden:
        page.hide()
    for column, width in _widths(table).items():
        page.set_column(column, column, width)
    for top, left, bottom, right in table.merged:
        if (bottom, right) > (top, left):
            page.merge_range(top, left, bottom, right, "")
    for row, cells in enumerate(table.rows):
        for column, raw in enumerate(cells):
            if raw != "":
                _put(page, row, column, raw, formats)


def _widths(table: Table) -> dict[int, int]:
    """Return how wide columns must be to show their values; a title may run over its neighbours."""
    longest: dict[int, int] = {}
    for cells in table.rows:
        used = [(column, text_of(raw)) for column, raw in enumerate(cells) if raw != ""]
        for column, text in used if len(used) > 1 else ():
            longest[column] = max(longest.get(column, 0), len(text))
    return {c: min(n + 1, _WIDEST) for c, n in longest.items() if n >= _NARROWEST}


def _put(page: Any, row: int, column: int, raw: Raw, formats: Mapping[Any, Any]) -> None:
    if isinstance(raw, bool):
        page.write_boolean(row, column, raw)
    elif isinstance(raw, int | float) and math.isfinite(raw):
        page.write_number(row, column, raw)
    elif isinstance(raw, date | time | timedelta) and not _before_1900(raw):
        page.write_datetime(row, column, raw, formats[type(raw)])
    else:
        page.write_string(row, column, text_of(raw))


def _before_1900(raw: date | time | timedelta) -> bool:
    return isinstance(raw, date) and raw.year < 1900
