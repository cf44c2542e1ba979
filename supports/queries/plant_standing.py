"""What of the plant is open: changes with whose word they wait for, work at units, walks."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Campaign, Change, WorkOrder, WorkOrderLine
from supports.queries.temporary import temporary_standing
from supports.queries.walkdowns.lookups import findings_of, items_of
from supports.rules.workflow import ChangeState, LineState, OrderState
from supports.rules.workflow.steps import roles_waited_for
from supports.snapshots import OpenChange, Walked, WorkDone

WALKS = 4
"""Campaigns whose findings make the trend."""


def open_changes(session: Session) -> tuple[OpenChange, ...]:
    """Return the changes that are not at their end, the oldest first."""
    query = select(Change).order_by(Change.requested_on, Change.id)
    return tuple(
        OpenChange(
            number=one.number,
            title=one.title,
            state=one.state,
            since=one.requested_on,
            waits_for=_waits_for(session, one),
        )
        for one in session.scalars(query)
        if not ChangeState(one.state).is_over
    )


def _waits_for(session: Session, change: Change) -> tuple[str, ...]:
    state = ChangeState(change.state)
    live = select(WorkOrder.id).where(
        WorkOrder.change_id == change.id, WorkOrder.state != OrderState.WITHDRAWN
    )
    begun = state is ChangeState.CLEARED and session.scalar(live.limit(1)) is not None
    roles = roles_waited_for(ChangeState.BEING_DONE if begun else state)
    return tuple(str(role) for role in roles)


def temporary_changes(session: Session, today: date) -> tuple[tuple[str, str], ...]:
    """Return number and standing of every temporary change in force, near or past its date."""
    return tuple(_temporary(session, today))


def _temporary(session: Session, today: date) -> Iterator[tuple[str, str]]:
    for one in session.scalars(select(Change).order_by(Change.ends_on, Change.id)):
        standing = temporary_standing(session, one, today)
        if standing:
            yield one.number, standing


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
