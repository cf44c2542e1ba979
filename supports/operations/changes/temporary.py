"""A temporary change: put in force till its date, renewed at most once, else removed."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput, NotReady
from supports.model import Change, ChangeTerm
from supports.operations.acting import deed
from supports.operations.changes.noting import require_term
from supports.queries.lookups import change_of
from supports.queries.proofs import proofs_wanting
from supports.queries.work_order_views import orders_of_change
from supports.rules.workflow import ChangeState, OrderKind, require_step
from supports.sentences import Sentence

TERMS = 2
"""A first term and one renewal."""


def put_in_force(register: Register, number: str, *, acting: str, now: datetime) -> date | None:
    """Put a proved temporary change in force; return its date.

    Raises
    ------
    NotReady
        It is not temporary, not proved for start-up, or without its removal order.
    """
    with deed(register, acting, now, action="put a change in force", subject=number) as act:
        change = change_of(act.session, number)
        step = require_step("put in force", ChangeState(change.state), act.person.roles)
        if change.duration != "temporary":
            raise NotReady("only a temporary change is put in force till a date")
        blockers = proofs_wanting(act.session, change, act.today, before_start_up=True)
        if blockers := [*blockers, *_removal_blockers(act.session, change)]:
            raise NotReady(Sentence("{number} cannot be put in force", number=number), blockers)
        change.state = step.to
        return change.ends_on


def _removal_blockers(session: Session, change: Change) -> list[str]:
    orders = orders_of_change(session, change.id)
    written = any(order.kind == OrderKind.REMOVAL for order in orders)
    return [] if written else ["its removal order is not written"]


def ask_renewal(
    register: Register, number: str, *, until: date, acting: str, reason: str, now: datetime
) -> None:
    """Ask for the only renewal of a temporary change; a fresh assessment and approval follow.

    Raises
    ------
    NotReady
        It was renewed before, or it is not in force.
    """
    if not reason:
        raise BadInput("a renewal says why", remedy="Say it with --reason")
    with deed(
        register, acting, now, action="ask for a renewal", reason=reason, subject=number
    ) as act:
        change = change_of(act.session, number)
        if terms_of(act.session, change) >= TERMS:
            raise NotReady(
                Sentence("{number} was renewed once already", number=number),
                (Sentence("it ends on {ends_on}", ends_on=str(change.ends_on)),),
                remedy="Remove it by its removal order, or take a permanent change through",
            )
        step = require_step("ask for the renewal of", ChangeState(change.state), act.person.roles)
        require_term(act, until)
        change.asked_until, change.state = until, step.to


def terms_of(session: Session, change: Change) -> int:
    """Return how many terms of a temporary change were approved."""
    query = select(func.count(ChangeTerm.id)).where(ChangeTerm.change_id == change.id)
    return session.scalar(query) or 0
