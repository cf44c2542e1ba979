"""The head of the chain of writes, as papers print it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.audit import GENESIS
from supports.freezing import short
from supports.model import AuditBatch


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

    def __str__(self) -> str:
        """Return it as printed: the hash shortened, and the batch."""
        return f"{short(self.hash)} (batch {self.batch})"


def audit_head(session: Session) -> AuditHead:
    """Return the head of the chain, to be printed on papers and compared with later."""
    newest = session.scalar(select(AuditBatch).order_by(AuditBatch.id.desc()).limit(1))
    if newest is None:
        return AuditHead(0, GENESIS)
    return AuditHead(newest.id, newest.hash, newest.written_at)
