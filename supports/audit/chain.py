"""The hash over each batch and all before it, and the walk that finds what was tampered with.

A batch's hash covers each entry as one line of JSON: numbers as they are, keys sorted, as
`supports.freezing.written` writes them. Batches written before that writing was in use have their
numbers all as floats, by `supports.freezing.canonical`. Neither writing can be made to say what the
other says, so a batch is whole if it follows by either.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from typing import Any, NamedTuple

import orjson
from sqlalchemy import Text, cast, select
from sqlalchemy.orm import Session

from supports.freezing import canonical, steadily_written, written
from supports.model import AuditBatch, AuditEntry

GENESIS = "0" * 64
"""What stands for the hash before the first batch."""

_READ_AT_ONCE = 1_000
_WHOLE_OR_NONE = (int, type(None))

_Stored = tuple[str, int, Any, Any, int | None]
"""Table, id, before, after and row of origin of an entry, its documents read."""


class Entry(NamedTuple):
    """One row before and after, as JSON, not yet stored."""

    table: str
    row_id: int
    before: str | None
    after: str | None
    source_row_id: int | None = None


class Deed(NamedTuple):
    """What was done, by whom, why and when."""

    action: str
    actor: str
    reason: str
    written_at: datetime


def head(session: Session) -> str:
    """Return the hash of the newest batch."""
    newest = select(AuditBatch.hash).order_by(AuditBatch.id.desc()).limit(1)
    return session.scalar(newest) or GENESIS


def chain_hash(previous: str, deed: Deed, entries: Iterable[Entry]) -> str:
    """Return the hash of a batch together with all that came before it."""
    return lines_hash(previous, deed, (lines([entry]).encode() for entry in entries))


def lines_hash(previous: str, deed: Deed, pieces: Iterable[bytes]) -> str:
    """Return the same hash from the entries as `lines`, one or many at a time."""
    moment = deed.written_at.isoformat()
    opening = written([previous, deed.action, deed.actor, deed.reason, moment])
    return _digest(opening.encode(), pieces)


def lines(entries: Iterable[tuple[str, int, str | None, str | None, int | None]]) -> str:
    """Return entries as they go into the hash, a line each."""
    return "".join(
        [
            f'\n["{table}",{row_id},{before},{after},{source}]'
            for table, row_id, before, after, source in entries
        ]
    )


def _digest(opening: bytes, pieces: Iterable[bytes]) -> str:
    digest = hashlib.sha256(opening)
    for piece in pieces:
        digest.update(piece)
    return digest.hexdigest()


def first_break(session: Session) -> AuditBatch | None:
    """Return the first batch that does not follow from the one before it, if any."""
    previous = GENESIS
    for batch in session.scalars(select(AuditBatch).order_by(AuditBatch.id)):
        if batch.previous_hash != previous or not _follows(session, batch):
            return batch
        previous = batch.hash
    return None


def _follows(session: Session, batch: AuditBatch) -> bool:
    """Return whether a batch's hash is that of its entries, the quickest writing tried first."""
    deed = Deed(batch.action, batch.actor, batch.reason or "", batch.written_at)
    try:
        return any(
            batch.hash == how(batch.previous_hash, deed, _stored(session, batch.id))
            for how in (_by(written), _by(steadily_written), _former_hash)
        )
    except (ValueError, RecursionError):  # what stands there is no entry
        return False


def _by(writing: Callable[[Any], str]) -> Callable[[str, Deed, Iterable[_Stored]], str]:
    def hashed(previous: str, deed: Deed, rows: Iterable[_Stored]) -> str:
        return chain_hash(previous, deed, (_entry(row, writing) for row in rows))

    return hashed


def _entry(row: _Stored, writing: Callable[[Any], str]) -> Entry:
    table, row_id, before, after, source = row
    return Entry(
        table,
        row_id,
        None if before is None else writing(before),
        None if after is None else writing(after),
        source,
    )


def _former_hash(previous: str, deed: Deed, rows: Iterable[_Stored]) -> str:
    moment = deed.written_at.isoformat()
    opening = map(canonical, (previous, deed.action, deed.actor, deed.reason, moment))
    return _digest(b"".join(opening), (canonical(list(row)) for row in rows))


def _stored(session: Session, batch_id: int) -> Iterator[_Stored]:
    query = (
        select(
            AuditEntry.table_name,
            AuditEntry.row_id,
            cast(AuditEntry.before, Text),
            cast(AuditEntry.after, Text),
            AuditEntry.source_row_id,
        )
        .where(AuditEntry.batch_id == batch_id)
        .order_by(AuditEntry.id)
        .execution_options(yield_per=_READ_AT_ONCE)
    )
    with session.connection().execute(query) as rows:
        for table, row_id, before, after, source in rows:
            numbers = type(row_id) is int and type(source) in _WHOLE_OR_NONE
            if not (numbers and str(table).isidentifier()):
                raise ValueError(table, row_id, source)
            yield table, row_id, _read(before), _read(after), source


def _read(document: str | None) -> Any:
    if document is None:
        return None
    try:
        return orjson.loads(document)
    except orjson.JSONDecodeError:
        return json.loads(document)  # takes numbers without end, and refuses what is no JSON
