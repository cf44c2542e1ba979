"""How far the cells of a sheet reach, told before a reader lays out memory for all between them.

The size that a sheet gives of itself may be false, so the address of each row and cell is looked
at. Where each has one and says it first, as spreadsheet programs do, those of a block are read
together; otherwise row after row and cell after cell are given theirs.
"""

from __future__ import annotations

import re
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from importers.byte_search import Block, blocks, matches
from importers.table import column_index
from importers.table import letters as column_letters

_MOST_LETTERS, _MOST_DIGITS = 3, 9
"""Of an address that is read; the last cell of a sheet is XFD1048576."""
_ADDRESS = _MOST_LETTERS + _MOST_DIGITS + 4
"""Bytes behind the name of an element within which its address is looked for."""
_FAR = 10**12
"""Stands for a row or column of more digits or letters than are read."""
_BLANK, _QUOTE, _APOSTROPHE, _SLASH, _CLOSING = b" \"'/>"
_LETTER_A, _DIGIT_0, _LOWER = b"a0 "
_STATED = re.compile(rb"\sr\s*=\s*[\"']([A-Za-z]*)(\d*)[\"']")
_DIGITS_WALKED = 18

_Numbers = npt.NDArray[np.int64]
_Places = npt.NDArray[np.intp]


class Reach(NamedTuple):
    """The last row and the last column that are stated, counted from 1.

    Parameters
    ----------
    all_told
        Whether each row and each cell states its own, and does so first.
    """

    rows: int
    columns: int
    all_told: bool = True


class _Addresses(NamedTuple):
    rows: _Numbers
    columns: _Numbers
    all_told: bool


def reach(data: bytes, prefix: bytes) -> Reach:
    """Return how far rows and cells reach, as far as they state it.

    Parameters
    ----------
    prefix
        What stands before the name of each element, with its colon.
    """
    below = beside = 0
    each_told = True
    marks = [b"<" + prefix + name for name in (b"row", b"c")]
    for _, block in blocks(data, max(map(len, marks)) + _ADDRESS):
        for mark in marks:
            rows, columns, all_told = _addresses(block, mark)
            each_told &= all_told
            below = max(below, int(rows.max(initial=0)))
            beside = max(beside, int(columns.max(initial=0)))
    return Reach(below, beside, each_told)


def _addresses(block: Block, mark: bytes) -> _Addresses:
    """Read the addresses of the elements that begin in a block; a row's has no column."""
    at = np.flatnonzero(matches(block[: -_ADDRESS - 1], mark)) + len(mark)
    behind = block[at]
    at = at[(behind <= _BLANK) | (behind == _SLASH) | (behind == _CLOSING)]
    quote = block[at + 3]
    told = (block[at] == _BLANK) & (block[at + 1] == ord("r")) & (block[at + 2] == ord("="))
    told &= (quote == _QUOTE) | (quote == _APOSTROPHE)
    columns, at = _column(block, at + 4)
    rows = _row(block, at)
    return _Addresses(rows, columns, bool((told & ((rows > 0) | (columns == _FAR))).all()))


def _column(block: Block, at: _Places) -> tuple[_Numbers, _Places]:
    """Return the column that letters name, and the place behind them."""
    columns = np.zeros(len(at), dtype=np.int64)
    for _ in range(_MOST_LETTERS):
        letter = (block[at] | _LOWER) - _LETTER_A
        more = letter < 26
        columns = np.where(more, columns * 26 + letter + 1, columns)
        at = at + more
    columns[(block[at] | _LOWER) - _LETTER_A < 26] = _FAR
    return columns, at


def _row(block: Block, at: _Places) -> _Numbers:
    """Return the row that digits name, 0 where there are none."""
    rows = np.zeros(len(at), dtype=np.int64)
    for _ in range(_MOST_DIGITS):
        digit = block[at] - _DIGIT_0
        more = digit < 10
        if not more.any():
            break
        rows = np.where(more, rows * 10 + digit, rows)
        at = at + more
    rows[block[at] - _DIGIT_0 < 10] = _FAR
    return rows


def with_addresses(data: bytes, prefix: bytes) -> bytes:
    """Return the XML with the address of each row and cell put first, as programs write it.

    One that states none follows the one before it.
    """
    opening = re.compile(rb"<%b(row|c)(?=[\x00-\x20/>])([^>]*)" % re.escape(prefix))
    row = column = 0

    def told(tag: re.Match[bytes]) -> bytes:
        nonlocal row, column
        stated = _STATED.search(tag[2])
        letters, digits = (stated[1].upper(), stated[2]) if stated else (b"", b"")
        others = _STATED.sub(b"", tag[2], count=1)
        follows = row + 1 if tag[1] == b"row" else max(row, 1)
        row = int(digits[:_DIGITS_WALKED] or 0) or follows
        if tag[1] == b"row":
            column = 0
            return b'<%brow r="%d"%b' % (prefix, row, others)
        column = _column_of(letters) if letters else column + 1
        named = letters or column_letters(column - 1).encode()
        return b'<%bc r="%b%d"%b' % (prefix, named, row, others)

    return opening.sub(told, data)


def _column_of(letters: bytes) -> int:
    if len(letters) > _MOST_LETTERS:
        return _FAR
    return column_index(letters.decode()) + 1
