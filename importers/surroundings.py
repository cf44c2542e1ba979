"""What stands around the values: hidden rows, columns and sheets, filters, comments."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from itertools import groupby

from importers.declared import Sheet
from importers.faults import Fault, Ledger
from importers.headings import Layout
from importers.sheets import SUPPORTS
from importers.table import Table, is_blank, letters
from supports.findings import Severity
from supports.proposals import Record
from supports.sentences import Sentence

_OLD_TAG = re.compile(
    r"\b(?:old|ex|was|formerly|former)\b[\s:.]*(?:tag)?[\s:.]*(\S*\d\S*)", re.IGNORECASE
)

_MOST_COLOURED = 0.34
"""Part of the values from which on a colour is how the table looks. Our own choice."""


FROM_1904 = "day numbers of the workbook count from 1904 and were read so"
COLOURED = (
    "{count} cells stand out by colour, which was not read; does it say something of the value?"
)
ONE_COLOURED = (
    "{count} cell stands out by colour, which was not read; does it say something of the value?"
)


def report_surroundings(table: Table, ledger: Ledger) -> None:
    """Put down what a reader of the sheet may not have seen; all of it was read nevertheless."""
    if table.hidden:
        ledger.whole(_look("hidden-sheet", "the sheet is hidden; it was read all the same"))
    used = [i for i in sorted(table.hidden_rows) if i < len(table.rows) and any(table.rows[i])]
    if used:
        said = "rows {which} are hidden; all was read all the same"
        said = said if used[1:] else "row {which} is hidden; all was read all the same"
        what = Sentence(said, which=_spans(i + 1 for i in used))
        ledger.whole(_look("hidden-rows", what))
    width = max((len(row) for row in table.rows), default=0)
    if columns := [letters(i) for i in sorted(table.hidden_columns) if i < width]:
        said = "columns {which} are hidden; all was read all the same"
        said = said if columns[1:] else "column {which} is hidden; all was read all the same"
        what = Sentence(said, which=", ".join(columns))
        ledger.whole(_look("hidden-columns", what))
    if table.starts_in_1904:
        ledger.whole(Fault("days-from-1904", FROM_1904, severity=Severity.NOTE))
    if table.pictures:
        said = "{count} pictures lie over the cells; none was read"
        said = said if table.pictures > 1 else "{count} picture lies over the cells; none was read"
        what = Sentence(said, count=str(table.pictures))
        ledger.whole(_look("pictures-not-read", what))
    if table.filtered:
        ledger.whole(_look("filter-left-on", "a filter is on; all rows were read"))


def report_title(table: Table, layout: Layout, ledger: Ledger) -> None:
    """Put down that a title may tell the area, where the sheet has such a column but no heading."""
    sheet = layout.sheet
    rest = _rest_of(table.sheet, sheet)
    has_area = any(column.field == "area" for column in sheet.columns)
    if rest and has_area and layout.of("area") is None:
        what = Sentence(
            "the area seems to stand in the name of the sheet alone: '{rest}'; it was not taken",
            rest=rest,
        )
        ledger.whole(_look("area-in-title", what))


def told_apart_by_title(one: Record, other: Record) -> bool:
    """Return whether one tag stands on two sheets whose names alone tell the area."""
    if one.subject != SUPPORTS.subject or "area" in {*one.values, *other.values}:
        return False
    first, second = (_rest_of(record.source.sheet, SUPPORTS) for record in (one, other))
    return first != second and first.isalpha() and second.isalpha()


def _rest_of(title: str, sheet: Sheet) -> str:
    """Return what follows the declared name in the name of a sheet."""
    return title[len(sheet.name) :].strip(" -_().") if title.startswith(sheet.name) else ""


def report_remarks(table: Table, headings: Collection[int], ledger: Ledger) -> None:
    """Put down the comments beside values; those beside headings explain the sheet."""
    for (row, column), text in sorted(table.remarks.items()):
        if row not in headings:
            ledger.add(_remark(text), row, column, text)


def report_colours(table: Table, headings: Collection[int], ledger: Ledger) -> None:
    """Put down the cells that stand out by colour; stripes all over a table say nothing."""
    values = [i for i, row in enumerate(table.rows) if i > min(headings) and i not in headings]
    used = sum(not is_blank(raw) for i in values for raw in table.rows[i]) if table.coloured else 0
    below = {*values}
    cells = sorted(
        (row, column)
        for row, column in table.coloured
        if row in below and table.cell(row, column).text.strip()
    )
    if cells and len(cells) <= _MOST_COLOURED * used:
        what = Sentence(ONE_COLOURED if len(cells) == 1 else COLOURED, count=str(len(cells)))
        ledger.add(_look("colours-not-read", what), *cells[0], table.cell(*cells[0]).value)


def _look(code: str, what: str) -> Fault:
    return Fault(code, what, severity=Severity.LOOK)


def _remark(text: str) -> Fault:
    if match := _OLD_TAG.search(text):
        return Fault(
            "former-tag-in-comment",
            "a comment beside the cell names a former tag, which was not taken",
            Sentence("'{tag}' in the column 'Former tag'", tag=match[1].strip(".,;)")),
            severity=Severity.LOOK,
        )
    return Fault(
        "comment-not-read", "a comment beside the cell was not read", severity=Severity.NOTE
    )


def _spans(numbers: Iterable[int]) -> str:
    """Write numbers as spans.

    >>> _spans([4, 5, 6, 9])
    '4-6, 9'
    """
    runs = groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0])
    spans = [[number for _, number in run] for _, run in runs]
    return ", ".join(f"{s[0]}-{s[-1]}" if len(s) > 1 else f"{s[0]}" for s in spans)
