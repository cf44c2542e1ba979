"""The register written as sheets that read back without a difference."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from importers.declared import Column, Form, Sheet, kind_of
from importers.faults import Fault
from importers.sheets import SHEETS
from importers.table import Raw, text_of
from importers.template import Table, heading_for, write_tables
from importers.text_files import guarded
from importers.turn_tables import write_turn_table
from importers.unit_choice import METRIC, UnitSet, unit_for
from importers.unit_words import read_unit
from supports import units as unit_table
from supports.proposals import Existing, Key, Value
from supports.tags import natural_key
from supports.units import Unit

_DIGITS = 13
"""Enough that a value comes back the same, few enough that 22.1 is not 22.100000000000001."""
_DERIVED = {"range_minus", "range_plus"}


def export_xlsx(
    path: Path, existing: Existing, sheets: Sequence[Sheet] = SHEETS, units: UnitSet = METRIC
) -> None:
    """Write the register as one workbook."""
    write_tables(path, dict(tables_of(existing, sheets, units)))


def export_csv(
    folder: Path, existing: Existing, sheets: Sequence[Sheet] = SHEETS, units: UnitSet = METRIC
) -> None:
    """Write the register as one CSV file for each sheet; no text can act as a formula."""
    write_csv(folder, dict(tables_of(existing, sheets, units)))


def write_csv(folder: Path, tables: Mapping[str, Table]) -> None:
    """Write one CSV file for each table; no text can act as a formula."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, rows in tables.items():
        with (folder / f"{name}.csv").open("w", encoding="utf-8-sig", newline="") as file:
            csv.writer(file).writerows([_as_text(cell) for cell in row] for row in rows)


def _as_text(cell: Raw | None) -> str:
    if cell is None:
        return ""
    return guarded(cell) if isinstance(cell, str) else text_of(cell)


def tables_of(
    existing: Existing, sheets: Sequence[Sheet] = SHEETS, units: UnitSet = METRIC
) -> Iterator[tuple[str, Table]]:
    """Yield name and rows of each sheet that has records."""
    for sheet in sheets:
        entries = existing.items()
        records = [(key, values) for (subject, key), values in entries if subject == sheet.subject]
        if records:
            records.sort(key=lambda record: tuple(natural_key(part) for part in record[0]))
            yield sheet.name, _rows(sheet, records, units)


def _rows(
    sheet: Sheet, records: Sequence[tuple[Key, Mapping[str, Value]]], units: UnitSet
) -> list[list[Raw | None]]:
    columns = [column for column in sheet.columns if column.field not in _DERIVED]
    rows: list[list[Raw | None]] = [[heading_for(sheet, c, units) for c in columns]]
    for key, values in records:
        known: dict[str, Value] = {**dict(zip(sheet.key, key, strict=True)), **values}
        rows.append([_cell(sheet, column, known, units) for column in columns])
    return rows


def _cell(sheet: Sheet, column: Column, known: Mapping[str, Value], units: UnitSet) -> Raw | None:
    value = known.get(column.field)
    if value == "":
        return None
    if value is None or kind_of(column) is None:
        return int(value) if column.form is Form.WHOLE and isinstance(value, str) else value  # type: ignore[return-value]  # only a quantity is a list
    by_row = next((c for c in sheet.columns if c.heading == column.unit_column), None)
    if by_row is None:
        return _in_unit(column, value, _unit(unit_for(column, units), column))
    spelled = known.get(by_row.field)
    unit = read_unit(str(spelled), _kind(column)) if spelled else None
    if isinstance(unit, Unit):
        return _in_unit(column, value, unit)
    return _with_unit(column, value, _unit(unit_for(column, units), column))


def _kind(column: Column) -> unit_table.Kind:
    kind = kind_of(column)
    if kind is None:
        raise TypeError(column.field)
    return kind


def _unit(text: str, column: Column) -> Unit:
    unit = read_unit(text, _kind(column))
    if isinstance(unit, Fault):
        raise TypeError(unit.what)
    return unit


def _in_unit(column: Column, value: Value, unit: Unit) -> Raw:
    if isinstance(value, list):
        return write_turn_table(value, lambda si: f"{_rounded(si, unit)!r}")
    if not isinstance(value, float | int):
        raise TypeError(column.field)
    return _rounded(float(value), unit)


def _with_unit(column: Column, value: Value, unit: Unit) -> Raw:
    """Write a value with its unit in the cell, where the row does not tell its unit."""
    shown = _in_unit(column, value, unit)
    return shown if isinstance(shown, str) else f"{shown!r} {unit.symbol}"


def _rounded(si: float, unit: Unit) -> float:
    return float(f"{unit.from_si(si):.{_DIGITS}g}")
