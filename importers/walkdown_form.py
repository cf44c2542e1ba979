"""The filled-in walkdown form, row by row, as written: nothing is read into it here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from importers.opened_form import facts_of, opened_form
from supports.errors import ColumnMissing, SheetMissing
from supports.sentences import joined

WALK_SHEET, FORM_SHEET, META_SHEET = "Walk", "Readings", "_meta"

FIELDS = {
    "Seen?": "seen",
    "Not seen, because": "why_not",
    "Found pointer": "pointer",
    "Unit of the pointer": "pointer_unit",
    "Marks on the whole scale": "divisions",
    "Counted from": "read_from",
    "Found load": "load",
    "Unit of the load scale": "load_unit",
    "Travel stop": "stop",
    "Rod angle [°]": "rod_angle",
    "Gap [mm]": "gap",
    "Serial on the plate": "serial",
    "Condition": "grade",
    "What is wrong": "fault",
    "Act by": "act_by",
    "How soon": "how_soon",
    "Told whom, when": "told",
    "Photo numbers": "photos",
    "Remarks": "remarks",
    "Day, if another": "read_on",
    "Plant state, if another": "plant_state",
}
LINE_FIELDS = {
    "Day of reading": "read_on",
    "Plant state found": "plant_state",
    "Pipe temperature": "pipe_temperature",
    "Unit of temperature": "temperature_unit",
}
_WALKER, _OTHER_WALKER = "Walked by", "Walked by, if another"
_LOCKED = ("Tag", "Line", "Row id", "Row seal")


@dataclass(frozen=True, slots=True)
class FilledRow:
    """One row as written; `row` is its number on the sheet."""

    row: int
    item_id: str
    tag: str
    line: str
    seal: str
    walker: str
    written: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class FilledWalk:
    """A form that came back."""

    file: str
    form_id: str
    revision: str
    count: str
    rows: tuple[FilledRow, ...]

    @property
    def walkers(self) -> tuple[str, ...]:
        """Return who is named as walker, first named first."""
        return tuple(dict.fromkeys(row.walker for row in self.rows if row.walker))


def read_walk(path: Path) -> FilledWalk:
    """Read a filled-in form, on any program's saving of it.

    Raises
    ------
    FileUnusable, SheetMissing, ColumnMissing
        It is no workbook, or not a walkdown form.
    """
    book = opened_form(path)
    if missing := [n for n in (WALK_SHEET, FORM_SHEET, META_SHEET) if n not in book.sheetnames]:
        raise SheetMissing(
            "this is not a walkdown form", where=path.name, expected=joined(missing, ", ")
        )
    meta = facts_of(book[META_SHEET])
    by_line = _line_facts(path.name, book[WALK_SHEET])
    return FilledWalk(
        file=path.name,
        form_id=meta.get("form_id", ""),
        revision=meta.get("revision", ""),
        count=meta.get("count", ""),
        rows=tuple(_rows(path.name, book[FORM_SHEET], by_line)),
    )


def _line_facts(file: str, sheet: Any) -> dict[str, dict[str, Any]]:
    facts = {}
    for _, cells in _table(file, sheet, ("Line", _WALKER)):
        held = {LINE_FIELDS[name]: cells[name] for name in LINE_FIELDS if _is(cells.get(name))}
        facts[_text(cells["Line"])] = {**held, _WALKER: _text(cells.get(_WALKER))}
    return facts


def _rows(file: str, sheet: Any, by_line: Mapping[str, Mapping[str, Any]]) -> Iterator[FilledRow]:
    for number, cells in _table(file, sheet, _LOCKED):
        line = dict(by_line.get(_text(cells["Line"]), {}))
        walker = _text(cells.get(_OTHER_WALKER)) or line.pop(_WALKER, "")
        line.pop(_WALKER, None)
        own = {name: cells[head] for head, name in FIELDS.items() if _is(cells.get(head))}
        yield FilledRow(
            row=number,
            item_id=_text(cells["Row id"]),
            tag=_text(cells["Tag"]),
            line=_text(cells["Line"]),
            seal=_text(cells["Row seal"]),
            walker=walker,
            written={**line, **own},
        )


def _table(file: str, sheet: Any, needed: tuple[str, ...]) -> Iterator[tuple[int, dict[str, Any]]]:
    """Give each row beneath the headings as {heading: value} with its number."""
    headings: list[str] = []
    for number, line in enumerate(sheet.iter_rows(values_only=True), start=1):
        words = [_text(cell) for cell in line]
        if not headings and set(needed) <= set(words):
            headings = words
        elif headings and any(_is(cell) for cell in line):
            yield number, dict(zip(headings, line, strict=False))
    if not headings:
        raise ColumnMissing(
            "the form lacks columns", where=f"{file} {sheet.title}", expected=joined(needed, ", ")
        )


def _is(value: Any) -> bool:
    return value is not None and str(value).strip() != ""


def _text(value: Any) -> str:
    return "" if value is None else str(value).strip()
