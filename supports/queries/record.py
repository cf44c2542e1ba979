"""The record as it is looked through: batch by batch, row by row, values before and after."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from sqlalchemy import ColumnElement, Row, Select, and_, false, func, or_, select
from sqlalchemy.orm import Session

from supports.findings import Place
from supports.model import AuditBatch, AuditEntry
from supports.queries.by_mark import put_back
from supports.queries.plant_days import end_of_day
from supports.queries.provenance import read_in, written_entries
from supports.queries.row_names import RowNames
from supports.queries.untold import Untold

BATCHES, ROWS = 50, 100
"""Batches and rows of a page."""
_PLUMBING = {"id", "row_version"}

RowName = tuple[str, int]


@dataclass(frozen=True, slots=True)
class RecordAsked:
    """What narrows the record; what is not said does not.

    Parameters
    ----------
    rows
        Only batches that wrote one of these rows; None: of any.
    tables
        Only batches that wrote into one of these tables; empty: into any.
    """

    rows: frozenset[RowName] | None = None
    tables: tuple[str, ...] = ()
    person: str = ""
    since: date | None = None
    until: date | None = None


@dataclass(frozen=True, slots=True)
class BatchListed:
    """All that one act wrote."""

    number: int
    written_at: datetime
    actor: str
    action: str
    reason: str
    rows: int
    mark: str


@dataclass(frozen=True, slots=True)
class BatchPage:
    """Batches, newest first; the numbers beyond which there are newer and older ones."""

    batches: tuple[BatchListed, ...]
    newer: int | None
    older: int | None


@dataclass(frozen=True, slots=True)
class ValueWritten:
    """A field before and after.

    Parameters
    ----------
    place, found
        The cell that it was read in, and what stood there with its unit.
    untold
        It is a secret: that it was written is told, what was written is not.
    """

    field: str
    before: Any
    after: Any
    place: Place
    found: str = ""
    untold: bool = False


@dataclass(frozen=True, slots=True)
class RowWritten:
    """A row that was written: by which batch, what it is about, each value before and after."""

    entry: int
    batch: int
    table: str
    row: int
    about: str
    action: str
    actor: str
    reason: str
    written_at: datetime
    plant_state: str
    new: bool
    values: tuple[ValueWritten, ...]


def batch_page(
    session: Session, asked: RecordAsked, *, older_than: int | None = None,
    newer_than: int | None = None, size: int = BATCHES,
) -> BatchPage:  # fmt: skip
    """Return the batches behind a place, before it, or else the newest."""
    backwards = newer_than is not None
    query = select(AuditBatch).where(*_conditions(session, asked))
    if older_than is not None:
        query = query.where(AuditBatch.id < older_than)
    if newer_than is not None:
        query = query.where(AuditBatch.id > newer_than)
    order = AuditBatch.id.asc() if backwards else AuditBatch.id.desc()
    found = list(session.scalars(query.order_by(order).limit(size + 1)))
    more, found = len(found) > size, found[:size]
    batches = _counted(session, found[::-1] if backwards else found, asked)
    newer, older = (more, True) if backwards else (older_than is not None, more)
    return BatchPage(
        batches,
        batches[0].number if batches and newer else None,
        batches[-1].number if batches and older else None,
    )


def _conditions(session: Session, asked: RecordAsked) -> Iterator[ColumnElement[bool]]:
    if asked.person:
        yield AuditBatch.actor == asked.person
    if asked.since:
        yield AuditBatch.written_at > end_of_day(session, asked.since - timedelta(days=1))
    if asked.until:
        yield AuditBatch.written_at <= end_of_day(session, asked.until)
    if asked.rows is not None or asked.tables:
        yield AuditBatch.id.in_(select(AuditEntry.batch_id).where(*_of_entries(asked)))


def _of_entries(asked: RecordAsked) -> Iterator[ColumnElement[bool]]:
    if asked.rows is not None:
        yield _among(asked.rows)
    if asked.tables:
        yield AuditEntry.table_name.in_(asked.tables)


def _among(rows: Iterable[RowName]) -> ColumnElement[bool]:
    held: dict[str, list[int]] = defaultdict(list)
    for table, row in rows:
        held[table].append(row)
    return or_(
        false(),
        *(
            and_(AuditEntry.table_name == table, AuditEntry.row_id.in_(ids))
            for table, ids in held.items()
        ),
    )


def _counted(
    session: Session, batches: list[AuditBatch], asked: RecordAsked
) -> tuple[BatchListed, ...]:
    if not batches:
        return ()
    first, last = sorted((batches[0].id, batches[-1].id))
    query = (
        select(AuditEntry.batch_id, func.count().label("held"))
        .where(AuditEntry.batch_id.between(first, last), *_of_entries(asked))
        .group_by(AuditEntry.batch_id)
    )
    counts = {row.batch_id: row.held for row in session.execute(query)}
    return tuple(
        BatchListed(
            one.id, one.written_at, one.actor, one.action, one.reason or "",
            counts.get(one.id, 0), one.hash,
        )
        for one in batches
    )  # fmt: skip


def rows_of_batch(
    session: Session, batch: int, asked: RecordAsked, *, behind: int = 0, size: int = ROWS
) -> tuple[RowWritten, ...]:
    """Return rows that a batch wrote, behind an entry, one more than a page holds if there are."""
    query = written_entries().where(
        AuditEntry.batch_id == batch, AuditEntry.id > behind, *_of_entries(asked)
    )
    return _told(session, query.limit(size + 1))


def history_of_row(
    session: Session, table: str, row: int, field: str = ""
) -> tuple[RowWritten, ...]:
    """Return every write of a row, oldest first; only those of one field where it is named."""
    query = written_entries().where(AuditEntry.table_name == table, AuditEntry.row_id == row)
    found = _told(session, query)
    if not field:
        return found
    return tuple(one for one in found if any(each.field == field for each in one.values))


def people_on_record(session: Session) -> list[str]:
    """Return everybody who ever wrote."""
    return sorted(session.scalars(select(AuditBatch.actor).distinct()))


def _told(session: Session, query: Select[Any]) -> tuple[RowWritten, ...]:
    untold, names = Untold.of(session), RowNames(session)
    entries = session.execute(query).all()
    new: dict[str, dict[int, dict[str, Any]]] = defaultdict(dict)
    for entry in entries:
        if entry.before is None:
            new[entry.table_name][entry.row_id] = dict(entry.after or {})
    put_back(session, new)
    return tuple(
        _row(entry, new[entry.table_name].get(entry.row_id), names, untold) for entry in entries
    )


def _row(
    entry: Row[Any], new: dict[str, Any] | None, names: RowNames, untold: Untold
) -> RowWritten:
    after = (new if entry.before is None else entry.after) or {}
    return RowWritten(
        entry.id, entry.batch_id, entry.table_name, entry.row_id,
        names.of(entry.table_name, entry.row_id), entry.action, entry.actor,
        entry.reason or "", entry.written_at, str(after.get("plant_state") or ""),
        entry.before is None, tuple(_values(entry, after, untold)),
    )  # fmt: skip


def _values(entry: Row[Any], after: dict[str, Any], untold: Untold) -> Iterator[ValueWritten]:
    before = entry.before or {}
    for field in dict.fromkeys((*before, *after)):
        if field in _PLUMBING:
            continue
        if untold.hides(entry.table_name, entry.row_id, field):
            yield ValueWritten(field, None, None, Place(), untold=True)
            continue
        place, text, unit = read_in(entry, field)
        found = f"{text} [{unit}]" if unit else text
        yield ValueWritten(field, before.get(field), after.get(field), place, found)
