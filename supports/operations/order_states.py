"""Hold what is not begun, recall printed copies, and let each order follow from its lines."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.errors import NotReady
from supports.model import Change, WorkOrder, WorkOrderCopy, WorkOrderLine
from supports.operations.acting import Deed
from supports.queries.asked_once import by_first, of_one
from supports.queries.orders import lines_of_change, name_of_line
from supports.rules.work_plan import RE_SET
from supports.rules.workflow import LineState, OrderKind, OrderState
from supports.rules.workflow.states import order_state
from supports.sentences import Sentence

_DONE = {
    LineState.TO_BE_CHECKED,
    LineState.OUT_OF_WINDOW,
    LineState.ACCEPTED,
    LineState.ACCEPTED_IN_WRITING,
    LineState.KEPT,
}
_NOT_BEGUN = {LineState.WRITTEN, LineState.BACK_TO_ENGINEER}

__all__ = [
    "hold_for_new_assessment",
    "lines_of_change",
    "recall_copies",
    "refresh_orders",
]


def hold_for_new_assessment(session: Session, change: Change) -> None:
    """Put units not begun on hold, and mark those turned as to be compared.

    Raises
    ------
    NotReady
        Somebody has a unit in hand: it must be stopped and read first.
    """
    lines = lines_of_change(session, change.id, OrderKind.RE_SET)
    if change.asked_until is not None or not lines:
        return
    busy = [line for line in lines if line.state == LineState.IN_HAND]
    if busy:
        raise NotReady(
            "units are in hand under the earlier assessment",
            [name_of_line(session, line) for line in busy],
            remedy="Stop there and read the scale: supports work-order stop",
        )
    for line in lines:
        if LineState(line.state) in _NOT_BEGUN:
            line.state, line.waits_for = LineState.ON_HOLD, "a newer assessment"
        elif line.action == RE_SET and LineState(line.state) in _DONE:
            line.state = LineState.TO_BE_COMPARED
    refresh_orders(session, change)


def refresh_orders(session: Session, change: Change) -> None:
    """Let the state of every order of a change follow from its lines."""
    session.flush()
    for order in session.scalars(select(WorkOrder).where(WorkOrder.change_id == change.id)):
        query = select(WorkOrderLine.state).where(WorkOrderLine.work_order_id == order.id)
        states = [LineState(state) for state in session.scalars(query)]
        if states and all(state is LineState.WITHDRAWN for state in states):
            order.state = OrderState.WITHDRAWN
        else:
            order.state = order_state(states, OrderState(order.state))


def copies_out(session: Session, change_id: int) -> list[tuple[WorkOrder, WorkOrderCopy]]:
    """Return the printed copies of a change's orders that did not come back."""
    return list(of_one(session, Change, _copies_out, change_id) or ())


def _copies_out(
    session: Session, changes: Collection[int]
) -> dict[int, tuple[tuple[WorkOrder, WorkOrderCopy], ...]]:
    query = (
        select(WorkOrder, WorkOrderCopy)
        .join(WorkOrderCopy, WorkOrderCopy.work_order_id == WorkOrder.id)
        .where(WorkOrder.change_id.in_(changes), WorkOrderCopy.fate.is_(None))
        .order_by(WorkOrderCopy.id)
    )
    return by_first((order.change_id, (order, copy)) for order, copy in session.execute(query))


def copy_words(order: WorkOrder, copy: WorkOrderCopy) -> str:
    """Return a copy as people name it."""
    return Sentence(
        "{order} copy {copy} ({person})",
        order=order.number, copy=str(copy.copy_no), person=copy.given_to,
    )  # fmt: skip


def recall_copies(act: Deed, change: Change) -> tuple[str, ...]:
    """Recall every copy that is out; return them by number and holder."""
    return tuple(
        _recalled(order, copy, act.today) for order, copy in copies_out(act.session, change.id)
    )


def _recalled(order: WorkOrder, copy: WorkOrderCopy, today: date) -> str:
    copy.recalled_on = copy.recalled_on or today
    return copy_words(order, copy)
