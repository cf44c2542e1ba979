"""The cells of a row as found, by field: looked at one by one, or written many at a time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

import orjson

from importers.headings import Layout
from importers.table import DeclaredCell, Raw, letters, text_of
from supports.freezing import written
from supports.proposals import Cells, SourceCell
from supports.units import Unit

_AT_ONCE = 256
"""Rows written together, a column at a time: a number at a time takes several times as long."""
_PLAIN = 15 + len('""')
"""A number of no more letters than this, in quotes, is shown with all its digits."""
_NOT_PLAIN = ("e", "n", "0.0000")
"""Powers of ten, infinite or none, and what is shown as a power of ten."""


class Where(NamedTuple):
    """Where the cells of one field stand: column, and their unit or the column that gives it."""

    at: int
    column: str
    unit: str = ""
    units_in: int | None = None

    def unit_in(self, row: Sequence[Raw]) -> str:
        """Return the unit of the cell in a row."""
        cell = row[self.at]
        if isinstance(cell, DeclaredCell):
            return cell.unit
        return self.unit if self.units_in is None else text_of(row[self.units_in]).strip()


@dataclass(slots=True)
class Found:
    """The rows of one table, and where each field stands in them."""

    where: Mapping[str, Where]
    rows: Sequence[Sequence[Raw]]
    _block: int = -1
    _written: list[str] = field(default_factory=list)

    def written(self, i: int) -> str:
        """Return column, text and unit of every used cell of a row, by field, as JSON."""
        block, at = divmod(i, _AT_ONCE)
        if block != self._block:
            rows = self.rows[block * _AT_ONCE : (block + 1) * _AT_ONCE]
            columns = [_column(name, self.where[name], rows) for name in sorted(self.where)]
            cells = zip(*columns, strict=True)
            self._written = [f"{{{','.join(filter(None, row))}}}" for row in cells]
            self._block = block
        return self._written[at]


def found_in(layout: Layout, rows: Sequence[Sequence[Raw]]) -> Found:
    """Return the rows of a table; a column that is not known goes by its heading."""
    where = {text: Where(i, letters(i)) for i, text in layout.unknown.items()}
    for taken in layout.taken:
        unit = taken.unit.symbol if isinstance(taken.unit, Unit) else ""
        units_in = None if unit else taken.units_in
        where[taken.column.field] = Where(taken.index, letters(taken.index), unit, units_in)
    return Found(where, rows)


@dataclass(frozen=True, slots=True)
class CellsAsFound(Cells):
    """The used cells of row `i` by field, made only when somebody looks."""

    found: Found
    i: int

    @property
    def _row(self) -> Sequence[Raw]:
        return self.found.rows[self.i]

    def __getitem__(self, name: str) -> SourceCell:
        where = self.found.where[name]
        row = self._row
        if row[where.at] == "":
            raise KeyError(name)
        return SourceCell(where.column, text_of(row[where.at]), where.unit_in(row))

    def written(self) -> str:
        """Return column, text and unit of every used cell, by field, as JSON."""
        return self.found.written(self.i)

    def __iter__(self) -> Iterator[str]:
        row = self._row
        return (name for name, where in self.found.where.items() if row[where.at] != "")

    def __contains__(self, name: object) -> bool:
        where = self.found.where.get(name)  # type: ignore[call-overload]  # whatever it is
        return where is not None and self._row[where.at] != ""

    def __len__(self) -> int:
        return sum(1 for _ in self)


def _column(name: str, where: Where, rows: Sequence[Sequence[Raw]]) -> list[str]:
    """Return a field of some rows as it is written; a blank as nothing."""
    cells = [row[where.at] for row in rows]
    texts = _quoted(cells)
    before = f"{written(name)}:[{written(where.column)},"
    if where.units_in is None and DeclaredCell not in set(map(type, cells)):
        behind = f",{written(where.unit)}]"
        return [text and f"{before}{text}{behind}" for text in texts]
    units = (written(where.unit_in(row)) for row in rows)
    pairs = zip(texts, units, strict=True)
    return [text and f"{before}{text},{unit}]" for text, unit in pairs]


def _quoted(cells: Sequence[Raw]) -> list[str]:
    """Return the texts of cells as JSON; a blank as nothing."""
    numbers = [raw for raw in cells if type(raw) is float]
    shown = _numbers(numbers) if numbers else []
    if len(numbers) == len(cells):
        return shown
    words = {raw: written(raw) for raw in set(cells) if type(raw) is str}
    words[""] = ""
    in_turn = iter(shown)
    return [
        next(in_turn)
        if type(raw) is float
        else words[raw]
        if type(raw) is str
        else ""
        if raw == ""
        else written(text_of(raw))
        for raw in cells
    ]


def _numbers(numbers: Sequence[float]) -> list[str]:
    """Return numbers in quotes as `text_of` shows them; the quicker writer knows the plain ones."""
    quick = orjson.dumps(numbers).decode()[1:-1].replace(",", '","')
    texts = f'"{quick}"'.replace('.0"', '"').split(",")
    if any(mark in quick for mark in _NOT_PLAIN) or max(map(len, texts)) > _PLAIN:
        return [written(text_of(number)) for number in numbers]
    return texts
