"""What the XML of one sheet tells beside its values: error cells, hidden rows, how far it reaches.

The XML is searched as bytes, because a parse of four million cells costs longer than everything
else. Text and attribute values in XML cannot hold a bare ``<``, so a search for the beginning of
an element never ends inside them. All elements of a sheet carry the prefix of its root, if any.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from importers.cell_marks import CellMarks, Styles, read_marks
from importers.table import column_index

_ROOT = re.compile(rb"<([\w.-]+:)?worksheet\b")
_ERRORS = (b't="e"', b"t='e'")
_REFERENCE = re.compile(rb"\sr=[\"']([A-Z]{1,3})(\d+)[\"']")
_VALUE = re.compile(rb"<(?:[\w.-]+:)?v[^>]*>([^<]*)<")
_ROW_NUMBER = re.compile(rb"\sr=[\"'](\d{1,9})[\"']")
_HIDDEN = re.compile(rb"\shidden=[\"'](?:1|true)[\"']")
_COLUMN = re.compile(rb"<(?:[\w.-]+:)?col\b([^>]*)>")
_SPAN = re.compile(rb"\s(min|max)=[\"'](\d+)[\"']")
_MOST_DIGITS = 18
_TWO_LETTERS = (re.compile(rb'r="[B-Z][A-Z]\d'), re.compile(rb"r='[B-Z][A-Z]\d"))
_LAST_COLUMN = 16_384


@dataclass(frozen=True, slots=True)
class SheetFacts:
    """What the XML of one sheet tells beside its values.

    Parameters
    ----------
    errors
        Text of each error cell, by (row, column) counted from 0.
    hidden_rows, hidden_columns
        Counted from 0.
    filtered
        A filter holds rows back from sight.
    rows, columns
        How far the sheet reaches; columns in rough steps only.
    """

    errors: dict[tuple[int, int], str] = field(default_factory=dict)
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()
    filtered: bool = False
    rows: int = 0
    columns: int = 0
    marks: CellMarks = field(default_factory=CellMarks)


def prefix_of(data: bytes) -> bytes:
    """Return the prefix of all elements of a sheet, with its colon; empty where there is none."""
    root = _ROOT.search(data)
    return root[1] or b"" if root else b""


def read_facts(data: bytes, styles: Styles) -> SheetFacts:
    """Search the XML of one sheet."""
    prefix = prefix_of(data)
    start, end = data.find(b"<" + prefix + b"sheetData"), data.rfind(b"sheetData>")
    rows = _rows(data, b"<" + prefix + b"row ")
    below, beside = _reach(data, max((number for number, _ in rows), default=0))
    return SheetFacts(
        dict(_errors(data, b"<" + prefix + b"c ", b"</" + prefix + b"c>")),
        frozenset(number - 1 for number, hidden in rows if hidden),
        frozenset(_hidden_columns(data[: max(start, 0)])),
        b"filterColumn" in data[max(end, 0) :],
        below,
        beside,
        read_marks(data, prefix, styles),
    )


def _rows(data: bytes, opening: bytes) -> list[tuple[int, bool]]:
    """Return the number of each row and whether it is hidden."""
    numbers = re.findall(re.escape(opening) + rb"r=\"(\d{1,9})\"(?![^>]*\bhidden)", data)
    if len(numbers) == data.count(opening):
        return [(int(number), False) for number in numbers]
    return list(_rows_one_by_one(data, opening))


def _rows_one_by_one(data: bytes, opening: bytes) -> Iterator[tuple[int, bool]]:
    at, number = data.find(opening), 0
    while at >= 0:
        tag = data[at : data.find(b">", at)]
        stated = _ROW_NUMBER.search(tag)
        number = int(stated[1]) if stated else number + 1
        yield number, b"hidden" in tag and _HIDDEN.search(tag) is not None
        at = data.find(opening, at + 1)


def _reach(data: bytes, rows: int) -> tuple[int, int]:
    """Return a row and a column that no cell lies beyond, whatever the rows say of themselves.

    A cell is looked at alone where its address has three letters or more, or more digits than the
    number of the last row; for the others the row told and column 26 or 702 are far enough.
    """
    apostrophes = b"r='" in data
    far = [pair for mark in (b'"', b"'")[: 1 + apostrophes] for pair in _far(data, mark, rows)]
    below = max([rows, *(int(digits[:_MOST_DIGITS]) for _, digits in far if digits)])
    if columns := [column_index(letters.decode()) + 1 for letters, _ in far if len(letters) > 2]:
        return below, max(columns)
    near = _TWO_LETTERS if apostrophes else _TWO_LETTERS[:1]
    return below, 702 if any(pattern.search(data) for pattern in near) else 26


def _far(data: bytes, mark: bytes, rows: int) -> set[tuple[bytes, bytes]]:
    digits = len(str(rows)) + 1
    pattern = rb"r=%b(?:([A-Z]{3,8})(\d*)|([A-Z]{1,2})(\d{%d,}))" % (mark, digits)
    found = re.findall(pattern, data)
    return {(many or few, low or far) for many, low, few, far in found}


def _errors(data: bytes, opening: bytes, closing: bytes) -> Iterator[tuple[tuple[int, int], str]]:
    for mark in _ERRORS:
        at = data.find(mark)
        while at >= 0:
            start = data.rfind(b"<", 0, at)
            cell = data[start : data.find(closing, at)]
            where, value = _REFERENCE.search(cell), _VALUE.search(cell)
            if where and cell.startswith(opening):
                address = int(where[2]) - 1, column_index(where[1].decode())
                yield address, value[1].decode() if value else "#ERROR"
            at = data.find(mark, at + 1)


def _hidden_columns(head: bytes) -> Iterator[int]:
    for column in _COLUMN.finditer(head):
        if _HIDDEN.search(column[1]):
            span = {key: int(number) for key, number in _SPAN.findall(column[1])}
            yield from range(span.get(b"min", 1) - 1, min(span.get(b"max", 1), _LAST_COLUMN))
