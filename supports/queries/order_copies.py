"""The numbered copies of a work order's pack, as they were given out."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.errors import NotFound, NotReady
from supports.model import WorkOrderCopy
from supports.queries.lookups import work_order_of
from supports.sentences import Sentence, joined
from supports.snapshots import CopyView


def copies_of(session: Session, number: str) -> tuple[CopyView, ...]:
    """Return the copies of a work order by their number."""
    order = work_order_of(session, number)
    query = (
        select(WorkOrderCopy)
        .where(WorkOrderCopy.work_order_id == order.id)
        .order_by(WorkOrderCopy.copy_no)
    )
    return tuple(
        CopyView(copy.copy_no, copy.given_to, copy.given_on, copy.recalled_on, copy.fate or "")
        for copy in session.scalars(query)
    )


def copy_to_work_by(session: Session, number: str, copy_no: int) -> CopyView:
    """Return a copy that is out and not recalled.

    Raises
    ------
    NotFound
        No copy of that number was given out.
    NotReady
        The copy was recalled, came back, was lost or destroyed; nobody works by it.
    """
    known = {copy.number: copy for copy in copies_of(session, number)}
    copy = known.get(copy_no)
    if copy is None:
        raise NotFound(
            Sentence("{number} has no copy of that number", number=number),
            found=str(copy_no),
            expected=joined(map(str, known), ", ") or "none was given out",
            remedy=Sentence(
                'Give one out: supports work-order give-out {number} --to "holder"', number=number
            ),
        )
    recalled = Sentence("recalled on {day}", day=str(copy.recalled_on))
    gone = copy.fate or (recalled if copy.recalled_on else "")
    if gone:
        raise NotReady(
            Sentence(
                "copy {copy_no} of {number} is not printed again",
                copy_no=str(copy_no),
                number=number,
            ),
            (Sentence("{person} had it; it is {gone}", person=copy.given_to, gone=gone),),
            remedy="Give out a new copy, once the order is checked against what is approved",
        )
    return copy
