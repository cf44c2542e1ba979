"""Changes, plans and work orders for programs."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from app.change_pages import change_shown, history_shown
from app.json_shapes import SHAPES
from app.looked_up.site import changes_listed
from app.plans import plan_shown, plans_known
from app.shapes_of_machine import MACHINE_SHAPES
from app.web.machine.answering import PREFIX, Looker, PageWanted, answer, paged
from app.web.machine.asked import Number, OfChange
from app.web.machine.described import gives
from supports.queries.plans import plan_on_record
from supports.queries.work_order_views import order_numbers, work_order_view

router = APIRouter(prefix=PREFIX, tags=["changes"])


@router.get("/changes", **gives(SHAPES["change list"], pages=True))
def changes(visit: Looker, wanted: PageWanted) -> Response:
    """List changes and where they stand."""
    with visit.reading() as session:
        return paged(visit, changes_listed(session).data, wanted, lambda one: one.number)


@router.get("/changes/{number}", **gives(SHAPES["change show"]))
def change(visit: Looker, number: Number) -> Response:
    """Show where a change stands: record, assessment, orders, signatures, what blocks it."""
    with visit.reading() as session:
        return answer(visit, change_shown(session, number, visit.now).data)


@router.get("/changes/{number}/history", **gives(SHAPES["change history"]))
def history(visit: Looker, number: Number) -> Response:
    """List all that was done on a change and refused, oldest first."""
    with visit.reading() as session:
        return answer(visit, history_shown(session, number).data)


@router.get("/plans", **gives(SHAPES["plan list"], pages=True))
def plans(visit: Looker, wanted: PageWanted, change: OfChange = "") -> Response:
    """List re-set plans."""
    with visit.reading() as session:
        made = plans_known(session, change)
        return paged(
            visit, made, wanted, lambda one: one.number, lambda one: plan_on_record(session, one)
        )


@router.get("/plans/{number}", **gives(SHAPES["plan show"]))
def plan(visit: Looker, number: Number) -> Response:
    """Show a plan: units, turns, rounds, the use of limits at every step, who chose what."""
    return answer(visit, plan_shown(visit.register, number).data)


@router.get("/work-orders", **gives(MACHINE_SHAPES["work-order list"], pages=True))
def work_orders(visit: Looker, wanted: PageWanted) -> Response:
    """List work orders with their units and what was read there."""
    with visit.reading() as session:
        return paged(
            visit, order_numbers(session), wanted, str, lambda one: work_order_view(session, one)
        )


@router.get("/work-orders/{number}", **gives(SHAPES["work-order show"]))
def work_order(visit: Looker, number: Number) -> Response:
    """Show a work order, a unit a row."""
    with visit.reading() as session:
        return answer(visit, work_order_view(session, number))
