"""Work orders at the desk: the order as a whole, and each unit of it."""

from __future__ import annotations

from fastapi import APIRouter
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.possible import on_order, on_unit
from app.web.acting import Subject, act_done, act_of, act_page
from app.web.acts.order_acts import ORDER_ACTS
from app.web.acts.unit_acts import UNIT_ACTS, line_at, to_unit
from app.web.memory import remembered
from app.web.visits import Form, Signed, Visit
from app.web.work_orders import order_file, orders_over, unit_file
from supports.queries.lookups import work_order_of
from supports.queries.waiting import open_orders

router = APIRouter()


@router.get("/work-orders")
def work_orders(visit: Signed) -> Response:
    """Show the orders that are open, those that wait for the visitor first."""
    held = {str(role) for role in visit.roles}
    with visit.gathering() as session:
        found, over = open_orders(session), orders_over(session)
    mine = tuple(one for one in found if held & set(one.waits_for))
    others = tuple(one for one in found if one not in mine)
    return visit.page("work_orders.html.jinja", mine=mine, others=others, over=over)


@router.get("/work-orders/{number}")
def work_order(visit: Signed, number: str) -> Response:
    """Show an order with its units, holds, copies and what it needs."""
    with visit.gathering() as session:
        number = work_order_of(session, number).number
        file = remembered(visit, session, ("order", number), lambda: order_file(session, number))
    forms = [one for one in visit.desk.shelf.all(visit.now) if one.order == number]
    return visit.page("work_order.html.jinja", file=file, acts=ORDER_ACTS, forms=forms)


@router.get("/work-orders/{number}/units/{tag:path}/{position}")
def unit(visit: Signed, number: str, tag: str, position: str) -> Response:
    """Show one unit: what is to be read, what was read, and what comes next."""
    with visit.gathering() as session:
        file = unit_file(session, (number, tag, position), visit.today)
        return visit.page("work_order_unit.html.jinja", file=file, acts=UNIT_ACTS)


def _order(session: Session, number: str) -> Subject:
    found = work_order_of(session, number)
    about = f"{found.number} ({found.kind})"
    possible = on_order(session, found)
    return Subject(number, (number,), f"/work-orders/{number}", about, found.state, possible)


@router.get("/work-orders/{number}/do/{key}")
def form_of_order(visit: Signed, number: str, key: str) -> Response:
    """Give out the form of an act on an order."""
    with visit.gathering() as session:
        subject = _order(session, number)
    return act_page(visit, act_of(ORDER_ACTS, key), subject)


@router.post("/work-orders/{number}/do/{key}")
def act_on_order(visit: Signed, number: str, key: str, form: Form) -> Response:
    """Do something with an order."""
    with visit.gathering() as session:
        subject = _order(session, number)
    return act_done(visit, act_of(ORDER_ACTS, key), subject, form)


def _unit(visit: Visit, where: tuple[str, str, str]) -> Subject:
    number, tag, position = where
    with visit.gathering() as session:
        order, line = work_order_of(session, number), line_at(session, where)
        possible = on_unit(session, order, line)
        stands = line.state
    return Subject(f"{tag}/{position}", where, to_unit(where), number, stands, possible)


@router.get("/work-orders/{number}/at/{tag:path}/{position}/{key}")
def form_at_unit(visit: Signed, number: str, tag: str, position: str, key: str) -> Response:
    """Give out the form of an act at a unit."""
    return act_page(visit, act_of(UNIT_ACTS, key), _unit(visit, (number, tag, position)))


@router.post("/work-orders/{number}/at/{tag:path}/{position}/{key}")
def act_at_unit(
    visit: Signed, number: str, tag: str, position: str, key: str, form: Form
) -> Response:
    """Do something at a unit."""
    return act_done(visit, act_of(UNIT_ACTS, key), _unit(visit, (number, tag, position)), form)
