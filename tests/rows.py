"""One row in every table, made from the tables themselves: for tests of guards and revisions."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection
from typing import Any

from sqlalchemy import Column, Connection, MetaData, Table

PLAIN: dict[type, Any] = {
    int: 1,
    float: 0.1,
    str: "text",
    bool: True,
    dt.date: dt.date(2031, 5, 4),
    dt.datetime: dt.datetime(2031, 5, 4, 3, 2, 1),  # noqa: DTZ001  the register keeps UTC without zone
    object: {"number": 0.1},
}
CHOSEN = {"direction": "in", "arrangement": "single", "what": "start-up"}
"""Values of columns that take only certain words."""


def fill(
    connection: Connection, metadata: MetaData, besides: Collection[str] = ()
) -> dict[str, dict[str, Any]]:
    """Insert a row with every column set into every table; return the rows by table.

    A key that would point forward in the order of tables is left blank. Tables named in `besides`
    hold a row of their own already.
    """
    rows: dict[str, dict[str, Any]] = {name: {} for name in besides}
    for table in metadata.sorted_tables:
        if table.name in besides:
            continue
        rows[table.name] = {c.name: value(c, rows) for c in table.columns}
        connection.execute(table.insert(), rows[table.name])
    return rows


def value(column: Column[Any], filled: dict[str, Any]) -> Any:
    """Return something that the column takes."""
    for key in column.foreign_keys:
        if key.column.table.name not in filled:
            return None
    return CHOSEN.get(column.name, PLAIN[column.type.python_type])


def read(connection: Connection, table: Table) -> list[dict[str, Any]]:
    """Return all rows of a table."""
    return [dict(row) for row in connection.execute(table.select()).mappings()]
