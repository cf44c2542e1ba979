"""Many rows at once: a column converted at a time, the driver's own bulk insert, one writing.

SQLAlchemy's own bulk insert spends longer on looking up each value of each row by its name than
both databases on storing it. Here the types' own conversions are asked for once a column.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import islice
from typing import Any

import numpy as np
import orjson
from sqlalchemy import JSON, Column, Connection, Double, Integer, Table

from supports.freezing import MANY_DIGITS, Written, steadily_written, written

_AT_ONCE = 2_000
"""Rows handed to the driver together; more cost memory and save nothing."""

Row = Mapping[str, Any]


def insert_all(connection: Connection, table: Table, rows: Sequence[Row]) -> None:
    """Insert rows that all name the same columns; a column not named takes its default."""
    named = [c for c in table.columns if c.name in rows[0] or c.default is not None]
    converters = [_converter(column, connection) for column in named]
    names = [column.name for column in named]
    chunks = (rows[n : n + _AT_ONCE] for n in range(0, len(rows), _AT_ONCE))
    columns = (_columns(chunk, named, converters) for chunk in chunks)
    insert_lines(
        connection, table, names, (line for each in columns for line in zip(*each, strict=True))
    )


def _columns(
    rows: Sequence[Row], named: Sequence[Column[Any]], converters: Sequence[Any]
) -> Iterator[list[Any]]:
    for column, convert in zip(named, converters, strict=True):
        name = column.name
        if name not in rows[0]:
            values = [column.default.arg] * len(rows)  # type: ignore[union-attr]  # see insert_all
        else:
            values = [row[name] for row in rows]
        yield [convert(value) for value in values] if convert else values


def _converter(column: Column[Any], connection: Connection) -> Callable[[Any], Any] | None:
    """Return what turns a value into what the driver takes; None where it takes it as it is."""
    dialect = connection.dialect
    if isinstance(column.type, JSON):
        return _as_json
    return column.type.dialect_impl(dialect).bind_processor(dialect)


def _as_json(value: Any) -> str | None:
    if value is None:
        return None
    if isinstance(value, Written):
        return value.text
    return written(value)


def insert_lines(
    connection: Connection, table: Table, names: Sequence[str], lines: Iterable[tuple[Any, ...]]
) -> None:
    """Insert rows given as the driver takes them, in the order of the columns named."""
    quote = connection.dialect.identifier_preparer.quote
    mark = "?" if connection.dialect.paramstyle == "qmark" else "%s"
    columns, marks = ", ".join(map(quote, names)), ", ".join([mark] * len(names))
    statement = f"INSERT INTO {quote(table.name)} ({columns}) VALUES ({marks})"  # noqa: S608  names
    lines = iter(lines)
    while chunk := list(islice(lines, _AT_ONCE)):
        connection.exec_driver_sql(statement, chunk)


def written_rows(table: Table, rows: Sequence[Row]) -> Iterator[str]:
    """Give each new row as one writing, its blanks left out."""
    odd = _odd_rows(table, rows)
    documents = [c.name for c in table.columns if isinstance(c.type, JSON) and c.name in rows[0]]
    for i, row in enumerate(rows):
        plain = {name: value for name, value in row.items() if value is not None}
        for name in documents:
            if isinstance(document := plain.get(name), Written):
                plain[name] = orjson.Fragment(document.text)
        yield steadily_written(plain) if i in odd else written(plain)


def _odd_rows(table: Table, rows: Sequence[Row]) -> set[int]:
    """Return the rows with numbers that a database may give back otherwise: large ones, -0."""
    found: set[int] = set()
    for column in table.columns:
        if isinstance(column.type, Double | Integer) and column.name in rows[0]:
            numbers = np.array([row[column.name] for row in rows], dtype=np.float64)
            odd = (np.abs(numbers) >= MANY_DIGITS) | ((numbers == 0.0) & np.signbit(numbers))
            found.update(np.flatnonzero(odd).tolist())
    return found
