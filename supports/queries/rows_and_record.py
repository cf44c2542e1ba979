"""Rows held against the record of what was written: what was changed past the program shows here.

The chain of hashes proves the record itself. A row that somebody altered, took out or put in with
the database's own tools leaves the record as it was, and no longer says what the record says.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Column, Table, select
from sqlalchemy.orm import Session

from supports.freezing import is_mark, mark_of
from supports.model import AuditBatch, AuditEntry, Base
from supports.model.base import BY_MARK
from supports.queries.as_of import row_of, rows_as_of
from supports.queries.untold import OFF_RECORD

_APART = {AuditBatch.__tablename__, AuditEntry.__tablename__} | OFF_RECORD
"""The record itself, and what leaves no trail."""
_AT_ONCE = 5_000
_FOR_EVER = datetime(9999, 12, 31)  # noqa: DTZ001  the register keeps UTC without zone


@dataclass(frozen=True, slots=True)
class Departure:
    """A row that does not say what the record says.

    Parameters
    ----------
    fields
        What differs; empty where the whole row is missing, or is on no record.
    """

    table: str
    row: int
    how: str
    fields: tuple[str, ...] = ()

    def __str__(self) -> str:
        """Return it as a line."""
        fields = f": {', '.join(self.fields)}" if self.fields else ""
        return f"{self.table.replace('_', ' ')} {self.row} {self.how}{fields}"


def departures(session: Session) -> Iterator[Departure]:
    """Yield every row that does not say what was recorded of it, table by table."""
    recorded = rows_as_of(session, _FOR_EVER)
    for table in Base.metadata.sorted_tables:
        if table.name not in _APART:
            yield from _of_table(session, table, recorded.get(table.name, {}))


def _of_table(
    session: Session, table: Table, recorded: dict[int, dict[str, Any]]
) -> Iterator[Departure]:
    columns = [column for column in table.columns if column.name != "row_version"]
    query = select(*columns).order_by(table.c.id).execution_options(yield_per=_AT_ONCE)
    for row in session.execute(query).mappings():
        known = recorded.pop(row["id"], None)
        if known is None:
            yield Departure(table.name, row["id"], "is on no record")
            continue
        wanted = row_of(table, known)
        other = tuple(c.name for c in columns if not _says(c, row[c.name], wanted[c.name]))
        if other:
            yield Departure(table.name, row["id"], "says something else than the record", other)
    for row_id in sorted(recorded):
        yield Departure(table.name, row_id, "is on record and was taken out")


def _says(column: Column[Any], value: Any, recorded: Any) -> bool:
    """Return whether a value is the one recorded, or the one whose mark is.

    A mark put where its document stood says nothing of what that was.
    """
    if BY_MARK in column.info and is_mark(recorded):
        return bool(mark_of(value) == recorded)
    return bool(value == recorded)
