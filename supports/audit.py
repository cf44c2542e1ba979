"""Every row written is recorded before and after, in one batch per use case, chained by hash.

The trail listens to the session, so that no use case can forget it. Rows are never deleted, and
bulk UPDATE or DELETE through the session, which the trail would not see, is refused. Database
triggers (revision 0001) guard the audit tables and the event tables themselves.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from sqlalchemy import Table, event, func, insert, inspect, select, text, update
from sqlalchemy.orm import ORMExecuteState, Session, UOWTransaction

from supports.errors import NotAllowed
from supports.freezing import canonical
from supports.model import AuditBatch, AuditEntry, Base

GENESIS = "0" * 64
"""What stands for the hash before the first batch."""

_CHAIN_LOCK = 7_061_973
"""PostgreSQL advisory lock under which the chain grows; without it two writers fork it."""

Row = Mapping[str, Any]


@dataclass(slots=True)
class Entry:
    """One row before and after, not yet stored."""

    table: str
    row_id: int
    before: dict[str, Any] | None
    after: dict[str, Any] | None
    source_row_id: int | None = None


@dataclass(slots=True)
class Trail:
    """What one session has written so far."""

    session: Session
    entries: list[Entry] = field(default_factory=list)
    source_row_id: int | None = None
    _pending: list[tuple[Base, dict[str, Any] | None]] = field(default_factory=list)

    def listen(self) -> None:
        """Follow the session's writes from now on."""
        event.listen(self.session, "before_flush", self._before_flush)
        event.listen(self.session, "after_flush", self._after_flush)
        event.listen(self.session, "do_orm_execute", self._refuse_bulk)

    def _before_flush(self, session: Session, _: UOWTransaction, __: Any) -> None:
        if session.deleted:
            raise NotAllowed("rows of the register are never deleted", remedy="Add what is new")
        self._pending = [(row, None) for row in session.new if _audited(row)]
        self._pending += [(row, _before(row)) for row in session.dirty if _touched(session, row)]

    def _after_flush(self, _: Session, __: UOWTransaction) -> None:
        for row, before in self._pending:
            after = _after(row, before)
            entry = Entry(row.__tablename__, row.id, before, after, self.source_row_id)  # type: ignore[attr-defined]
            self.entries.append(entry)
        self._pending = []

    def _refuse_bulk(self, state: ORMExecuteState) -> None:
        if state.is_update or state.is_delete:
            raise NotAllowed("bulk updates leave no trail", remedy="Change the rows one by one")

    def new_ids(self, table: Table, count: int) -> list[int]:
        """Return ids for rows to be inserted; the caller holds the write lock or a sequence."""
        connection = self.session.connection()
        if connection.dialect.name == "postgresql":
            next_id = "nextval(pg_get_serial_sequence(:name, 'id'))"
            series = text(f"SELECT {next_id} FROM generate_series(1, :count)")  # noqa: S608  bound
            drawn = connection.execute(series, {"name": table.name, "count": count})
            return [int(number) for number in drawn.scalars()]
        newest = connection.execute(select(func.max(table.c.id))).scalar() or 0
        return list(range(newest + 1, newest + count + 1))

    def insert_rows(
        self, table: Table, rows: Sequence[Row], sources: Sequence[int | None] = ()
    ) -> None:
        """Insert many rows at once; each must bring its id."""
        if not rows:
            return
        self.session.connection().execute(insert(table), list(rows))
        origins = sources or [self.source_row_id] * len(rows)
        for row, source in zip(rows, origins, strict=True):
            self.entries.append(Entry(table.name, row["id"], None, _plain(row), source))

    def update_row(self, table: Table, before: Row, after: Row, source: int | None = None) -> None:
        """Set the columns of `after` in the row ``before["id"]``."""
        row_id = before["id"]
        versioned = "row_version" in table.c
        values = {**after, "row_version": table.c.row_version + 1} if versioned else dict(after)
        self.session.connection().execute(update(table).where(table.c.id == row_id).values(values))
        was = {name: before.get(name) for name in after}
        self.entries.append(Entry(table.name, row_id, _json(was), _json(after), source))

    def close(self, action: str, actor: str, reason: str, now: datetime) -> str:
        """Store the batch; return the new head of the chain.

        Nothing is stored, and the old head returned, if nothing was written.
        """
        self.session.flush()
        connection = self.session.connection()
        if connection.dialect.name == "postgresql":
            connection.execute(text(f"SELECT pg_advisory_xact_lock({_CHAIN_LOCK})"))
        previous = head(self.session)
        if not self.entries:
            return previous
        batch = AuditBatch(
            action=action,
            actor=actor,
            reason=reason,
            written_at=now,
            previous_hash=previous,
            hash=chain_hash(previous, action, actor, reason, now, self.entries),
        )
        self.session.add(batch)
        self.session.flush()
        connection.execute(insert(AuditEntry), [_stored(batch.id, e) for e in self.entries])
        self.entries.clear()
        return batch.hash


