"""What was proved of a change, and what is still to be proved."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import Change, ChangeProof, Reading, WorkOrder, WorkOrderLine
from supports.queries.asked_once import by_first, of_one
from supports.queries.plant_days import day_at
from supports.rules.workflow.proofs import PROOFS, ProofItem
from supports.sentences import Sentence, either

PUT_OFF = "put off until {day} and not proved: {proof}"


def proofs_of(session: Session, change_id: int) -> tuple[ChangeProof, ...]:
    """Return the proofs given on a change, oldest first."""
    return of_one(session, Change, _proofs, change_id) or ()


def _proofs(session: Session, changes: Collection[int]) -> dict[int, tuple[ChangeProof, ...]]:
    query = select(ChangeProof).where(ChangeProof.change_id.in_(changes)).order_by(ChangeProof.id)
    return by_first((one.change_id, one) for one in session.scalars(query))


def proofs_wanting(
    session: Session, change: Change, today: date, *, before_start_up: bool = False
) -> list[str]:
    """Return the proofs that nobody gave since the last reading, in the words of a blocker.

    Parameters
    ----------
    before_start_up
        Only those that start-up waits for.
    """
    given = _given(session, change)
    wanting: list[str] = []
    for item in _wanting(given, today, before_start_up=before_start_up):
        proof, who = given.get(item.proof), either(sorted(item.roles))
        if proof is None:
            wanting.append(Sentence("not proved: {proof} (by {who})", proof=item.proof, who=who))
        else:
            day = str(proof.put_off_until)
            wanting.append(Sentence(PUT_OFF, day=day, proof=item.proof))
    return wanting


def items_wanting(session: Session, change: Change, today: date) -> tuple[ProofItem, ...]:
    """Return the proofs that are still to be given, those put off that are not due yet included."""
    given = _given(session, change)
    put_off = [item for item in PROOFS if (one := given.get(item.proof)) and one.put_off_until]
    due = tuple(_wanting(given, today))
    return (*due, *(item for item in put_off if item not in due))


def _given(session: Session, change: Change) -> dict[str, ChangeProof]:
    """Return the newest proof of each thing that was given since the last reading."""
    since = of_one(session, Change, _last_read, change.id)
    return {
        proof.item: proof
        for proof in proofs_of(session, change.id)
        if since is None or day_at(session, proof.given_at) >= since
    }


def _wanting(
    given: Mapping[str, ChangeProof], today: date, *, before_start_up: bool = False
) -> Iterator[ProofItem]:
    for item in PROOFS:
        if before_start_up and not item.before_start_up:
            continue
        proof = given.get(item.proof)
        if proof is None or (proof.put_off_until is not None and proof.put_off_until < today):
            yield item


def _last_read(session: Session, changes: Collection[int]) -> dict[int, date]:
    query = (
        select(WorkOrder.change_id, func.max(Reading.read_on))
        .join(WorkOrderLine, WorkOrderLine.work_order_id == WorkOrder.id)
        .join(Reading, Reading.work_order_line_id == WorkOrderLine.id)
        .where(WorkOrder.change_id.in_(changes))
        .group_by(WorkOrder.change_id)
    )
    return {row[0]: row[1] for row in session.execute(query)}
