"""Apply a plan of proposals: one transaction, one audit batch, all or nothing."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select

from supports.database import Writing
from supports.model import Area, ImportRun
from supports.operations.buffer import Buffer
from supports.operations.changing import CHANGE, change_facts
from supports.operations.creating import CREATE
from supports.operations.store import Store
from supports.progress import Told, told_along, unheard
from supports.proposals import Plan, Proposal, Verb
from supports.queries.existing import today_for


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
    """
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
    present = today_for(writing.session, {proposal.record.subject for proposal in wanted})
    store = Store(buffer, present, run, writing.now, areas)
    for proposal in told_along("storing", wanted, told):
        _take(store, proposal)
    buffer.write()
    return run


def _take(store: Store, proposal: Proposal) -> None:
    """Buffer the rows of one proposal."""
    record = proposal.record
    source = store.source(record.source)
    name = (record.subject, record.key)
    if proposal.verb is Verb.CREATE and name not in store.today.ids:
        ids = CREATE[record.subject](store, record, source)
        store.today.values[name], store.today.ids[name] = record.values, ids
    else:
        changed = {c.field: c.after for c in proposal.changes}
        CHANGE.get(record.subject, change_facts)(store, record, changed, source)
        store.today.values[name] = {**store.today.values[name], **changed}
