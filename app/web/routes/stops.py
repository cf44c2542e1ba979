"""Travel stops by pin number and their count; may the plant start up."""

from __future__ import annotations

from collections import Counter

from fastapi import APIRouter
from starlette.responses import Response

from app.web.acting import Subject, act_done, act_of, act_page
from app.web.acts.stop_acts import STOP_IN, STOP_OUT, STOPS
from app.web.list_books import WORKBOOK, list_book
from app.web.memory import remembered
from app.web.visits import Form, Signed
from supports.queries.lookups import line_of
from supports.queries.start_up import start_up_of, supports_known
from supports.queries.stops import last_moves, pins_in
from supports.tags import natural_key

router = APIRouter()

ACTS = (STOP_IN, STOP_OUT)
_SUBJECT = Subject("", (), STOPS, always=True)
MOVES_SHOWN = 30


@router.get(STOPS)
def stops(visit: Signed, line: str = "", form: str = "") -> Response:
    """Show every travel stop that is in, how many on each line, and the last moves."""
    with visit.reading() as session:
        pins, moves = pins_in(session), last_moves(session, MOVES_SHOWN)
    counts = sorted(
        Counter(one for pin in pins for one in pin.lines).items(),
        key=lambda each: natural_key(each[0]),
    )
    shown = [pin for pin in pins if not line or line in pin.lines]
    if form == WORKBOOK:
        say = visit.say
        headings = (
            say("Pin"),
            say("Unit"),
            say("Line"),
            say("Since"),
            say("Put in by"),
            say("Witness"),
            say("Why"),
        )
        rows = [
            (one.number, one.unit, ", ".join(one.lines), one.since, one.put_in_by, one.witness,
             one.reason)
            for one in shown
        ]  # fmt: skip
        return list_book(visit, visit.say("Travel stops"), headings, rows)
    return visit.page(
        "travel_stops.html.jinja", pins=shown, counts=counts, line=line, moves=moves, acts=ACTS
    )


@router.get(f"{STOPS}/{{key}}")
def form_of_move(visit: Signed, key: str) -> Response:
    """Give out the form for a travel stop going in or out."""
    return act_page(visit, act_of(ACTS, key), _SUBJECT)


@router.post(f"{STOPS}/{{key}}")
def move(visit: Signed, key: str, form: Form) -> Response:
    """Record a travel stop going in or out."""
    return act_done(visit, act_of(ACTS, key), _SUBJECT, form)


@router.get("/start-up")
def start_up(visit: Signed, line: str = "", every: bool = False) -> Response:
    """Answer 'may we start up?' for a line or the plant, with everything in the way by name."""
    with visit.reading() as session:
        number = line_of(session, line.strip()).number if line.strip() else ""
        known = remembered(
            visit, session, ("supports known", number), lambda: supports_known(session, number)
        )
        answer = start_up_of(session, visit.now, number, known)
    return visit.page("start_up.html.jinja", answer=answer, line=number, every=every)
