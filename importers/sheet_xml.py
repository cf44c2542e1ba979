"""What the XML of one sheet tells beside its values: error cells, hidden rows, how far it reaches.

The XML is searched as bytes, because a parse of four million cells costs longer than everything
else. Text and attribute values in XML cannot hold a bare ``<``, so a search for the beginning of
an element never ends inside them. All elements of a sheet carry the prefix of its root, if any.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import chain

from importers.byte_search import Searched
from importers.cell_marks import CellMarks, Styles, read_marks
from importers.sheet_reach import reach, with_addresses
from importers.table import column_index

_ROOT = re.compile(rb"<([\w.-]+:)?worksheet\b")
_ERRORS = (b't="e"', b"t='e'")
"""With quotes, and with apostrophes, which few programs write."""
_REFERENCE = re.compile(rb"\sr=[\"']([A-Z]{1,3})(\d+)[\"']")
_VALUE = re.compile(rb"<(?:[\w.-]+:)?v[^>]*>([^<]*)<")
_ROW_NUMBER = re.compile(rb"\sr=[\"'](\d{1,9})[\"']")
_HIDDEN = re.compile(rb"\shidden=[\"'](?:1|true)[\"']")
_COLUMN = re.compile(rb"<(?:[\w.-]+:)?col\b([^>]*)>")
_SPAN = re.compile(rb"\s(min|max)=[\"'](\d+)[\"']")
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
        How far the sheet reaches.
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
    far = reach(data, prefix)
    if not far.all_told:
        data = with_addresses(data, prefix)
        far = reach(data, prefix)
    searched = Searched(data)
    start, end = data.find(b"<" + prefix + b"sheetData"), data.rfind(b"sheetData>")
    return SheetFacts(
        dict(_errors(searched, b"<" + prefix + b"c ", b"</" + prefix + b"c>")),
        frozenset(number - 1 for number in _hidden_rows(searched, b"<" + prefix + b"row ")),
        frozenset(_hidden_columns(data[: max(start, 0)])),
        b"filterColumn" in data[max(end, 0) :],
        far.rows,
        far.columns,
        read_marks(searched, prefix, styles),
    )


def _hidden_rows(searched: Searched, opening: bytes) -> Iterator[int]:
    """Yield the number of each row that is hidden."""
    data = searched.data
    for at in searched.places(b"hidden"):
        start = data.rfind(b"<", 0, at)
        tag = data[start : data.find(b">", at)]
        if tag.startswith(opening) and _HIDDEN.search(tag) and (stated := _ROW_NUMBER.search(tag)):
            yield int(stated[1])


def _errors(
    searched: Searched, opening: bytes, closing: bytes
) -> Iterator[tuple[tuple[int, int], str]]:
    data = searched.data
    marks = _ERRORS if searched.apostrophes else _ERRORS[:1]
    for at in chain.from_iterable(map(searched.places, marks)):
        start = data.rfind(b"<", 0, at)
        cell = data[start : data.find(closing, at)]
        where, value = _REFERENCE.search(cell), _VALUE.search(cell)
        if where and cell.startswith(opening):
            address = int(where[2]) - 1, column_index(where[1].decode())
            yield address, value[1].decode() if value else "#ERROR"


def _hidden_columns(head: bytes) -> Iterator[int]:
    for column in _COLUMN.finditer(head):
        if _HIDDEN.search(column[1]):
            span = {key: int(number) for key, number in _SPAN.findall(column[1])}
            yield from range(span.get(b"min", 1) - 1, min(span.get(b"max", 1), _LAST_COLUMN))
