"""Apply a plan of proposals: one transaction, one audit batch, all or nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import select, text
from sqlalchemy.orm import Session

from supports.audit.chain import head
from supports.database import Writing
from supports.errors import Conflict
from supports.model import Area, ImportRun
from supports.operations.buffer import Buffer
from supports.operations.changing import CHANGE, change_facts
from supports.operations.creating import CREATE
from supports.operations.store import Store
from supports.progress import Told, told_along, unheard
from supports.proposals import (
    FieldChange,
    Name,
    Plan,
    Proposal,
    Today,
    Value,
    Verb,
    alike,
    differences,
)
from supports.queries.existing import today_for
from supports.sentences import Sentence

_IMPORT_LOCK = 7_061_974
"""PostgreSQL advisory lock under which imports follow each other; readers and crews go on."""


@dataclass(frozen=True, slots=True)
class SourceFile:
    """The file that a plan was read from."""

    name: str
    digest: str


def store_plan(writing: Writing, plan: Plan, source: SourceFile, told: Told = unheard) -> int:
    """Store a plan within a write that is already open; return the id of the import.

    Raises
    ------
    NotFound
        A record speaks of a support, line or calculation that is neither stored nor in the plan.
    Conflict
        Somebody else stored all of it, or other values of it, since the plan was made.
    """
    _after_other_imports(writing)
    buffer = Buffer(writing.trail)
    run = buffer.insert(
        ImportRun,
        {
            "file_name": source.name,
            "file_hash": source.digest,
            "read_at": writing.now,
            "read_by": writing.actor,
        },
    )
    areas = {row.code: row.id for row in writing.session.execute(select(Area.code, Area.id))}
    wanted = [p for p in plan.proposals if p.verb is not Verb.SAME]
    present = _present(writing.session, plan.against, wanted)
    theirs = frozenset(present.ids)
    store = Store(buffer, present, run, writing.now, areas)
    taken = [_take(store, p, theirs) for p in told_along("storing", wanted, told)]
    if wanted and not any(taken):
        raise Conflict(
            "somebody else stored all of this meanwhile", where=source.name,
            remedy="Nothing was stored twice; the register says what the file says",
        )  # fmt: skip
    buffer.write()
    return run


def _after_other_imports(writing: Writing) -> None:
    """Wait for imports on the way, and see what they store; SQLite has one writer anyway."""
    connection = writing.session.connection()
    if connection.dialect.name == "postgresql":
        connection.execute(text(f"SELECT pg_advisory_xact_lock({_IMPORT_LOCK})"))


def _present(session: Session, against: Today | None, wanted: Sequence[Proposal]) -> Today:
    """Return what the register says now, as it was read for the plan if nobody wrote since.

    That the chain has the same head as before the plan's rows were read says that nothing was
    committed in between: each batch moves the head, in the transaction of its rows. So the rows
    that were read then are those that stand when the head is read here. On SQLite this write holds
    the only lock by now, and they stand to its end. On PostgreSQL a crew may write after the head
    was read, as it may after rows were read; imports wait for the lock that was taken before.
    The plan keeps what it has: it is the same plan if this write is broken off.
    """
    if against is not None and against.head == head(session):
        return against.copied()
    return today_for(session, [proposal.record for proposal in wanted])


def _take(store: Store, proposal: Proposal, theirs: frozenset[Name]) -> bool:
    """Buffer the rows of one proposal; return whether there was anything left to store."""
    record = proposal.record
    name = (record.subject, record.key)
    if name not in store.today.ids:
        ids = CREATE[record.subject](store, record, store.source(record.source))
        store.today.values[name], store.today.ids[name] = record.values, ids
        return True
    changes = differences(record.values, store.today.values[name])
    if name in theirs:
        _need_as_planned(proposal, changes)
    if not changes:
        return False
    changed = {change.field: change.after for change in changes}
    CHANGE.get(record.subject, change_facts)(store, record, changed, store.source(record.source))
    store.today.values[name] = {**store.today.values[name], **changed}
    return True


def _need_as_planned(proposal: Proposal, changes: Sequence[FieldChange]) -> None:
    """Hold what would change now against what the plan said would change."""
    planned = {change.field: change.before for change in proposal.changes}
    for change in changes:
        if not alike(planned.get(change.field), change.before):
            raise Conflict(
                Sentence(
                    "somebody else stored another {field} meanwhile",
                    field=change.field.replace("_", " "),
                ),
                where=str(proposal.record.source.place(change.field)),
                found=_said(change.before),
                expected=_said(planned.get(change.field)),
                remedy="Nothing was stored. Check the file again and repeat",
            )


def _said(value: Value) -> str:
    return "nothing" if value is None else str(value)
