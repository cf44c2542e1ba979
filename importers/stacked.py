"""Headings two or three rows deep, put together into their lowest row."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from importers.table import Raw, Table, is_blank, text_of

SEARCHED_ROWS = 60
"""Titles and remarks above a table are rarely taller."""
DEEPEST_HEADING = 3

_UNIT_LAST = re.compile(r"^(.*\S)\s*([\[(][^\[\]()]*[\])])$")


def filled(table: Table) -> list[list[Raw]]:
    """Return the first rows, merged headings written into all the cells that they cover."""
    rows = [list(row) for row in table.rows[:SEARCHED_ROWS]]
    for first, left, last, right in table.merged:
        if last < len(rows) and left < len(rows[first]) and last - first < DEEPEST_HEADING:
            for row in rows[first : last + 1]:
                row.extend([""] * (right + 1 - len(row)))
                row[left : right + 1] = [rows[first][left]] * (right + 1 - left)
    return rows


def heading_row(rows: Sequence[Sequence[Raw]]) -> int | None:
    """Return the row of nothing but text that holds most different cells, the first of equals."""
    best, most = None, 1
    for number, row in enumerate(rows[:SEARCHED_ROWS]):
        cells = [raw for raw in row if not is_blank(raw)]
        if all(isinstance(raw, str) for raw in cells) and len(set(cells)) > most:
            best, most = number, len(set(cells))
    return best


class Stack(NamedTuple):
    """Headings that stand above one another.

    Parameters
    ----------
    first, top
        The highest and the lowest of their rows, counted from 0.
    columns
        What each column may be called: by its lowest heading alone, then together with ever more
        of those above.
    """

    first: int
    top: int
    columns: list[list[str]]

    def together(self, table: Table, chosen: Sequence[str]) -> Table:
        """Return the table with one heading for each column, the rows above them blank."""
        if self.first == self.top:
            return table
        blank: list[list[Raw]] = [[] for _ in range(self.first, self.top)]
        above, below = table.rows[: self.first], table.rows[self.top + 1 :]
        return replace(table, rows=[*above, *blank, list(chosen), *below])


def stack_of(table: Table) -> Stack | None:
    """Return the headings of a table; None if it has none.

    A title above the table is no heading: it stands alone, at the left.
    """
    rows = filled(table)
    top = heading_row(rows)
    if top is None:
        return None
    first = top
    while first > 0 and top - first < DEEPEST_HEADING - 1 and _is_above(rows[first - 1], rows[top]):
        first -= 1
    width = max(len(row) for row in rows[first : top + 1])
    texts = ([_at(row, i) for row in rows[first : top + 1]] for i in range(width))
    return Stack(first, top, [list(_names(column)) for column in texts])


def _names(texts: Sequence[str]) -> Iterator[str]:
    """Yield what a column may be called, from its headings read downwards."""
    return (_together(texts[n:]) for n in range(len(texts) - 1, -1, -1))


def _is_above(row: Sequence[Raw], lowest: Sequence[Raw]) -> bool:
    """Return whether a row groups the headings below it."""
    cells = {i: raw for i, raw in enumerate(row) if not is_blank(raw)}
    if not cells or not all(isinstance(raw, str) for raw in cells.values()):
        return False
    left = next(i for i, raw in enumerate(lowest) if not is_blank(raw))
    return len(set(cells.values())) > 1 or min(cells) > left


def _at(row: Sequence[Raw], index: int) -> str:
    return text_of(row[index]).strip() if index < len(row) else ""


def _together(texts: Sequence[str]) -> str:
    """Join what stands above one another, each once, with the unit at the end.

    >>> _together(["Tag", "Tag"]), _together(["Load [kN]", "cold"])
    ('Tag', 'Load cold [kN]')
    """
    parts = list(dict.fromkeys(filter(None, texts)))
    if len(parts) > 1 and not _UNIT_LAST.match(parts[-1]):
        for at, part in enumerate(parts[:-1]):
            if unit := _UNIT_LAST.match(part):
                parts[at] = unit[1]
                parts.append(unit[2])
                break
    return " ".join(parts)
