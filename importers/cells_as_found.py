"""The cells of a row as found, by field: looked at one by one, or written many at a time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import repeat
from typing import NamedTuple, cast

import orjson

from importers.headings import Layout
from importers.table import DeclaredCell, Raw, letters, text_of
from supports.freezing import written
from supports.proposals import Cells, SourceCell
from supports.units import Unit

_AT_ONCE = 4_000
"""Rows written together, a column at a time: a number at a time takes several times as long."""
_PLAIN = 15
"""A number of no more letters than this is shown with all its digits."""
_COMMA = '","'
"""Stands in JSON between two texts, and in none that wants no escape."""
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
            cells = list(zip(*rows, strict=True))
            columns = [_column(n, w, cells[w.at], rows) for n, w in sorted(self.where.items())]
            self._written = _put_together(columns, len(rows))
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


@dataclass(slots=True)
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


class _Column(NamedTuple):
    """A field of some rows: its texts as they stand between quotes in JSON, blanks empty."""

    before: str
    texts: Sequence[str]
    behind: str

    def framed(self) -> list[str]:
        """Return the field of each row as it is written; a blank as nothing."""
        return [f"{self.before}{text}{self.behind}" if text else "" for text in self.texts]


def _put_together(columns: Sequence[_Column], count: int) -> list[str]:
    """Return rows as JSON from their fields column by column; what is blank is left out."""
    if any("" in column.texts for column in columns):
        rows = zip(*(column.framed() for column in columns), strict=True)
        return [f"{{{','.join(filter(None, row))}}}" for row in rows]
    pieces: list[Iterable[str]] = []
    between = "{"
    for column in columns:
        pieces += [repeat(between + column.before, count), column.texts]
        between = column.behind + ","
    pieces.append(repeat(between.removesuffix(",") + "}", count))
    return list(map("".join, zip(*pieces, strict=True)))


def _column(
    name: str, where: Where, cells: Sequence[Raw], rows: Sequence[Sequence[Raw]]
) -> _Column:
    before, behind = f'{written(name)}:[{written(where.column)},"', f'",{written(where.unit)}]'
    kinds = set(map(type, cells))
    if where.units_in is not None or not kinds <= {float, str}:
        pairs = zip(cells, rows, strict=True)
        return _Column(before, [_with_unit(where, raw, row) for raw, row in pairs], '"]')
    different = set(cells)
    if len(kinds) == 1 and "" not in different and len(different) > len(cells) // 4:
        texts = _words(cells) if kinds == {str} else _numbers(cast("Sequence[float]", cells))
        if texts:
            return _Column(before, texts, behind)
    if 0.0 in different and any(str(raw) == "-0.0" for raw in cells if raw == 0.0):
        return _Column(before, list(map(_text, cells)), behind)
    known = {raw: _text(raw) for raw in different}
    return _Column(before, list(map(known.__getitem__, cells)), behind)


def _text(raw: Raw) -> str:
    return written(text_of(raw))[1:-1]


def _with_unit(where: Where, raw: Raw, row: Sequence[Raw]) -> str:
    return f"{_text(raw)}{_COMMA}{written(where.unit_in(row))[1:-1]}" if raw != "" else ""


def _words(texts: Sequence[Raw]) -> list[str]:
    """Return texts as they stand in JSON; nothing if one of them wants an escape."""
    quoted = written(texts)[1:-1]
    return [] if "\\" in quoted else quoted[1:-1].split(_COMMA)


def _numbers(numbers: Sequence[float]) -> list[str]:
    """Return numbers as `text_of` shows them; nothing if the quicker writer knows not all."""
    quick = orjson.dumps(numbers).decode()[1:-1]
    if any(mark in quick for mark in _NOT_PLAIN):
        return []
    shown = f"{quick},".replace(".0,", ",")[:-1].split(",")
    return [] if max(map(len, shown)) > _PLAIN else shown
