"""Re-set plans at the desk: laid side by side, told in full, chosen with a reason."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from app.possible import on_plan
from app.web.acting import Subject, act_done, act_of, act_page
from app.web.acts.plan_acts import CHOOSE
from app.web.memory import remembered
from app.web.visits import Form, Signed, Visit
from supports.queries.lookups import plan_of
from supports.queries.plans import plan_on_record

router = APIRouter()


@router.get("/plans/{number}")
def plan(visit: Signed, number: str, which: int = 0) -> Response:
    """Show a plan: its alternatives side by side, one of them in full."""
    with visit.gathering() as session:
        found = plan_of(session, number)
        record, possible = remembered(
            visit, session, ("plan", found.number),
            lambda: (plan_on_record(session, found), on_plan(session, found)),
        )  # fmt: skip
    names = [one.name for one in record.content.alternatives]
    chosen = names.index(record.chosen.alternative) + 1 if record.chosen else 0
    told = which if 1 <= which <= len(names) else chosen or min(1, len(names))
    return visit.page(
        "plan.html.jinja", plan=record, told=told, chosen=chosen, possible=possible, acts=(CHOOSE,)
    )


def _subject(visit: Visit, number: str) -> Subject:
    with visit.gathering() as session:
        found = plan_of(session, number)
        record, possible = plan_on_record(session, found), on_plan(session, found)
    about = f"{record.change}, {record.line}"
    return Subject(number, (number,), f"/plans/{number}", about, possible=possible)


@router.get("/plans/{number}/do/{key}")
def form_of_act(visit: Signed, number: str, key: str) -> Response:
    """Give out the form of an act on a plan."""
    return act_page(visit, act_of((CHOOSE,), key), _subject(visit, number))


@router.post("/plans/{number}/do/{key}")
def act_on_plan(visit: Signed, number: str, key: str, form: Form) -> Response:
    """Do something with a plan."""
    return act_done(visit, act_of((CHOOSE,), key), _subject(visit, number), form)
