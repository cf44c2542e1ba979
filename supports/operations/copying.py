"""A whole register copied into an empty place, row by row, and held against what it came from.

The copy may be kept in a file or on a server, whichever the original is in; it is a register like
any other. Numbers, times, words and the trail with its chain are the same to the last bit.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import JSON, Column, Connection, Table, Text, bindparam, cast, func, insert, select
from sqlalchemy import update as change
from sqlalchemy.sql import ColumnElement

from supports.database import Register, shown_url
from supports.errors import Conflict
from supports.model import Base

ROWS_AT_ONCE = 2000

Row = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Copied:
    """What was copied: rows by table, and the fingerprint of all of them."""

    rows: dict[str, int]
    fingerprint: str

    @property
    def total(self) -> int:
        """Return the number of rows."""
        return sum(self.rows.values())


def copy_register(source: Register, target: Register) -> Copied:
    """Copy a register into an empty place; whole and the same, or not at all.

    Parameters
    ----------
    target
        An empty database; its tables are made.

    Raises
    ------
    Conflict
        Something is in the target already, or what was stored differs from what was read.
    """
    source.check()
    with source.snapshot() as given, target.filling() as taken:
        _need_empty(target, taken)
        for table in Base.metadata.sorted_tables:
            _copy_table(table, given, taken)
        _count_on(taken)
        said, stored = _said(given), _said(taken)
        if said != stored:
            raise Conflict(
                "the copy is not the same as the register", where=shown_url(target.url),
                found=f"{stored.total} rows, {stored.fingerprint[:12]}",
                expected=f"{said.total} rows, {said.fingerprint[:12]}",
                remedy="Nothing was kept. Repeat; if it happens again, the disk is at fault",
            )  # fmt: skip
    return stored


def compare_registers(one: Register, other: Register) -> tuple[Copied, Copied]:
    """Return what each of two registers holds; the same fingerprint is the same content."""
    with one.snapshot() as first, other.snapshot() as second:
        return _said(first), _said(second)


def _need_empty(target: Register, taken: Connection) -> None:
    filled = [
        table.name
        for table in Base.metadata.sorted_tables
        if taken.execute(select(func.count()).select_from(table)).scalar_one()
    ]
    if filled:
        raise Conflict(
            "there is a register here already", where=shown_url(target.url),
            found=f"rows in {', '.join(filled[:3])}",
            remedy="Name an empty place; nothing was written",
        )  # fmt: skip


def _copy_table(table: Table, given: Connection, taken: Connection) -> None:
    storing = insert(table).values(
        {column.name: _stored(column, taken) for column in table.columns}
    )
    later: list[tuple[str, int, int]] = []
    for rows in _parts(table, given):
        taken.execute(storing, [_without_later(table, row, later) for row in rows])
    for name, row_id, value in later:
        taken.execute(change(table).where(table.c.id == row_id).values({name: value}))


def _parts(table: Table, given: Connection) -> Iterator[list[Row]]:
    """Give the rows of a table in parts; JSON as its text, so that nothing and 'null' differ."""
    columns = [
        (cast(column, Text) if isinstance(column.type, JSON) else column).label(column.name)
        for column in table.columns
    ]
    query = select(*columns).order_by(*table.primary_key.columns)
    found = given.execution_options(yield_per=ROWS_AT_ONCE).execute(query)
    for part in found.mappings().partitions():
        yield [dict(row) for row in part]


def _stored(column: Column[Any], taken: Connection) -> ColumnElement[Any]:
    if not isinstance(column.type, JSON):
        return bindparam(column.name, type_=column.type)
    as_text: ColumnElement[Any] = bindparam(column.name, type_=Text())
    return cast(as_text, column.type) if taken.dialect.name == "postgresql" else as_text


def _without_later(table: Table, row: Row, later: list[tuple[str, int, int]]) -> Row:
    """Leave out references to rows of the same table that are yet to come; they are kept aside."""
    for column in table.columns:
        if any(key.column.table is table for key in column.foreign_keys):
            value = row[column.name]
            if value is not None and value > row["id"]:
                later.append((column.name, row["id"], value))
                row[column.name] = None
    return row


def _count_on(taken: Connection) -> None:
    """Let the server count on from the highest number that was copied."""
    if taken.dialect.name != "postgresql":
        return
    for table in Base.metadata.sorted_tables:
        highest = taken.execute(select(func.max(table.c.id))).scalar_one()
        if highest is not None:
            sequence = func.pg_get_serial_sequence(table.name, "id")
            taken.execute(select(func.setval(sequence, highest)))


def _said(connection: Connection) -> Copied:
    mark = hashlib.sha256()
    rows: dict[str, int] = {}
    for table in Base.metadata.sorted_tables:
        mark.update(table.name.encode())
        rows[table.name] = 0
        written_as_json = {c.name for c in table.columns if isinstance(c.type, JSON)}
        for part in _parts(table, connection):
            rows[table.name] += len(part)
            for row in part:
                mark.update(_line(row, written_as_json))
    return Copied(rows, mark.hexdigest())


def _line(row: Row, written_as_json: Collection[str]) -> bytes:
    """Write a row down so that both databases write it alike: JSON in the order of its names."""
    values = {
        name: json.dumps(json.loads(value), sort_keys=True)
        if name in written_as_json and value is not None
        else value
        for name, value in row.items()
    }
    written = (f"{type(one).__name__}:{one!r}" for one in values.values())
    return "\x1f".join(written).encode()
