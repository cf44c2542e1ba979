"""What can be done with a work order as a whole."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.planned import before_of, material_of
from app.returns import NOT_RECORDED, take_back
from app.web.acts.asking import Act, Ask, Said, Where, same_words
from app.web.acts.plan_acts import AGAIN
from app.web.sheets.keeping import keep_file
from supports.errors import SupportsError
from supports.model import WorkOrderBefore
from supports.operations.work_orders import (
    OrderPlan,
    before_is_done,
    check_order,
    copy_is_back,
    give_out,
    plan_order,
)
from supports.operations.work_orders.issuing import FATES
from supports.queries.lookups import work_order_of
from supports.queries.order_copies import copies_of

if TYPE_CHECKING:
    from app.web.visits import Visit

VERSION = "version"
"""Field of a form that says which version of the order it was given out with."""


def to_order(where: Where) -> str:
    """Return the address of a work order."""
    return f"/work-orders/{where[0]}"


def _nothing(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    return ()


def _check(visit: Visit, where: Where, _: Said) -> str:
    check_order(visit.register, where[0], acting=visit.acting, now=visit.now)
    return to_order(where)


def _ask_give(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    hint = "A numbered copy for each line: crew at the line, control room."
    return (Ask("to", "Who gets a copy", "long", hint, needed=True),)


def _give(visit: Visit, where: Where, said: Said) -> str:
    holders = [line.strip() for line in said.text("to").splitlines() if line.strip()]
    give_out(visit.register, where[0], holders, acting=visit.acting, now=visit.now)
    return f"{to_order(where)}#copies"


def _ask_copy(session: Session, where: Where, _: Visit) -> Sequence[Ask]:
    out = [copy for copy in copies_of(session, where[0]) if not copy.fate]
    options = tuple((str(copy.number), f"{copy.number}: {copy.given_to}") for copy in out)
    return (
        Ask("copy", "Which copy", "choice", options=options),
        Ask("fate", "What became of it", "choice", options=same_words(FATES)),
    )


def _copy(visit: Visit, where: Where, said: Said) -> str:
    copy_is_back(
        visit.register, where[0], said.whole("copy") or 0, fate=said.text("fate"),
        acting=visit.acting, now=visit.now,
    )  # fmt: skip
    return f"{to_order(where)}#copies"


def _ask_plan(session: Session, where: Where, _: Visit) -> Sequence[Ask]:
    order = work_order_of(session, where[0])
    crew, hours, scaffold = (
        "" if value is None else f"{value:g}"
        for value in (order.crew, order.hours, order.scaffold_hours)
    )
    return (
        Ask(VERSION, "", "known", start=str(order.row_version)),
        Ask("crew", "People at work", "number", start=crew),
        Ask("hours", "Hours of the whole crew", "number", start=hours),
        Ask("scaffold", "Scaffold group", start=order.scaffold_group or ""),
        Ask("scaffold_hours", "Man-hours to build the scaffold", "number", start=scaffold),
        Ask("materials", "Materials to add", "long",
            "One a line: item; number; have, ordered or late; date."),
        Ask("before", "Jobs that come before, to add", "long",
            "One a line; a work order is known by its number."),
    )  # fmt: skip


def _plan(visit: Visit, where: Where, said: Said) -> str:
    laid = OrderPlan(
        said.whole("crew"), said.number("hours"), said.text("scaffold"),
        said.number("scaffold_hours"),
        tuple(material_of(line) for line in _lines(said.text("materials"))),
        tuple(before_of(line) for line in _lines(said.text("before"))),
    )  # fmt: skip
    plan_order(
        visit.register, where[0], laid, acting=visit.acting, now=visit.now,
        seen=said.whole(VERSION) or 0,
    )  # fmt: skip
    return to_order(where)


def _lines(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.strip()]


def _ask_done(session: Session, where: Where, _: Visit) -> Sequence[Ask]:
    query = select(WorkOrderBefore.job).where(
        WorkOrderBefore.work_order_id == work_order_of(session, where[0]).id,
        WorkOrderBefore.done_on.is_(None),
    )
    return (Ask("job", "Job", "choice", options=same_words([*session.scalars(query)])),)


def _done(visit: Visit, where: Where, said: Said) -> str:
    before_is_done(visit.register, where[0], said.text("job"), acting=visit.acting, now=visit.now)
    return to_order(where)


def _ask_form(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    hint = "The pack's workbook, filled in. The same form twice changes nothing."
    return (Ask("file", "Filled-in form", "file", hint, needed=True),)


def _take_back(visit: Visit, where: Where, said: Said) -> str:
    """Record what the form says; where it says otherwise than what is recorded, lead to both."""
    shelf, number = visit.desk.shelf, where[0]
    handed = keep_file(visit, said.form, number)
    try:
        told = list(
            take_back(visit.register, number, shelf.file(handed), acting=visit.acting,
                      now=visit.now)
        )  # fmt: skip
    except SupportsError:
        shelf.discard(handed.token)
        raise
    if any(NOT_RECORDED in line for line in told):
        return f"{to_order(where)}/forms/{handed.token}"
    shelf.discard(handed.token)
    return to_order(where)


ORDER_ACTS = (
    Act("check", "Check the figures", _check, _nothing,
        "The figures must be those of the approved assessment; whoever wrote it does not check."),
    Act("plan", "Lay down crew, hours and what it needs", _plan, _ask_plan),
    Act("give out", "Give out copies", _give, _ask_give,
        "Copies are numbered, and each must come back before the change is closed."),
    Act("take a copy back", "Take a copy back", _copy, _ask_copy),
    Act("take a form back", "Take a filled-in form back", _take_back, _ask_form),
    Act("job before is done", "A job before is done", _done, _ask_done),
    AGAIN,
)  # fmt: skip
