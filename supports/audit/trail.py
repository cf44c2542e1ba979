"""Every row written is recorded before and after, in one batch per use case, chained by hash.

The trail listens to the session, so that no use case can forget it. Rows are never deleted, and
bulk UPDATE or DELETE through the session, which the trail would not see, is refused. Database
triggers (revision 0001) guard the audit tables and the event tables themselves.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import repeat
from typing import Any, NamedTuple, cast

from sqlalchemy import Table, bindparam, event, func, inspect, select, text, update
from sqlalchemy.orm import ORMExecuteState, Session, UOWTransaction

from supports.audit.bulk import insert_all, insert_lines
from supports.audit.chain import Deed, Entry, head, lines_hash
from supports.audit.kept import Block, Kept
from supports.errors import NotAllowed
from supports.freezing import mark_of, steadily_written
from supports.model import AuditBatch, AuditEntry, Base
from supports.model.base import BY_MARK, FOLLOWS

_CHAIN_LOCK = 7_061_973
"""PostgreSQL advisory lock under which the chain grows; without it two writers fork it."""

_ENTRIES = cast("Table", AuditEntry.__table__)
_COLUMNS = ("batch_id", "table_name", "row_id", "before", "after", "source_row_id")

Row = Mapping[str, Any]


class RowChange(NamedTuple):
    """New values of some columns of a row, and the row as it was, with its id."""

    table: Table
    before: Row
    after: Row
    source: int | None = None


@dataclass(slots=True)
class Trail:
    """What one session has written so far."""

    session: Session
    source_row_id: int | None = None
    _kept: Kept = field(default_factory=Kept)
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
            self._put_down(row.__tablename__, row.id, before, after, self.source_row_id)  # type: ignore[attr-defined]
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
        self,
        table: Table,
        rows: Sequence[Row],
        sources: Sequence[int | None] = (),
        *,
        no_blanks: bool = False,
    ) -> None:
        """Insert many rows at once; each must bring its id."""
        if not rows:
            return
        afters = insert_all(self.session.connection(), table, rows, no_blanks=no_blanks)
        origins = sources or [self.source_row_id] * len(rows)
        self._kept.add_new(table.name, [row["id"] for row in rows], afters, origins)

    def update_rows(self, changes: Sequence[RowChange]) -> None:
        """Set the columns of each `after` in the row ``before["id"]``; one row's in their order."""
        alike: dict[tuple[str, ...], list[RowChange]] = defaultdict(list)
        kind_of_row: dict[tuple[str, int], tuple[str, ...]] = {}
        for change in changes:
            kind = (change.table.name, *sorted(change.after))
            if kind_of_row.setdefault((change.table.name, change.before["id"]), kind) != kind:
                self._update(alike)
                kind_of_row = {(change.table.name, change.before["id"]): kind}
            alike[kind].append(change)
        self._update(alike)
        for table, before, after, source in changes:
            was = {name: before.get(name) for name in after}
            self._put_down(str(table.name), before["id"], was, after, source)

    def _update(self, alike: dict[tuple[str, ...], list[RowChange]]) -> None:
        """Set the same columns of many rows of a table together, then let go of them."""
        for (_, *names), changes in alike.items():
            table = changes[0].table
            values: dict[str, Any] = {name: bindparam(f"new_{name}") for name in names}
            if "row_version" in table.c:
                values["row_version"] = table.c.row_version + 1
            statement = update(table).where(table.c.id == bindparam("row")).values(values)
            rows = [
                {"row": c.before["id"], **{f"new_{name}": c.after[name] for name in names}}
                for c in changes
            ]
            self.session.connection().execute(statement, rows)
        alike.clear()

    def _put_down(
        self, table: str, row_id: int, before: Row | None, after: Row, source: int | None
    ) -> None:
        was = None if before is None else steadily_written(before)
        self._kept.add(Entry(table, row_id, was, steadily_written(after), source))

    def close(self, action: str, actor: str, reason: str, now: datetime) -> str:
        """Store the batch; return the new head of the chain.

        Nothing is stored, and the old head returned, if nothing was written.
        """
        self.session.flush()
        connection = self.session.connection()
        if connection.dialect.name == "postgresql":
            connection.execute(text(f"SELECT pg_advisory_xact_lock({_CHAIN_LOCK})"))
        previous = head(self.session)
        if not self._kept:
            return previous
        deed = Deed(action, actor, reason, now)
        digest = lines_hash(previous, deed, map(Block.lines, self._kept.blocks()))
        batch = AuditBatch(previous_hash=previous, hash=digest, **deed._asdict())
        self.session.add(batch)
        self.session.flush()
        for block in self._kept.blocks():
            rows = zip(repeat(batch.id), *block)
            insert_lines(connection, _ENTRIES, _COLUMNS, rows)
        self.forget()
        return digest

    def forget(self) -> None:
        """Let go of what was put down and not stored."""
        self._kept.clear()


def _audited(row: Any) -> bool:
    return not isinstance(row, AuditBatch | AuditEntry) and not row.off_record


def _touched(session: Session, row: Any) -> bool:
    return _audited(row) and session.is_modified(row, include_collections=False)


def _before(row: Any) -> dict[str, Any]:
    state = inspect(row)
    changed = {}
    for column in state.mapper.column_attrs:
        history = state.attrs[column.key].history
        if history.has_changes():
            changed[column.key] = history.deleted[0] if history.deleted else None
    return changed


def _after(row: Any, before: dict[str, Any] | None) -> dict[str, Any]:
    attributes = inspect(row).mapper.column_attrs
    if before is not None:
        return {key: getattr(row, key) for key in before}
    told = [c for c in attributes if FOLLOWS not in c.columns[0].info]
    return {
        c.key: mark_of(value) if BY_MARK in c.columns[0].info else value
        for c in told
        if (value := getattr(row, c.key)) is not None
    }
