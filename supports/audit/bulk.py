"""Many rows at once: a column converted at a time, the driver's own bulk insert, one writing.

SQLAlchemy's own bulk insert spends longer on looking up each value of each row by its name than
both databases on storing it. Here the types' own conversions are asked for once a column.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from itertools import chain, islice
from operator import itemgetter
from typing import Any

import numpy as np
import orjson
from sqlalchemy import JSON, Column, ColumnDefault, Connection, Double, Integer, Table
from sqlalchemy.exc import DBAPIError

from supports.freezing import MANY_DIGITS, Written, mark_of, steadily_written, written
from supports.model.base import BY_MARK, FOLLOWS

_AT_ONCE = 2_000
"""Rows handed to the driver together; more cost memory and save nothing."""

_IN_A_STATEMENT = 25
_FEW_COLUMNS = 10
"""Rows of so few columns go to SQLite several in a statement: to begin one costs it more than to
store a narrow row; with 40 columns nothing is gained."""

_BLANK = type(None)
"""Sought among types, which takes half as long as seeking None among numbers."""

Row = Mapping[str, Any]
_Columns = Mapping[str, Sequence[Any]]


def insert_all(
    connection: Connection, table: Table, rows: Sequence[Row], *, no_blanks: bool = False
) -> list[str]:
    """Insert rows; return each as the trail tells it, its blanks left out.

    A column that a row does not name takes its default, or is blank.

    Parameters
    ----------
    no_blanks
        Whoever hands the rows over has looked that no value of theirs is None.
    """
    names = [column.name for column in table.columns]
    converters = [_converter(column, connection) for column in table.columns]
    writings: list[str] = []
    for start in range(0, len(rows), _AT_ONCE):
        chunk = rows[start : start + _AT_ONCE]
        columns = _columns(chunk, table)
        converted = (
            [convert(value) for value in columns[name]] if convert else columns[name]
            for name, convert in zip(names, converters, strict=True)
        )
        insert_lines(connection, table, names, zip(*converted, strict=True))
        writings.extend(_written_rows(chunk, table, columns, no_blanks=no_blanks))
    return writings


def _columns(rows: Sequence[Row], table: Table) -> _Columns:
    """Return rows a column at a time, by name."""
    named = tuple(rows[0])
    columns: _Columns = {}
    if len(named) > 1 and set(map(len, rows)) == {len(named)}:
        with suppress(KeyError):  # as many columns, but others
            lines = list(map(itemgetter(*named), rows))
            columns = dict(zip(named, zip(*lines, strict=True), strict=True))
    own = [column for column in table.columns if FOLLOWS not in column.info]
    known = {column.name: columns[column.name] for column in own if column.name in columns}
    return {
        column.name: known.get(column.name) or _values(column, rows) for column in table.columns
    }


def _values(column: Column[Any], rows: Sequence[Row]) -> list[Any]:
    if FOLLOWS in column.info:
        source, how = column.info[FOLLOWS]
        return [how(row[source]) for row in rows]
    default = column.default.arg if isinstance(column.default, ColumnDefault) else None
    return [row.get(column.name, default) for row in rows]


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
    into = f"{quote(table.name)} ({', '.join(map(quote, names))})"
    if connection.dialect.name == "postgresql":
        _copy(connection, f"COPY {into} FROM STDIN", lines)
        return
    marks = f"({', '.join('?' * len(names))})"
    statement = f"INSERT INTO {into} VALUES {marks}"  # noqa: S608  names of the model
    several = f"{statement}{f', {marks}' * (_IN_A_STATEMENT - 1)}"
    lines = iter(lines)
    while chunk := list(islice(lines, _AT_ONCE)):
        single = 0
        if len(names) <= _FEW_COLUMNS and (single := len(chunk) - len(chunk) % _IN_A_STATEMENT):
            connection.exec_driver_sql(several, list(_in_a_row(chunk[:single])))
        if single < len(chunk):
            connection.exec_driver_sql(statement, chunk[single:])


def _in_a_row(lines: list[tuple[Any, ...]]) -> Iterator[tuple[Any, ...]]:
    """Yield the values of some rows after each other, as many as go into a statement."""
    for start in range(0, len(lines), _IN_A_STATEMENT):
        yield tuple(chain.from_iterable(lines[start : start + _IN_A_STATEMENT]))


def _copy(connection: Connection, statement: str, lines: Iterable[tuple[Any, ...]]) -> None:
    """Hand rows to PostgreSQL as one stream; row by row it takes several times as long."""
    error = connection.dialect.loaded_dbapi.Error
    try:
        with _stream(connection, statement) as copy:
            for line in lines:
                copy.write_row(line)
    except error as fault:
        raise DBAPIError.instance(
            statement, None, fault, error, dialect=connection.dialect
        ) from fault


def _stream(connection: Connection, statement: str) -> Any:
    cursor: Any = connection.connection.cursor()
    return cursor.copy(statement)


def _written_rows(
    rows: Sequence[Row], table: Table, columns: _Columns, *, no_blanks: bool
) -> Iterator[str]:
    odd = _odd_rows(table, columns)
    blanks = not no_blanks and _has_blanks(rows)
    by_mark = [c.name for c in table.columns if BY_MARK in c.info]
    documents = [
        c.name
        for c in table.columns
        if isinstance(c.type, JSON)
        and BY_MARK not in c.info
        and Written in set(map(type, columns[c.name]))
    ]
    for i, row in enumerate(rows):
        plain = row
        if blanks:
            plain = {name: value for name, value in row.items() if value is not None}
        for name in by_mark:
            plain = {**plain, name: mark_of(plain[name])} if name in plain else plain
        for name in documents:
            if isinstance(document := plain.get(name), Written):
                plain = {**plain, name: orjson.Fragment(document.text)}
        yield steadily_written(plain) if i in odd else written(plain)


def _has_blanks(rows: Sequence[Row]) -> bool:
    return _BLANK in set(map(type, chain.from_iterable(row.values() for row in rows)))


def _odd_rows(table: Table, columns: _Columns) -> set[int]:
    """Return the rows with numbers that a database may give back otherwise: large ones, -0."""
    found: set[int] = set()
    for column in table.columns:
        if isinstance(column.type, Double | Integer):
            numbers = np.array(columns[column.name], dtype=np.float64)
            odd = (np.abs(numbers) >= MANY_DIGITS) | ((numbers == 0.0) & np.signbit(numbers))
            found.update(np.flatnonzero(odd).tolist())
    return found
