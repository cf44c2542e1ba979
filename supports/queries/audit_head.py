"""The head of the chain of writes, as papers print it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.audit import GENESIS
from supports.freezing import short
from supports.model import AuditBatch, AuditEntry
from supports.sentences import Sentence


@dataclass(frozen=True, slots=True)
class AuditHead:
    """The newest batch of writes; its hash stands for all that was ever written.

    Parameters
    ----------
    batch
        Number of the batch; 0 where nothing was written yet.
    """

    batch: int
    hash: str
    written_at: datetime | None = None

    @property
    def in_words(self) -> Sentence:
        """Return it as printed: the hash shortened, and the batch."""
        return Sentence("{mark} (batch {number})", mark=short(self.hash), number=str(self.batch))

    def __str__(self) -> str:
        return str(self.in_words)


def audit_head(session: Session) -> AuditHead:
    """Return the head of the chain, to be printed on papers and compared with later."""
    newest = session.scalar(select(AuditBatch).order_by(AuditBatch.id.desc()).limit(1))
    if newest is None:
        return AuditHead(0, GENESIS)
    return AuditHead(newest.id, newest.hash, newest.written_at)


@dataclass(frozen=True, slots=True)
class ClockSetBack:
    """A batch that says an earlier time than the one before it."""

    batch: int
    says: datetime
    after: datetime

    def __str__(self) -> str:
        """Return it as a line."""
        return (
            f"batch {self.batch} says {self.says:%Y-%m-%d %H:%M:%S}, "
            f"the one before it {self.after:%Y-%m-%d %H:%M:%S}"
        )


def clocks_set_back(session: Session) -> list[ClockSetBack]:
    """Return where a clock ran behind the batch before; the order of the trail is not touched."""
    query = select(AuditBatch.id, AuditBatch.written_at).order_by(AuditBatch.id)
    pairs = pairwise(session.execute(query))
    return [ClockSetBack(batch, says, was) for (_, was), (batch, says) in pairs if says < was]


def head_when_written(session: Session, table: str, row_id: int) -> str:
    """Return the hash of the batch that a row was first written by: the chain's head just then."""
    query = (
        select(AuditBatch.hash)
        .join(AuditEntry, AuditEntry.batch_id == AuditBatch.id)
        .where(AuditEntry.table_name == table, AuditEntry.row_id == row_id)
        .order_by(AuditEntry.id)
        .limit(1)
    )
    return session.scalars(query).one()
