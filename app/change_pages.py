"""Where a change stands and what was done on it, as lines of text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime

from sqlalchemy.orm import Session

from app.answers import Answer
from app.shapes import ChangeStanding, StepRow, UnitVerdict
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
from supports.queries.history import Event, change_history
from supports.queries.lookups import change_of
from supports.queries.periods import periods_in_force
from supports.queries.plant_days import clock_at, day_at
from supports.queries.temporary import temporary_standing
from supports.queries.work_order_views import orders_of_change
from supports.rules.assessment import AssessmentContent
from supports.rules.workflow import ChangeState, OrderKind, OrderState
from supports.rules.workflow.record import FIVE_ITEMS
from supports.rules.workflow.steps import next_of_order, next_words
from supports.snapshots import WorkOrderView
from supports.vocabulary import counted


def change_shown(session: Session, number: str, now: datetime) -> Answer:
    """Return a change: its record, assessment, orders, signatures and blockers."""
    change = change_of(session, number)
    assessment = latest_assessment_or_none(session, change.id)
    content = content_of(assessment) if assessment is not None else None
    shown = _standing(session, change, content, day_at(session, now))
    lines = (
        *_head(session, change, now),
        *_record(shown),
        *(assessment_lines(content) if content else ()),
        *_orders(shown.orders),
        *(f"  {signed}" for signed in shown.signatures),
        *(f"  blocks approval: {words}" for words in shown.blocks_approval),
        *(f"  blocks closing: {words}" for words in shown.blocks_closing),
        shown.next,
    )
    return Answer(shown, lines)


def _standing(
    session: Session, change: Change, content: AssessmentContent | None, today: date
) -> ChangeStanding:
    record, state = change_record(session, change), ChangeState(change.state)
    orders = tuple(orders_of_change(session, change.id))
    blocked, blockers = blockers_of(session, change, today)
    return ChangeStanding(
        number=change.number,
        title=change.title,
        state=change.state,
        lines=record.lines,
        requested_by=change.requested_by,
        requested_on=change.requested_on,
        reason=change.reason or "",
        depth=record.depth,
        stretch=record.stretch,
        items={name: record.five[name] for name in FIVE_ITEMS},
        assessment=tuple(_verdicts(content)) if content else (),
        orders=orders,
        signatures=tuple(signed_on_change(session, change)),
        blocks_approval=tuple(blockers) if blocked == "approval" else (),
        blocks_closing=tuple(blockers) if blocked == "closing" else (),
        next=_next(state, orders),
    )


def _verdicts(content: AssessmentContent) -> Iterator[UnitVerdict]:
    for support, judged in zip(content.supports, content.judgements, strict=True):
        for one in judged.units:
            turns = one.re_set.turns_per_bolt if one.re_set else None
            yield UnitVerdict(
                tag=support.tag,
                position=one.position,
                verdict=str(one.verdict),
                present_N=one.present,
                required_N=one.demand.governing,
                turns=turns.turns if turns else None,
                flats=turns.flats if turns else None,
                direction=(one.re_set.direction or "") if one.re_set else "",
                reasons=tuple(answer.text for answer in one.failures),
                missing=one.missing,
            )


def _orders(orders: Sequence[WorkOrderView]) -> Iterator[str]:
    for one in orders:
        yield f"  {one.number} ({one.kind}): {one.state}, {counted(len(one.lines), 'unit')}"


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
    standing = temporary_standing(session, change, day_at(session, now))
    if standing:
        yield f"  {standing}; owner {change.owner or 'not named'}"
    if change.safe_until is not None:
        due = clock_at(session, change.safe_until)
        yield f"  made safe at once; the full change is due by {due}"
    for other in unmet_changes(session, change):
        yield f"  on the same stretch and not met: {other.number} ({other.state})"


def _record(shown: ChangeStanding) -> Iterator[str]:
    yield f"  depth {shown.depth or 'not sifted'}; stretch {shown.stretch or 'not named'}"
    for name, words in FIVE_ITEMS.items():
        yield f"  {words}: {shown.items[name] or 'NOT WRITTEN'}"


def step_lines(steps: Iterable[StepRow]) -> Iterator[str]:
    """Return the steps of a change as lines."""
    rows = tuple(steps)
    everybody = max((row.roles for row in rows), key=len)
    for row in rows:
        who = "anybody with a role" if row.roles == everybody else " or ".join(row.roles)
        yield f"{row.act}: {', '.join(row.from_states) or 'nothing'} -> {row.to}"
        yield f"  by {who or 'itself'}; wants {row.evidence}"


def blockers_of(session: Session, change: Change, today: date) -> tuple[str, list[str]]:
    """Return what is blocked, 'approval', 'closing' or nothing, and everything in the way of it."""
    state = ChangeState(change.state)
    if state.is_being_prepared and state is not ChangeState.NOTED:
        return "approval", approval_blockers(session, change)
    if not state.is_over and not state.is_being_prepared:
        return "closing", closing_blockers(session, change, today)
    return "", []


def history_shown(session: Session, number: str) -> Answer:
    """Return all that was done on a change, oldest first, with refusals and the record's head."""
    events = tuple(change_history(session, change_of(session, number)))
    return Answer(events, tuple(_history(session, number, events)))


def _history(session: Session, number: str, events: Sequence[Event]) -> Iterator[str]:
    change = change_of(session, number)
    yield f"History of {number}, {change.title}: {change.state}"
    for event in events:
        yield f"  {event}"
        yield from (f"      {words}" for words in event.said)
    names = dict.fromkeys(event.actor for event in events)
    refused = sum(event.is_refusal for event in events)
    times = counted(refused, "refusal")
    yield f"{counted(len(names), 'person', 'people')} took part: {', '.join(names)}; {times}."
    years = periods_in_force(session, change.requested_on).keep_years
    yield f"The record's head is {audit_head(session)}; papers printed today bear the same."
    yield f"Nothing of it is ever deleted; the site keeps it at hand for {years:g} years."
