"""What of the plant is open: changes with whose word they wait for, work at units, walks."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Campaign, Change, ChangeLine, Line, WorkOrder, WorkOrderLine
from supports.queries.narrowing import only
from supports.queries.orders import orders_on_change
from supports.queries.temporary import temporary_standings
from supports.queries.walkdowns.lookups import findings_of, items_of
from supports.rules.workflow import ChangeState, LineState, OrderState
from supports.rules.workflow.steps import roles_waited_for
from supports.snapshots import OpenChange, Walked, WorkDone

WALKS = 4
"""Campaigns whose findings make the trend."""


def open_changes(session: Session, line: str = "") -> tuple[OpenChange, ...]:
    """Return the changes that are not at their end, the oldest first; of one line if named."""
    query = select(Change).order_by(Change.requested_on, Change.id)
    if line:
        on_line = (
            select(ChangeLine.change_id)
            .join(Line, ChangeLine.line_id == Line.id)
            .where(Line.number == line)
        )
        query = query.where(Change.id.in_(on_line))
    live = [one for one in session.scalars(query) if not ChangeState(one.state).is_over]
    begun = _begun(session, live)
    return tuple(
        OpenChange(
            number=one.number,
            title=one.title,
            state=one.state,
            since=one.requested_on,
            waits_for=_waited_for(one, begun),
        )
        for one in live
    )


def change_waits_for(session: Session, change: Change) -> tuple[str, ...]:
    """Return the roles whose word a change waits for; none where it is at its end."""
    if ChangeState(change.state).is_over:
        return ()
    orders = orders_on_change(session, change.id) if change.state == ChangeState.CLEARED else ()
    begun = {one.change_id for one in orders if one.state != OrderState.WITHDRAWN}
    return _waited_for(change, begun)


def _begun(session: Session, changes: Collection[Change]) -> set[int]:
    """Return which of the changes that may be worked on have an order already."""
    cleared = [one.id for one in changes if one.state == ChangeState.CLEARED]
    query = select(WorkOrder.change_id).where(WorkOrder.state != OrderState.WITHDRAWN)
    return set(session.scalars(only(query, WorkOrder.change_id, cleared))) if cleared else set()


def _waited_for(change: Change, begun: Collection[int]) -> tuple[str, ...]:
    state = ChangeState.BEING_DONE if change.id in begun else ChangeState(change.state)
    return tuple(str(role) for role in roles_waited_for(state))


def temporary_changes(session: Session, today: date) -> tuple[tuple[str, str], ...]:
    """Return number and standing of every temporary change in force, near or past its date."""
    return tuple(_temporary(session, today))


def _temporary(session: Session, today: date) -> Iterator[tuple[str, str]]:
    query = select(Change).where(Change.ends_on.is_not(None)).order_by(Change.ends_on, Change.id)
    ending = session.scalars(query).all()
    standing = temporary_standings(session, ending, today)
    for one in ending:
        if one.id in standing:
            yield one.number, standing[one.id]


def work_done(session: Session) -> WorkDone:
    """Return how many units of work orders are settled and to do, with hours where given."""
    over = {OrderState.ACCEPTED, OrderState.WITHDRAWN}
    states = [
        LineState(state)
        for state in session.scalars(
            select(WorkOrderLine.state)
            .join(WorkOrder, WorkOrderLine.work_order_id == WorkOrder.id)
            .where(WorkOrder.state != OrderState.WITHDRAWN)
        )
    ]
    orders = session.scalars(select(WorkOrder).where(WorkOrder.state.not_in(over))).all()
    hours = [one.crew * one.hours for one in orders if one.crew and one.hours]
    return WorkDone(
        done=sum(state.is_settled for state in states),
        to_do=sum(not state.is_settled for state in states),
        man_hours=sum(hours),
        orders_without_hours=len(orders) - len(hours),
    )


def last_walks(session: Session) -> tuple[Walked, ...]:
    """Return the last campaigns, oldest first."""
    query = select(Campaign).order_by(Campaign.walk_on.desc(), Campaign.id.desc()).limit(WALKS)
    return tuple(
        Walked(
            one.number,
            one.walk_on,
            len(items_of(session, one.id)),
            len(findings_of(session, [one.id])),
        )
        for one in reversed(session.scalars(query).all())
    )
