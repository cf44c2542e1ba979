"""Close a change, once nothing stands in the way."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import NotReady
from supports.model import Change, WorkOrder, WorkOrderLine
from supports.operations.acting import deed
from supports.operations.order_states import copies_out, copy_words
from supports.queries.change_record import work_blockers
from supports.queries.change_views import content_of, latest_assessment_or_none
from supports.queries.lookups import change_of
from supports.queries.orders import (
    lines_of_change,
    names_of_lines,
    orders_on_change,
    readers_of_change,
)
from supports.queries.proofs import proofs_wanting
from supports.queries.props import props_of_change
from supports.queries.stops import pins_of_change
from supports.rules.workflow import (
    ChangeState,
    LineState,
    OrderKind,
    OrderState,
    require_other_person,
    require_step,
)
from supports.rules.workflow.states import left_to_do
from supports.sentences import Sentence


def close_change(register: Register, number: str, *, acting: str, now: datetime) -> None:
    """Close a change.

    Raises
    ------
    NotReady
        Units are not settled, travel stops or props are in, proofs or copies are missing, or
        supports are left that a re-set could not put right; all are named.
    NotAllowed
        The person turned or read a unit of it.
    """
    with deed(register, acting, now, action="close a change", subject=number) as act:
        change = change_of(act.session, number)
        step = require_step("close", ChangeState(change.state), act.person.roles)
        why = "whoever turned or read a unit does not close the change"
        require_other_person(
            "close it", act.person.name, readers_of_change(act.session, change.id), why
        )
        blockers = closing_blockers(act.session, change, act.today)
        if blockers:
            raise NotReady(Sentence("{number} cannot be closed", number=number), blockers)
        change.state = step.to


def closing_blockers(session: Session, change: Change, today: date) -> list[str]:
    """Return everything that stands in the way of closing, by name."""
    return [
        *_unit_blockers(session, change),
        *(pin.in_short for pin in pins_of_change(session, change)),
        *(prop.in_words for prop in props_of_change(session, change)),
        *_basis_blockers(session, change),
        *proofs_wanting(session, change, today),
        *(
            Sentence("{copy} did not come back", copy=copy_words(order, copy))
            for order, copy in copies_out(session, change.id)
        ),
    ]


def _unit_blockers(session: Session, change: Change) -> list[str]:
    lines = lines_of_change(session, change.id)
    unsettled = [line for line in lines if not LineState(line.state).is_settled]
    names = names_of_lines(session, unsettled)
    orders = {order.id: order for order in orders_on_change(session, change.id)}
    blockers: list[str] = [
        _left_to_do(name, line, orders[line.work_order_id])
        for name, line in zip(names, unsettled, strict=True)
    ]
    if not lines:
        blockers.append("no work order was written")
    removal = lines_of_change(session, change.id, OrderKind.REMOVAL)
    if any(not LineState(line.state).is_settled for line in removal):
        blockers.append("the temporary hardware is still there: its removal order is open")
    return blockers


def _left_to_do(name: str, line: WorkOrderLine, order: WorkOrder) -> Sentence:
    """Return what is still to be done at a unit, and under which order."""
    return left_to_do(
        LineState(line.state), name, order.number, OrderState(order.state), line.waits_for or ""
    )


ASSESS_ANEW = "{tag}: {verdict}; wants a new assessment once it is put right"


def _basis_blockers(session: Session, change: Change) -> list[str]:
    assessment = latest_assessment_or_none(session, change.id)
    if assessment is None or change.state == ChangeState.TO_BE_PUT_RIGHT:
        return []
    blockers = work_blockers(session, change)
    blockers += [
        Sentence(ASSESS_ANEW, tag=judged.tag, verdict=judged.verdict)
        for judged in content_of(assessment).unresolved
    ]
    return blockers
