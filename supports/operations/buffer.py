"""Rows on their way into the register: ids given at once, written in bulk, table after table."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any, cast

from sqlalchemy import Table

from supports.audit import Trail
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
def _names(model: type[Base]) -> frozenset[str]:
    return frozenset(column.name for column in table_of(model).columns)


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
    _changes: list[tuple[Table, dict[str, Any], dict[str, Any], int | None]] = field(
        default_factory=list
    )

    def insert(self, model: type[Base], values: dict[str, Any], source: int | None = None) -> int:
        """Take a new row, whose dictionary is kept and completed; return its id."""
        if self._held >= _AT_ONCE:
            self.write()
        self._held += 1
        table = table_of(model)
        row_id = self._next_id(table)
        names = _names(model)
        row = values
        if _BLANK in set(map(type, values.values())) or not values.keys() <= names:
            row = {n: value for n, value in values.items() if value is not None and n in names}
        row["id"] = row_id
        if "row_version" in names:
            row["row_version"] = 1
        self._rows[table.name].append(row)
        self._sources[table.name].append(source)
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
            self._changes.append((table_of(model), before, after, source))

    def write(self) -> None:
        """Write everything, parents before children."""
        for table in Base.metadata.sorted_tables:
            rows = self._rows.pop(table.name, [])
            self.trail.insert_rows(table, rows, self._sources.pop(table.name, []))
        for table, before, after, source in self._changes:
            self.trail.update_row(table, before, after, source)
        self._changes.clear()
        self._held = 0

    def _next_id(self, table: Table) -> int:
        if table.name not in self._ids:
            self._ids[table.name] = self._blocks(table)
        return next(self._ids[table.name])

    def _blocks(self, table: Table) -> Iterator[int]:
        if self.trail.session.get_bind().dialect.name == "postgresql":
            while True:
                yield from self.trail.new_ids(table, _BLOCK)
        first = self.trail.new_ids(table, 1)[0]
        while True:
            yield first
            first += 1
