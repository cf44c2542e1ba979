"""By which cells a row is known again in a mended copy, whatever the file is called."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from importers.declared import Sheet
from importers.sheets import SHEETS, named
from supports.findings import Finding
from supports.proposals import ROW, Record, Withheld, row_held_back

_SHEET = {sheet.subject: sheet for sheet in SHEETS}
_MAY_BE_BLANK = {"nth"}


def known_by(
    sheet: Sheet, row: int, cells: Mapping[str, str], doubtful: Collection[str] = ()
) -> dict[str, str]:
    """Return the cells, as found, that a row is known by: those that name it.

    Where one of them is in doubt itself, it is known by all the other cells and its number.

    Parameters
    ----------
    row
        Counted from 1.
    cells
        Text by field.
    doubtful
        Fields that were not taken.
    """
    optional = _MAY_BE_BLANK | {field for field, _ in sheet.when_blank}
    if all(f not in doubtful and (cells.get(f) or f in optional) for f in sheet.key):
        return {field: cells.get(field, "") for field in sheet.key}
    kept = {field: text for field, text in cells.items() if text and field not in doubtful}
    return {ROW: str(row), **kept}


def held_back(record: Record, why: Finding) -> Withheld:
    """Return the whole row of a record, which waits for an answer, as found."""
    sheet, cells = _SHEET[record.subject], record.source.cells
    fields = [column.field for column in sheet.columns if column.field in cells]
    texts = {field: cells[field].text.strip() for field in fields}
    return row_held_back(record, named(record), why, known_by(sheet, record.source.row, texts))
