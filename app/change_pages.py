"""Where a change stands and what was done on it, as lines of text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from sqlalchemy.orm import Session

from app.tables import assessment_lines
from supports.model import Change
from supports.operations.closing import closing_blockers
from supports.queries.audit_head import audit_head
from supports.queries.change_record import (
    approval_blockers,
    change_record,
    signed_on_change,
    unmet_changes,
)
from supports.queries.change_views import content_of, latest_assessment_or_none
from supports.queries.history import change_history
from supports.queries.lookups import change_of
from supports.queries.periods import periods_in_force
from supports.queries.temporary import temporary_standing
from supports.queries.work_order_views import orders_of_change
from supports.rules.workflow import ChangeState, OrderKind, OrderState
from supports.rules.workflow.record import FIVE_ITEMS
from supports.rules.workflow.steps import next_of_order, next_words
from supports.snapshots import WorkOrderView
from supports.vocabulary import counted


def change_page(session: Session, number: str, now: datetime) -> Iterator[str]:
    """Return a change as lines: its record, assessment, orders, signatures and blockers."""
    change = change_of(session, number)
    yield from _head(session, change, now)
    yield from _record(session, change)
    assessment = latest_assessment_or_none(session, change.id)
    if assessment is not None:
        yield from assessment_lines(content_of(assessment))
    orders = orders_of_change(session, change.id)
    for order in orders:
        yield f"  {order.number} ({order.kind}): {order.state}, {counted(len(order.lines), 'unit')}"
    yield from (f"  {signed}" for signed in signed_on_change(session, change))
    yield from _blockers(session, change, now)
    yield _next(ChangeState(change.state), orders)


_AT_WORK = {ChangeState.CLEARED, ChangeState.BEING_DONE, ChangeState.TO_BE_PUT_RIGHT}


def _next(state: ChangeState, orders: Sequence[WorkOrderView]) -> str:
    """Return what comes next: on the newest order that is not finished, else on the change."""
    if state in _AT_WORK:
        kind = OrderKind.UNDO if state is ChangeState.TO_BE_PUT_RIGHT else OrderKind.RE_SET
        for order in reversed([one for one in orders if one.kind == kind]):
            if words := next_of_order(order.number, OrderState(order.state)):
                return words
    return next_words(state)


def _head(session: Session, change: Change, now: datetime) -> Iterator[str]:
    record = change_record(session, change)
    yield f"{change.number} {change.title}: {change.state}; lines {', '.join(record.lines)}"
    yield f"  noted by {change.requested_by} on {change.requested_on}: {change.reason or '-'}"
    standing = temporary_standing(session, change, now.date())
    if standing:
        yield f"  {standing}; owner {change.owner or 'not named'}"
    if change.safe_until is not None:
        yield f"  made safe at once; the full change is due by {change.safe_until}"
    for other in unmet_changes(session, change):
        yield f"  on the same stretch and not met: {other.number} ({other.state})"


def _record(session: Session, change: Change) -> Iterator[str]:
    record = change_record(session, change)
    yield f"  depth {record.depth or 'not sifted'}; stretch {record.stretch or 'not named'}"
    for name, words in FIVE_ITEMS.items():
        yield f"  {words}: {record.five[name] or 'NOT WRITTEN'}"


def _blockers(session: Session, change: Change, now: datetime) -> Iterator[str]:
    state = ChangeState(change.state)
    if state.is_being_prepared and state is not ChangeState.NOTED:
        yield from (f"  blocks approval: {words}" for words in approval_blockers(session, change))
    elif not state.is_over and not state.is_being_prepared:
        blockers = closing_blockers(session, change, now.date())
        yield from (f"  blocks closing: {words}" for words in blockers)


def history_page(session: Session, number: str) -> Iterator[str]:
    """Return all that was done on a change, oldest first, with refusals and the record's head."""
    change = change_of(session, number)
    yield f"History of {number}, {change.title}: {change.state}"
    events = change_history(session, change)
    for event in events:
        yield f"  {event}"
        yield from (f"      {words}" for words in event.said)
    names = dict.fromkeys(event.actor for event in events)
    refused = sum(event.action.startswith("refused: ") for event in events)
    times = counted(refused, "refusal")
    yield f"{counted(len(names), 'person', 'people')} took part: {', '.join(names)}; {times}."
    years = periods_in_force(session, change.requested_on).keep_years
    yield f"The record's head is {audit_head(session)}; papers printed today bear the same."
    yield f"Nothing of it is ever deleted; the site keeps it at hand for {years:g} years."
