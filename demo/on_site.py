"""A morning on site for the pictures: travel stops in and out, a unit read, a form filled in."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import openpyxl

from demo.plant.people import holders
from supports.database import Register
from supports.operations.travel_stops import StopMove, move_stop
from supports.operations.unit_work import UnitReading, record_as_found
from supports.vocabulary import PlantState, Role

STOPS = (
    (92, "PS-1016", "1", "in", "before the hydro test of the bypass"),
    (84, "PS-1017", "2", "in", "before the hydro test of the bypass"),
    (55, "PS-1020", "3", "in", "held while the valve is set down"),
    (21, "PS-1017", "2", "out", "the bypass is drained again"),
)
"""Minutes ago, unit, pin, way and reason of each travel stop that moves."""
SHEET = "As-found as-left"
LOAD, POINTER = "As-found load [load unit]", "As-found pointer [pointer unit]"


def work_on_site(register: Register, order: str, tag: str, now: datetime) -> None:
    """Move travel stops, and record what was read as found at one unit of an order."""
    foreman, (first, _) = holders(Role.FOREMAN)[0], holders(Role.TECHNICIAN)
    for ago, support, pin, way, why in STOPS:
        move = StopMove(support, "", pin, way, why)
        move_stop(register, move, acting=foreman, now=now - timedelta(minutes=ago))
    read = UnitReading(tag, "A", now.date(), PlantState.SHUT_DOWN_FULL, 20_000.0, 0.041, first)
    record_as_found(register, order, read, acting=first, now=now)


def fill_form(blank: Path, read: dict[str, tuple[float, float]], into: Path) -> None:
    """Fill in load and pointer as found on a copy of a pack's workbook, in units of its rows."""
    book = openpyxl.load_workbook(blank)
    sheet = book[SHEET]
    top = next(row[0].row for row in sheet if any(cell.value == LOAD for cell in row))
    columns = {cell.value: cell.column for cell in sheet[top]}
    for row in range(top + 1, sheet.max_row + 1):
        found = read.get(str(sheet.cell(row, columns["Tag"]).value))
        if found is not None:
            sheet.cell(row, columns[LOAD]).value, sheet.cell(row, columns[POINTER]).value = found
            sheet.cell(row, columns["Read by"]).value = holders(Role.TECHNICIAN)[1]
    book.save(into)
