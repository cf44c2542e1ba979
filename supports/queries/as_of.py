"""The register as it was at any past moment: the trail played again into a register of its own.

Whatever can be asked of the present register can be asked of a past one, with the same queries.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from datetime import date, datetime
from functools import cache
from typing import Any

from sqlalchemy import (
    Column,
    Date,
    DateTime,
    Engine,
    ScalarSelect,
    Table,
    create_engine,
    func,
    insert,
    select,
)
from sqlalchemy.orm import Session
from sqlalchemy.pool import NullPool
from sqlalchemy.schema import CreateIndex, CreateTable

from supports.model import AuditBatch, AuditEntry, Base
from supports.model.base import FOLLOWS
from supports.plant_time import ZONE
from supports.queries.by_mark import put_back
from supports.queries.plant_days import zone_of

Rows = dict[str, dict[int, dict[str, Any]]]
"""Rows by table and id, as the trail wrote them."""


def last_batch_by(moment: datetime) -> ScalarSelect[int]:
    """Return the number of the newest batch of a moment or before it; 0 if there is none.

    Moments are cut in the order of the trail. Where a clock was set back, batches before it may say
    a later time; without them what follows would hang in the air.
    """
    newest = func.coalesce(func.max(AuditBatch.id), 0)
    return select(newest).where(AuditBatch.written_at <= moment).scalar_subquery()


def rows_as_of(session: Session, moment: datetime, tables: Collection[str] = ()) -> Rows:
    """Return every row as it stood at a moment, from its entries in the trail.

    Parameters
    ----------
    tables
        Only rows of these; empty: of all.
    """
    query = (
        select(AuditEntry.table_name, AuditEntry.row_id, AuditEntry.after)
        .where(AuditEntry.batch_id <= last_batch_by(moment))
        .order_by(AuditEntry.batch_id, AuditEntry.id)
    )
    if tables:
        query = query.where(AuditEntry.table_name.in_(tables))
    rows: Rows = defaultdict(dict)
    for table, row_id, after in session.execute(query):
        rows[table].setdefault(row_id, {"id": row_id}).update(after or {})
    return rows


@contextmanager
def register_as_of(
    session: Session, moment: datetime, tables: Collection[str] = ()
) -> Iterator[Session]:
    """Give a session on the register as it was at a moment; it is kept in memory alone.

    Parameters
    ----------
    tables
        Only rows of these are in it, for questions that need no others; empty: of all.
    """
    past = rows_as_of(session, moment, tables)
    put_back(session, past)
    with _in_memory().connect() as connection:
        with connection.begin():
            for statement in _schema():
                connection.exec_driver_sql(statement)
            for table in Base.metadata.sorted_tables:
                if rows := [row_of(table, row) for row in past.get(table.name, {}).values()]:
                    connection.execute(insert(table), rows)
        with Session(connection, info={ZONE: zone_of(session)}) as then:
            yield then


@cache
def _in_memory() -> Engine:
    """Return an engine that gives each connection a register of its own; it knows its queries."""
    return create_engine("sqlite://", poolclass=NullPool)


@cache
def _schema() -> tuple[str, ...]:
    """Return the statements that lay out a register, worked out once."""
    dialect = _in_memory().dialect
    tables = Base.metadata.sorted_tables
    every: list[CreateTable | CreateIndex] = [CreateTable(table) for table in tables]
    every += [CreateIndex(index) for table in tables for index in table.indexes]
    return tuple(str(one.compile(dialect=dialect)) for one in every)


def row_of(table: Table, row: dict[str, Any]) -> dict[str, Any]:
    """Return a row with every column, blank where the trail says nothing of it."""
    return {column.name: _value(column, row) for column in table.columns}


def _value(column: Column[Any], row: dict[str, Any]) -> Any:
    if column.name == "row_version":
        return 1
    if FOLLOWS in column.info:
        source, how = column.info[FOLLOWS]
        return how(row[source])
    value = row.get(column.name)
    if value is None:
        return None
    if isinstance(column.type, DateTime):
        return datetime.fromisoformat(value)
    return date.fromisoformat(value) if isinstance(column.type, Date) else value
