"""The filled-in form of a re-setting pack, row by row, as found.

Nothing in it is trusted before it is checked against the row's seal.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, cast

from importers.days import read_day
from importers.opened_form import facts_of, opened_form
from importers.sizes import load_not_known
from supports.errors import BadInput, ColumnMissing, QuantityUnreadable, SheetMissing
from supports.findings import Place
from supports.sentences import Sentence, joined
from supports.units import Kind, number, to_si

FORM_SHEET, META_SHEET = "As-found as-left", "_meta"
_HOUR = re.compile(r"[ ,]+\d{1,2}[:.]\d{2}(?::\d{2})?\s*$")
_NEEDED = (
    "Tag",
    "Unit of the load scale",
    "Unit of the pointer",
    "As-found load [load unit]",
    "As-left load [load unit]",
    "Row fingerprint",
)


@dataclass(frozen=True, slots=True)
class FilledRow:
    """One row of the form: loads [N], pointers [m]; a blank is None."""

    place: Place
    tag: str
    seal: str
    found_load: float | None
    found_pointer: float | None
    left_load: float | None
    left_pointer: float | None
    turns_given: float | None
    plant_state: str
    read_by: str
    second_reader: str
    read_on: date | None
    remarks: str

    @property
    def is_blank(self) -> bool:
        """Return whether nothing was read at the unit."""
        read = (self.found_load, self.found_pointer, self.left_load, self.left_pointer)
        return all(value is None for value in read)


@dataclass(frozen=True, slots=True)
class FilledForm:
    """A form that came back."""

    form_id: str
    rows: tuple[FilledRow, ...]


def read_form(path: Path) -> FilledForm:
    """Read a form that came back.

    Raises
    ------
    FileUnusable
        The file is not a workbook.
    SheetMissing, ColumnMissing
        It is not the form of a pack.
    QuantityUnreadable, BadInput
        A cell that should hold a number or a day holds something else.
    """
    book = opened_form(path)
    for name in (FORM_SHEET, META_SHEET):
        if name not in book.sheetnames:
            raise SheetMissing(
                Sentence("the workbook has no sheet '{name}'", name=name),
                where=path.name,
                found=joined(book.sheetnames, ", "),
                remedy="Hand in the form of the pack itself",
            )
    facts = facts_of(book[META_SHEET])
    rows = tuple(_rows(path.name, book[FORM_SHEET]))
    return FilledForm(facts.get("form_id", ""), rows)


def _rows(file: str, sheet: Any) -> Iterator[FilledRow]:
    columns: dict[str, int] = {}
    for line in sheet.iter_rows():
        words = {str(cell.value).strip(): i for i, cell in enumerate(line) if cell.value}
        if not columns and "Row fingerprint" in words:
            columns = words
            _need_columns(file, columns)
        elif columns and line[columns["Tag"]].value:
            yield _row(file, line, columns)
    _need_columns(file, columns)


def _need_columns(file: str, columns: Mapping[str, int]) -> None:
    if missing := [name for name in _NEEDED if name not in columns]:
        raise ColumnMissing(
            "the form lacks columns", where=f"{file} {FORM_SHEET}", found=joined(missing, ", ")
        )


def _row(file: str, line: Any, columns: Mapping[str, int]) -> FilledRow:
    def cell(heading: str) -> Any:
        return line[columns[heading]] if heading in columns else None

    def text(heading: str) -> str:
        found = cell(heading)
        return "" if found is None or found.value is None else str(found.value).strip()

    def amount(heading: str, unit: str, kind: Kind) -> float | None:
        return _amount(file, cell(heading), text(unit), kind)

    load, pointer = "Unit of the load scale", "Unit of the pointer"
    return FilledRow(
        place=Place(file, FORM_SHEET, str(line[0].row)),
        tag=text("Tag"),
        seal=text("Row fingerprint"),
        found_load=amount("As-found load [load unit]", load, Kind.LOAD),
        found_pointer=amount("As-found pointer [pointer unit]", pointer, Kind.LENGTH),
        left_load=amount("As-left load [load unit]", load, Kind.LOAD),
        left_pointer=amount("As-left pointer [pointer unit]", pointer, Kind.LENGTH),
        turns_given=_turns(file, cell("Turns given, whole"), cell("Flats given")),
        plant_state=text("Plant state"),
        read_by=text("Read by"),
        second_reader=text("Second reader"),
        read_on=_day(file, cell("Date and time")),
        remarks=text("Remarks"),
    )


def _amount(file: str, cell: Any, unit: str, kind: Kind) -> float | None:
    plain = _number(file, cell)
    if plain is not None and kind is Kind.LOAD and (fault := load_not_known(plain)):
        raise QuantityUnreadable(
            fault.what,
            where=str(Place(file, FORM_SHEET, cell.coordinate)),
            expected=fault.expected,
            remedy=fault.remedy,
        )
    return None if plain is None else to_si(plain, unit, kind)


def _number(file: str, cell: Any) -> float | None:
    if cell is None or cell.value is None or str(cell.value).strip() == "":
        return None
    if isinstance(cell.value, int | float) and not isinstance(cell.value, bool):
        return float(cell.value)
    try:
        return number(str(cell.value))
    except QuantityUnreadable as error:
        where = str(Place(file, FORM_SHEET, cell.coordinate))
        raise QuantityUnreadable(error.what, where=where, remedy=error.remedy) from error


def _turns(file: str, whole: Any, flats: Any) -> float | None:
    turns, sixths = _number(file, whole), _number(file, flats)
    if turns is None and sixths is None:
        return None
    return (turns or 0.0) + (sixths or 0.0) / 6.0


def _day(file: str, cell: Any) -> date | None:
    """Return the day of a reading, None where the box is blank; no other is put in its place."""
    if cell is None or cell.value is None or str(cell.value).strip() == "":
        return None
    raw = cell.value
    read = read_day(_HOUR.sub("", raw) if isinstance(raw, str) else raw)
    fault = read.fault
    if fault is None or isinstance(read.value, date):
        return cast("date", read.value)
    raise BadInput(
        fault.what,
        where=str(Place(file, FORM_SHEET, cell.coordinate)),
        found=f"'{raw}'",
        expected=fault.expected,
        remedy=fault.remedy,
    )
