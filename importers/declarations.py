"""Units of single cells, declared by a person who knows: ``{("Settings", "D3"): "lbf"}``.

The cell keeps its text as found; whoever stores the reading keeps who declared it, and why.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from importers.faults import Fault
from importers.quantity_text import read_amount
from importers.table import DeclaredCell, Raw, Table, column_index, text_of
from importers.unit_words import read_unit
from supports.errors import BadInput
from supports.units import Kind, Unit

DeclaredUnits = Mapping[tuple[str, str], str]
"""Unit by sheet and cell."""

_CELL = re.compile(r"([A-Z]{1,3})([1-9]\d{0,6})")


def with_declared(table: Table, units: DeclaredUnits) -> Table:
    """Return the table with the units declared for its cells.

    Raises
    ------
    BadInput
        The cell named is not there, or holds no bare number.
    """
    here = {cell: unit for (sheet, cell), unit in units.items() if sheet == table.sheet}
    if not here:
        return table
    rows: list[list[Raw]] = [list(row) for row in table.rows]
    for cell, unit in here.items():
        where = _CELL.fullmatch(cell)
        row, column = (int(where[2]) - 1, column_index(where[1])) if where else (len(rows), 0)
        if row >= len(rows) or column >= len(rows[row]):
            raise _not_there(table, cell)
        rows[row][column] = declared_cell(table, cell, rows[row][column], unit)
    return replace(table, rows=rows)


def declared_cell(table: Table, cell: str, raw: Raw, unit: str) -> DeclaredCell:
    """Return a number in the unit that a person has declared for it.

    Raises
    ------
    BadInput
        The cell holds no bare number.
    """
    amount = read_amount(text_of(raw)) if isinstance(raw, str | int | float) else None
    if amount is None or isinstance(amount, Fault) or _is_clear(amount.unit, unit):
        raise BadInput(
            "a unit is declared for a cell that holds no bare number",
            where=f"{table.file} {table.sheet} {cell}",
            found=f"'{text_of(raw)}'",
        )
    return DeclaredCell(amount.number, unit, text_of(raw))


def _is_clear(spelled: str, declared: str) -> bool:
    """Return whether a cell states a unit of its own that needs no declaration ('kg' does)."""
    kinds = [kind for kind in Kind if isinstance(read_unit(declared, kind), Unit)]
    return bool(spelled) and any(isinstance(read_unit(spelled, kind), Unit) for kind in kinds)


def _not_there(table: Table, cell: str) -> BadInput:
    return BadInput(
        "a unit is declared for a cell that is not there",
        where=f"{table.file} {table.sheet} {cell}",
    )