def head(session: Session) -> str:
    """Return the hash of the newest batch."""
    newest = select(AuditBatch.hash).order_by(AuditBatch.id.desc()).limit(1)
    return session.scalar(newest) or GENESIS


def chain_hash(
    previous: str, action: str, actor: str, reason: str, now: datetime, entries: Iterable[Entry]
) -> str:
    """Return the hash of a batch together with all that came before it."""
    digest = hashlib.sha256()
    for part in (previous, action, actor, reason, now.isoformat()):
        digest.update(canonical(part))
    for entry in entries:
        digest.update(
            canonical([entry.table, entry.row_id, entry.before, entry.after, entry.source_row_id])
        )
    return digest.hexdigest()


def first_break(session: Session) -> AuditBatch | None:
    """Return the first batch that does not follow from the one before it, if any."""
    previous = GENESIS
    for batch in session.scalars(select(AuditBatch).order_by(AuditBatch.id)):
        entries = _entries_of(session, batch.id)
        reason = batch.reason or ""
        wanted = chain_hash(previous, batch.action, batch.actor, reason, batch.written_at, entries)
        if (batch.previous_hash, batch.hash) != (previous, wanted):
            return batch
        previous = batch.hash
    return None


def _entries_of(session: Session, batch_id: int) -> list[Entry]:
    rows = session.scalars(
        select(AuditEntry).where(AuditEntry.batch_id == batch_id).order_by(AuditEntry.id)
    )
    return [Entry(r.table_name, r.row_id, r.before, r.after, r.source_row_id) for r in rows]


def _stored(batch_id: int, entry: Entry) -> dict[str, Any]:
    return {
        "batch_id": batch_id,
        "table_name": entry.table,
        "row_id": entry.row_id,
        "before": entry.before,
        "after": entry.after,
        "source_row_id": entry.source_row_id,
    }


def _audited(row: Any) -> bool:
    return not isinstance(row, AuditBatch | AuditEntry)


def _touched(session: Session, row: Any) -> bool:
    return _audited(row) and session.is_modified(row, include_collections=False)


def _before(row: Any) -> dict[str, Any]:
    state = inspect(row)
    changed = {}
    for column in state.mapper.column_attrs:
        history = state.attrs[column.key].history
        if history.has_changes():
            changed[column.key] = history.deleted[0] if history.deleted else None
    return _json(changed)


def _after(row: Any, before: dict[str, Any] | None) -> dict[str, Any]:
    keys = [c.key for c in inspect(row).mapper.column_attrs]
    if before is not None:
        return _json({key: getattr(row, key) for key in before})
    return _plain({key: getattr(row, key) for key in keys})


def _plain(row: Row) -> dict[str, Any]:
    return _json({key: value for key, value in row.items() if value is not None})


def _json(row: Row) -> dict[str, Any]:
    return {
        key: value.isoformat() if isinstance(value, date | datetime) else value
        for key, value in row.items()
    }
