"""Close a change, once nothing stands in the way."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import NotReady
from supports.model import Change
from supports.operations.acting import actor
from supports.queries.change_views import content_of, latest_assessment
from supports.queries.lookups import change_of
from supports.queries.unit_history import stops_in
from supports.queries.work_order_views import orders_of_change
from supports.rules.workflow import ChangeState, LineState, require_step


def close_change(register: Register, number: str, *, acting: str, now: datetime) -> None:
    """Close a change.

    Raises
    ------
    NotReady
        Units are not accepted, travel stops are in, or supports are left that a re-set could not
        put right; all are named.
    """
    with register.writing(acting, "", now, action="close a change") as writing:
        session, person = writing.session, actor(writing.session, acting, now.date())
        change = change_of(session, number)
        blockers = closing_blockers(session, change)
        if blockers:
            raise NotReady(f"{number} cannot be closed", blockers)
        change.state = require_step("close", ChangeState(change.state), person.roles).to


def closing_blockers(session: Session, change: Change) -> list[str]:
    """Return everything that stands in the way of closing, by name."""
    orders = orders_of_change(session, change.id)
    lines = [line for order in orders for line in order.lines]
    blockers = [
        f"{line.tag}/{line.position}: {line.state}"
        for line in lines
        if not LineState(line.state).is_settled
    ]
    if not orders:
        blockers.append("no work order was written")
    names = {line.unit_id: line.tag for line in lines}
    for unit, pins in stops_in(session, list(names)).items():
        blockers += [f"{names[unit]}: travel stop {pin} is in" for pin in pins]
    content = content_of(latest_assessment(session, change.id))
    blockers += [
        f"{judged.tag}: {judged.verdict}; wants a new assessment once it is put right"
        for judged in content.unresolved
    ]
    return blockers
