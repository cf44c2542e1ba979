"""Rows on their way into the register: ids given at once, written in bulk, table after table."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from itertools import chain
from typing import Any, cast

from sqlalchemy import Table

from supports.audit import RowChange, Trail
from supports.model import Base

_BLANK = type(None)
"""Sought among types, which takes half as long as seeking None among numbers."""
_BLOCK = 500
_AT_ONCE = 5_000
"""Rows kept back; with more, memory would grow with the file."""


def table_of(model: type[Base]) -> Table:
    """Return the table behind a model."""
    return cast("Table", model.__table__)


@cache
def _kind_of(model: type[Base]) -> tuple[str, bool]:
    """Return the name of the table behind a model, and whether its rows bear a version."""
    table = table_of(model)
    return table.name, "row_version" in table.columns


@dataclass(slots=True)
class Buffer:
    """New rows and changes, written some thousands at a time and at last by `write`.

    All of it belongs to one transaction: if `write` is not reached, nothing of it stays.
    """

    trail: Trail
    _held: int = 0
    _rows: dict[str, list[dict[str, Any]]] = field(default_factory=lambda: defaultdict(list))
    _sources: dict[str, list[int | None]] = field(default_factory=lambda: defaultdict(list))
    _ids: dict[str, Iterator[int]] = field(default_factory=dict)
    _changes: list[RowChange] = field(default_factory=list)

    def insert(self, model: type[Base], values: dict[str, Any], source: int | None = None) -> int:
        """Take a new row, whose dictionary is kept and completed; return its id."""
        if self._held >= _AT_ONCE:
            self.write()
        self._held += 1
        name, versioned = _kind_of(model)
        if name not in self._ids:
            self._ids[name] = self._blocks(table_of(model))
        values["id"] = row_id = next(self._ids[name])
        if versioned:
            values["row_version"] = 1
        self._rows[name].append(values)
        self._sources[name].append(source)
        return row_id

    def change(
        self,
        model: type[Base],
        before: dict[str, Any],
        after: dict[str, Any],
        source: int | None = None,
    ) -> None:
        """Take a change of the row ``before["id"]``; no change is taken as none."""
        if after:
            self._changes.append(RowChange(table_of(model), before, after, source))

    def write(self) -> None:
        """Write everything, parents before children."""
        for table in Base.metadata.sorted_tables:
            rows = _stated(self._rows.pop(table.name, []), frozenset(table.columns.keys()))
            sources = self._sources.pop(table.name, [])
            self.trail.insert_rows(table, rows, sources, no_blanks=True)
        self.trail.update_rows(self._changes)
        self._changes.clear()
        self._held = 0

    def _blocks(self, table: Table) -> Iterator[int]:
        if self.trail.session.get_bind().dialect.name == "postgresql":
            while True:
                yield from self.trail.new_ids(table, _BLOCK)
        first = self.trail.new_ids(table, 1)[0]
        while True:
            yield first
            first += 1


def _stated(rows: list[dict[str, Any]], names: frozenset[str]) -> list[dict[str, Any]]:
    """Return rows without what is blank and without what the table has no column for."""
    known = all(map(names.issuperset, set(map(tuple, rows))))
    if known and _BLANK not in set(map(type, chain.from_iterable(map(dict.values, rows)))):
        return rows
    return [
        {name: value for name, value in row.items() if value is not None and name in names}
        for row in rows
    ]
