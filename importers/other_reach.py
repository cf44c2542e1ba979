"""How far open-document sheets and binary workbooks reach, before a reader lays out memory."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from importers.sheet_reach import Reach

_TAG = re.compile(rb"<table:(table|table-row|table-cell|covered-table-cell)(?=[\s/>])([^>]*)")
_TIMES = re.compile(rb"number-(?:rows|columns)-repeated=[\"'](\d{1,18})")
_FILLED = b"office:value"

_ROW, _CELLS = 0, range(1, 19)
"""Kinds of record of a binary sheet: the head of a row, and cells. [MS-XLSB] 2.3.2."""
_MORE, _PART, _LENGTH_BYTES = 0x80, 7, 4


class Filled(NamedTuple):
    """How far the filled cells of a table reach, and how often one of them or its row repeats."""

    reach: Reach
    repeated: int


def open_document_reach(content: bytes) -> Iterator[Filled]:
    """Yield what the tables fill, repeated cells counted as often as they are."""
    row = column = below = beside = in_rows = most = 0
    for tag in _TAG.finditer(content):
        stated = _TIMES.search(tag[2])
        times = int(stated[1]) if stated else 1
        if tag[1] == b"table":
            yield Filled(Reach(below, beside), most)
            row = below = beside = most = 0
        elif tag[1] == b"table-row":
            row, column, in_rows = row + times, 0, times
        else:
            column += times
            if _FILLED in tag[2]:
                below, beside, most = row, max(beside, column), max(most, times, in_rows)
    yield Filled(Reach(below, beside), most)


def binary_reach(data: bytes) -> Reach:
    """Return how far the cells of a binary sheet reach.

    A record is its kind in one byte or two, its length in up to four, seven bits of each counting,
    and what it says: [MS-XLSB] 2.1.4. A row and a cell say first where they stand.
    """
    at = row = below = beside = 0
    while at < len(data):
        kind, at = _number(data, at, 2)
        length, at = _number(data, at, _LENGTH_BYTES)
        place = int.from_bytes(data[at : at + 4], "little")
        if kind == _ROW:
            row = place + 1
        elif kind in _CELLS:
            below, beside = max(below, row), max(beside, place + 1)
        at += length
    return Reach(below, beside)


def _number(data: bytes, at: int, longest: int) -> tuple[int, int]:
    """Return a number of seven bits a byte, and the place behind it."""
    number = 0
    for k, byte in enumerate(data[at : at + longest]):
        number |= (byte & ~_MORE) << (_PART * k)
        if byte < _MORE:
            return number, at + k + 1
    return number, at + longest
