"""What was proved of a change, and what is still to be proved."""

from __future__ import annotations

from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import Change, ChangeProof, Reading, WorkOrder, WorkOrderLine
from supports.rules.workflow.proofs import PROOFS


def proofs_of(session: Session, change_id: int) -> list[ChangeProof]:
    """Return the proofs given on a change, oldest first."""
    query = select(ChangeProof).where(ChangeProof.change_id == change_id).order_by(ChangeProof.id)
    return list(session.scalars(query))


def proofs_wanting(
    session: Session, change: Change, today: date, *, before_start_up: bool = False
) -> list[str]:
    """Return the proofs that nobody gave since the last reading, in the words of a blocker.

    Parameters
    ----------
    before_start_up
        Only those that start-up waits for.
    """
    since = _last_read(session, change.id)
    given = {
        proof.item: proof
        for proof in proofs_of(session, change.id)
        if since is None or proof.given_at.date() >= since
    }
    wanting = []
    for item in PROOFS:
        if before_start_up and not item.before_start_up:
            continue
        proof, who = given.get(item.proof), " or ".join(sorted(item.roles))
        if proof is None:
            wanting.append(f"not proved: {item.proof} (by {who})")
        elif proof.put_off_until is not None and proof.put_off_until < today:
            wanting.append(f"put off until {proof.put_off_until} and not proved: {item.proof}")
    return wanting


def _last_read(session: Session, change_id: int) -> date | None:
    query = (
        select(func.max(Reading.read_on))
        .join(WorkOrderLine, Reading.work_order_line_id == WorkOrderLine.id)
        .join(WorkOrder, WorkOrderLine.work_order_id == WorkOrder.id)
        .where(WorkOrder.change_id == change_id)
    )
    return session.scalar(query)
