"""What was written and what was refused, as data and as lines."""

from __future__ import annotations

from sqlalchemy import Row, Select, func, select
from sqlalchemy.orm import Session

from app.answers import Answer
from app.fitting import table
from app.shapes import Batch, Refused
from supports.model import AuditBatch, AuditEntry, Refusal
from supports.plant_time import to_the_minute
from supports.queries.plant_days import clock_at
from supports.vocabulary import counted


def batches(session: Session, last: int) -> Answer:
    """Return the newest batches of writes, newest last."""
    query = _batches().order_by(AuditBatch.id.desc()).limit(last)
    found = tuple(_batch(session, row) for row in reversed(session.execute(query).all()))
    cells = (
        (f"{one.number:>5}", to_the_minute(one.written_at), one.actor, one.action,
         counted(one.rows, "row"), one.reason)
        for one in found
    )  # fmt: skip
    return Answer(found, table(cells))


def batches_after(session: Session, number: int, size: int) -> tuple[Batch, ...]:
    """Return so many batches after one, oldest first."""
    query = _batches().where(AuditBatch.id > number).order_by(AuditBatch.id).limit(size)
    return tuple(_batch(session, row) for row in session.execute(query))


def _batches() -> Select[AuditBatch, int]:
    return (
        select(AuditBatch, func.count(AuditEntry.id))
        .join(AuditEntry, AuditEntry.batch_id == AuditBatch.id)
        .group_by(AuditBatch.id)
    )


def _batch(session: Session, row: Row[AuditBatch, int]) -> Batch:
    one, count = row
    return Batch(
        one.id, clock_at(session, one.written_at), one.actor, one.action, count, one.reason or ""
    )


def refusals(session: Session) -> Answer:
    """Return what somebody asked for and was refused, oldest first."""
    found = tuple(
        Refused(clock_at(session, one.asked_at), one.asked_by, one.action, one.answer)
        for one in session.scalars(select(Refusal).order_by(Refusal.id))
    )
    lines = [
        f"{to_the_minute(one.asked_at)}  {one.asked_by}  {one.action}: {one.answer}"
        for one in found
    ]
    return Answer(found, lines)
