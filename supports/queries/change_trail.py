"""Every write that touched a change, with each value before and after."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.freezing import short
from supports.model import AuditBatch, AuditEntry, Change
from supports.queries.history import rows_of_change
from supports.queries.plant_days import clock_at
from supports.snapshots import TrailBatch, TrailRow

_PLUMBING = {"id", "row_version"}


def change_trail(session: Session, change: Change) -> tuple[TrailBatch, ...]:
    """Return all batches that wrote rows of a change, oldest first, with those rows."""
    rows = set(rows_of_change(session, change))
    query = (
        select(AuditBatch, AuditEntry)
        .join(AuditEntry, AuditEntry.batch_id == AuditBatch.id)
        .where(AuditEntry.table_name.in_({table for table, _ in rows}))
        .order_by(AuditBatch.id, AuditEntry.id)
    )
    held: dict[int, tuple[AuditBatch, list[TrailRow]]] = {}
    for batch, entry in session.execute(query):
        if (entry.table_name, entry.row_id) in rows:
            values = tuple(_values(entry.before or {}, entry.after or {}))
            row = TrailRow(entry.table_name, entry.row_id, values)
            held.setdefault(batch.id, (batch, []))[1].append(row)
    return tuple(_batch(session, batch, found) for batch, found in held.values())


def _batch(session: Session, batch: AuditBatch, rows: list[TrailRow]) -> TrailBatch:
    return TrailBatch(
        batch.id,
        clock_at(session, batch.written_at),
        batch.actor,
        batch.action,
        batch.reason or "",
        short(batch.previous_hash),
        short(batch.hash),
        tuple(rows),
    )


def _values(before: dict[str, Any], after: dict[str, Any]) -> Iterator[tuple[str, str, str]]:
    for name in dict.fromkeys((*before, *after)):
        if name not in _PLUMBING:
            yield name, _text(before.get(name)), _text(after.get(name))


def _text(value: Any) -> str:
    if value is None:
        return ""
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
