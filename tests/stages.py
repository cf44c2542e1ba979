"""Stages of a register that many tests begin at: made once in a worker, then laid back from memory.

What is laid back is every row as it was stored, with the trail and its chain; nothing is worked out
again. Only rows go to PostgreSQL, past the guards of history: its tables are empty and stand.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Hashable
from contextlib import closing
from dataclasses import dataclass
from typing import Any

import psycopg
from psycopg import sql

from supports.database import Register
from tests.postgres import address

FILLED = """
SELECT relname FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace
AND relname <> 'alembic_version' ORDER BY relname
"""
COUNTED = """
SELECT sequencename, last_value FROM pg_sequences
WHERE schemaname = 'public' AND last_value IS NOT NULL
"""
_NO_LOG_BESIDE = b"\x01\x01"
"""Read and write version of a file without a log beside it, which memory cannot have (SQLite's file
format, bytes 18 and 19)."""

_KEPT: dict[tuple[str, Hashable], tuple[Any, Any]] = {}


@dataclass(frozen=True)
class Rows:
    """The rows of a register on PostgreSQL, and how far its numbers were counted."""

    tables: dict[str, bytes]
    counted: dict[str, int]


def at_stage(register: Register, stage: Hashable, make: Callable[[], Any]) -> Any:
    """Bring a register to a stage; return what making it gave, the first time or now.

    Parameters
    ----------
    stage
        Its name: the same name means the same register before it and the same making.
    """
    database = register.url.get_backend_name()
    take, lay = (_take_file, _lay_file) if database == "sqlite" else (_take_rows, _lay_rows)
    if (database, stage) in _KEPT:
        given, kept = _KEPT[database, stage]
        lay(register, kept)
    else:
        given = make()
        _KEPT[database, stage] = given, take(register)
    return given


def _take_file(register: Register) -> bytes:
    with closing(sqlite3.connect(register.url.database or "")) as file:
        kept = file.serialize()
    return kept[:18] + _NO_LOG_BESIDE + kept[20:]


def _lay_file(register: Register, kept: bytes) -> None:
    with (
        closing(sqlite3.connect(":memory:")) as memory,
        closing(sqlite3.connect(register.url.database or "")) as file,
    ):
        memory.deserialize(kept)
        file.execute("PRAGMA synchronous=OFF")
        memory.backup(file)


def _take_rows(register: Register) -> Rows:
    with psycopg.connect(address(register.url)) as connection:
        names = [name for (name,) in connection.execute(FILLED)]
        tables = {name: _copied_out(connection, name) for name in names}
        counted = dict(connection.execute(COUNTED).fetchall())
    return Rows({name: rows for name, rows in tables.items() if rows}, counted)


def _copied_out(connection: psycopg.Connection[Any], table: str) -> bytes:
    if connection.execute(_named("SELECT FROM {} LIMIT 1", table)).fetchone() is None:
        return b""
    with connection.cursor().copy(_named("COPY {} TO STDOUT (FORMAT BINARY)", table)) as rows:
        return b"".join(bytes(piece) for piece in rows)


def _lay_rows(register: Register, kept: Rows) -> None:
    with psycopg.connect(address(register.url)) as connection:
        connection.execute("SET session_replication_role = replica")
        for table, rows in kept.tables.items():
            connection.execute(_named("DELETE FROM {}", table))
            with connection.cursor().copy(
                _named("COPY {} FROM STDIN (FORMAT BINARY)", table)
            ) as to:
                to.write(rows)
        for name, value in kept.counted.items():
            connection.execute("SELECT setval(%s, %s)", (name, value))


def _named(statement: str, table: str) -> sql.Composed:
    return sql.SQL(statement).format(sql.Identifier(table))
