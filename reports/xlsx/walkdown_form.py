"""The walkdown form as a workbook: ids and seals locked, boxes with lists, blanks left blank."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from reports.contents.common import PageSize
from reports.contents.walkdown_package import (
    WalkdownPackage,
    expected_load,
    expected_pointer,
    last_words,
    place_of,
)
from reports.xlsx.book import Book, Cell, Column, number_rule
from supports.rules.walkdown.form import FormLine, FormRow
from supports.rules.walkdown.words import DIVISIONS, Fault, Grade, Half, HowSoon, StopSeen, ZeroEnd
from supports.units import Kind, unit
from supports.vocabulary import PlantState

WALK_SHEET, FORM_SHEET, META_SHEET = "Walk", "Readings", "_meta"
PAGES_WIDE = 3
"""Printed pages that the boxes of a row take beside each other."""
YES_NO = ("yes", "no")
POINTER_UNITS = ("mm", "cm", "in", DIVISIONS)
LOAD_UNITS = ("kN", "N", "lbf", "kip", "kgf", "tonne-force")
TEMPERATURE_UNITS = ("°C", "°F")
_POINTER = number_rule("decimal", -1e4, 1e4, "A plain number, as it stands on the scale.")
_LOAD = number_rule("decimal", 0.0, 1e7, "A plain number, as it stands on the scale.")
_ANGLE = number_rule("decimal", 0.0, 45.0, "Degrees out of plumb, 0 to 45.")
_GAP = number_rule("decimal", 0.0, 2000.0, "Millimetres between pipe and rest, 0 to 2000.")
_MARKS = number_rule("decimal", 1.0, 1000.0, "Number of the last mark on the whole scale.")
_DEGREES = number_rule("decimal", -200.0, 1500.0, "A plain number in the unit beside it.")
_STATES = tuple(str(one) for one in PlantState)


def _words(words: Any) -> tuple[str, ...]:
    return tuple(str(one) for one in words)


WALK = (
    Column("Line", 16, "@"),
    Column("Service", 20, "@"),
    Column("State wanted", 18, "@"),
    Column("Walked by", 20, "@", entry=True),
    Column("Day of reading", 14, "yyyy-mm-dd", entry=True),
    Column("Plant state found", 18, "@", entry=True, choices=_STATES),
    Column("Pipe temperature", 12, entry=True, rule=_DEGREES),
    Column("Unit of temperature", 12, "@", entry=True, choices=TEMPERATURE_UNITS),
)

FORM = (
    Column("Order", 6),
    Column("Tag", 13, "@"),
    Column("Kind", 14, "@"),
    Column("Line", 13, "@"),
    Column("Place", 26, "@"),
    Column("Row id", 8, "@"),
    Column("Last operating", 16, "@"),
    Column("Last shut down", 16, "@"),
    Column("Expected pointer", 14, "@"),
    Column("Expected load", 16, "@"),
    Column("Seen?", 7, "@", entry=True, choices=YES_NO),
    Column("Not seen, because", 18, "@", entry=True),
    Column("Found pointer", 9, "0.0###", entry=True, rule=_POINTER),
    Column("Unit of the pointer", 10, "@", entry=True, choices=POINTER_UNITS),
    Column("Marks on the whole scale", 9, entry=True, rule=_MARKS),
    Column("Counted from", 9, "@", entry=True, choices=_words(ZeroEnd)),
    Column("Found load", 9, "0.0###", entry=True, rule=_LOAD),
    Column("Unit of the load scale", 8, "@", entry=True, choices=LOAD_UNITS),
    Column("Travel stop", 8, "@", entry=True, choices=_words(StopSeen)),
    Column("Rod angle [°]", 7, "0.0##", entry=True, rule=_ANGLE),
    Column("Gap [mm]", 7, "0.0##", entry=True, rule=_GAP),
    Column("Serial on the plate", 14, "@", entry=True),
    Column("Condition", 12, "@", entry=True, choices=_words(Grade)),
    Column("What is wrong", 18, "@", entry=True, choices=_words(Fault)),
    Column("Act by", 12, "yyyy-mm-dd", entry=True),
    Column("How soon", 12, "@", entry=True, choices=_words(HowSoon)),
    Column("Told whom, when", 16, "@", entry=True),
    Column("Photo numbers", 14, "@", entry=True),
    Column("Remarks", 28, "@", entry=True),
    Column("Day, if another", 12, "yyyy-mm-dd", entry=True),
    Column("Plant state, if another", 16, "@", entry=True, choices=_STATES),
    Column("Walked by, if another", 16, "@", entry=True),
    Column("Row seal", 12, "@", hidden=True),
)
_ENTRIES = tuple(column.heading for column in FORM if column.entry)


def walkdown_form_xlsx(
    package: WalkdownPackage, seals: Mapping[int, str], page: PageSize = PageSize.A4
) -> bytes:
    """Return the workbook.

    Parameters
    ----------
    seals
        Keyed seal of each row by item id, made by the caller who holds the key.
    """
    form = package.form
    book = Book(package.head, page)
    book.table(WALK_SHEET, WALK, [_walk_row(line, package) for line in form.lines])
    rows = [_row(row, seals[row.item_id]) for row in form.rows]
    book.table(FORM_SHEET, FORM, rows, pages_wide=PAGES_WIDE)
    book.facts(
        META_SHEET,
        {
            "form_id": form.form_id,
            "revision": str(form.revision),
            "count": str(len(form.rows)),
            "fingerprint": package.head.fingerprint,
            "made": f"{package.head.made:%Y-%m-%dT%H:%M}",
        },
    )
    return book.finished()


def _walk_row(line: FormLine, package: WalkdownPackage) -> list[Cell]:
    return [line.number, line.service, str(package.form.state_wanted), *[None] * 5]


def _row(row: FormRow, seal: str) -> list[Cell]:
    known = known_boxes(row)
    return [
        row.order,
        row.tag,
        str(row.kind),
        row.line,
        place_of(row),
        str(row.item_id),
        last_words(row, Half.OPERATING),
        last_words(row, Half.SHUT_DOWN),
        expected_pointer(row),
        expected_load(row),
        *(known.get(heading) for heading in _ENTRIES),
        seal,
    ]


def known_boxes(row: FormRow) -> dict[str, Cell]:
    """Return what stands in the boxes already, by heading: units, and what is known."""
    base = row.base
    pointer_unit = row.pointer_unit if row.pointer_unit in POINTER_UNITS else None
    load_unit = row.load_unit or None
    seen = base.get("seen")
    return {
        "Seen?": None if seen is None else YES_NO[not seen],
        "Not seen, because": base.get("why_not"),
        "Found pointer": _back(base.get("pointer"), pointer_unit or "mm", Kind.LENGTH),
        "Unit of the pointer": pointer_unit or ("mm" if "pointer" in base else None),
        "Found load": _back(base.get("load"), load_unit or "kN", Kind.LOAD),
        "Unit of the load scale": load_unit or ("kN" if "load" in base else None),
        "Travel stop": base.get("stop"),
        "Rod angle [°]": _back(base.get("rod_angle"), "°", Kind.ANGLE),
        "Gap [mm]": _back(base.get("gap"), "mm", Kind.LENGTH),
        "Serial on the plate": base.get("serial"),
        "Condition": base.get("grade"),
        "What is wrong": base.get("fault"),
        "Act by": base.get("act_by"),
        "How soon": base.get("how_soon"),
        "Told whom, when": base.get("told"),
        "Photo numbers": base.get("photos"),
        "Remarks": base.get("remarks"),
    }


def _back(si: float | None, symbol: str, kind: Kind) -> Cell:
    """Return a value in a unit with all its digits, so that an untouched box reads back alike."""
    return None if si is None else float(unit(symbol, kind).from_si(si))
