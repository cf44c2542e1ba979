"""Rows of SI values written as the sheets of an area: workbooks and folders of CSV files."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

import xlsxwriter

from demo.plant.unit_systems import METRIC, UnitSystem
from importers.declared import Sheet
from supports.units import Kind, from_si

Value = float | int | str | date
Row = Mapping[str, Value]

WRITTEN_ON = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
"""The date that all files bear, so that the same plant gives the same bytes."""


@dataclass(frozen=True, slots=True)
class Field:
    """One column as written; `by_row` names the field with the unit where rows differ in it."""

    name: str
    heading: str
    kind: Kind | None = None
    by_row: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """One sheet as written."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Value | None, ...], ...]


_PLATE_UNITS = {"Unit of load": "scale_unit", "Unit of travel": "pointer_unit"}


def page(sheet: Sheet, rows: Sequence[Row], system: UnitSystem) -> Page:
    """Write rows under the declared headings of a sheet; columns that stay blank are left out."""
    used = {name for row in rows for name in row}
    has_units = "scale_unit" in used
    fields = []
    for column in sheet.columns:
        if column.field not in used:
            continue
        kind = column.form if isinstance(column.form, Kind) else None
        by_row = _PLATE_UNITS.get(column.unit_column, "") if has_units else ""
        fields.append(Field(column.field, column.heading, kind, by_row))
    _refuse_strangers(sheet, used)
    return free_page(sheet.name, fields, rows, system)


def _refuse_strangers(sheet: Sheet, used: Iterable[str]) -> None:
    strangers = set(used) - {column.field for column in sheet.columns}
    if strangers:
        raise KeyError(sheet.name, sorted(strangers))


def free_page(
    name: str, fields: Sequence[Field], rows: Sequence[Row], system: UnitSystem = METRIC
) -> Page:
    """Write rows under headings with their units in brackets."""
    return Page(
        name,
        tuple(_heading(field, system) for field in fields),
        tuple(tuple(_cell(field, row, system) for field in fields) for row in rows),
    )


def _heading(field: Field, system: UnitSystem) -> str:
    if field.kind is None or field.by_row:
        return field.heading
    return f"{field.heading} [{system.symbol(field.kind)}]"


def _cell(field: Field, row: Row, system: UnitSystem) -> Value | None:
    value = row.get(field.name)
    if field.kind is None or not isinstance(value, float):
        return value
    symbol, places = system.units[field.kind]
    if field.by_row:
        symbol = str(row[field.by_row])
        per_turn = field.kind is Kind.LOAD_PER_TURN
        return _rounded(value, f"{symbol}/turn" if per_turn else symbol, field.kind, 4)
    return _rounded(value, symbol, field.kind, places)


def _rounded(value: float, symbol: str, kind: Kind, places: int) -> float:
    return round(from_si(value, symbol, kind), places) + 0.0


def write_workbook(path: Path, pages: Sequence[Page]) -> Path:
    """Write a workbook, text as text and days as days."""
    options = {"strings_to_formulas": False, "strings_to_urls": False}
    with xlsxwriter.Workbook(str(path), options) as book:
        book.set_properties({"created": WRITTEN_ON.replace(tzinfo=None)})
        day = book.add_format({"num_format": "yyyy-mm-dd"})
        bold = book.add_format({"bold": True, "text_wrap": True, "valign": "top"})
        for one in pages:
            sheet = book.add_worksheet(one.name)
            sheet.freeze_panes(1, 1)
            sheet.set_column(0, len(one.headings) - 1, 14)
            for column, heading in enumerate(one.headings):
                sheet.write_string(0, column, heading, bold)
            _write_rows(sheet, one, day)
    return path


def _write_rows(sheet: xlsxwriter.worksheet.Worksheet, one: Page, day: object) -> None:
    for number, row in enumerate(one.rows, start=1):
        for column, value in enumerate(row):
            if isinstance(value, str):
                sheet.write_string(number, column, value)
            elif isinstance(value, date):
                sheet.write_datetime(number, column, value, day)
            elif value is not None:
                sheet.write_number(number, column, value)


def write_texts(folder: Path, pages: Iterable[Page]) -> list[Path]:
    """Write a folder with a CSV file for each sheet."""
    folder.mkdir(parents=True, exist_ok=True)
    return [_write_text(folder / f"{one.name}.csv", one) for one in pages]


def _write_text(path: Path, one: Page) -> Path:
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(one.headings)
        out.writerows(["" if v is None else v for v in row] for row in one.rows)
    return path
