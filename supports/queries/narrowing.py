"""Narrow a query to ids or names, or leave it whole."""

from __future__ import annotations

import json
from collections.abc import Collection, Sequence
from typing import Any, TypeVarTuple

import orjson
from sqlalchemy import Boolean, ColumnElement, Row, Select, Text, bindparam
from sqlalchemy.dialects.postgresql import ARRAY
from sqlalchemy.ext.compiler import compiles
from sqlalchemy.orm import Session
from sqlalchemy.sql.compiler import SQLCompiler

Columns = TypeVarTuple("Columns")

FEW = 1_000
"""So many are handed over one by one; PostgreSQL takes 65,535 at most, SQLite 32,766."""


def only(query: Select[*Columns], column: Any, wanted: Collection[Any] | None) -> Select[*Columns]:
    """Return the query for these ids or names alone; None asks for all."""
    if wanted is None:
        return query
    return query.where(column.in_(wanted) if len(wanted) <= FEW else _OneOf(column, wanted))


def rows_of(session: Session, query: Select[*Columns]) -> Sequence[Row[*Columns]]:
    """Return the rows of a query for columns alone, past the session's own bookkeeping."""
    return session.connection().execute(query).all()


class _OneOf(ColumnElement[bool]):
    """A column that is one of many values, all of them handed over as one."""

    inherit_cache = False
    type = Boolean()

    def __init__(self, column: Any, wanted: Collection[Any]) -> None:
        self.column, self.wanted = column, list(wanted)


@compiles(_OneOf, "postgresql")
def _on_postgresql(element: _OneOf, compiler: SQLCompiler, **words: Any) -> str:
    listed = bindparam(None, element.wanted, type_=ARRAY(element.column.type), unique=True)
    return (
        f"{compiler.process(element.column, **words)} = ANY ({compiler.process(listed, **words)})"
    )


@compiles(_OneOf, "sqlite")
def _on_sqlite(element: _OneOf, compiler: SQLCompiler, **words: Any) -> str:
    listed = bindparam(None, _listed(element.wanted), type_=Text(), unique=True)
    values = f"SELECT value FROM json_each({compiler.process(listed, **words)})"  # noqa: S608  bound
    return f"{compiler.process(element.column, **words)} IN ({values})"


def _listed(wanted: list[Any]) -> str:
    """Return values as a list in JSON."""
    try:
        return orjson.dumps(wanted).decode()
    except TypeError:  # half a character, which no row holds
        return json.dumps(wanted)
