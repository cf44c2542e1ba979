"""The change desk: where changes stand, one change on its pages, and what can be done with it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from fastapi import APIRouter
from sqlalchemy.orm import Session
from starlette.datastructures import FormData
from starlette.responses import RedirectResponse, Response

from app.possible import on_change
from app.web.acting import Subject, act_done, act_of, act_page
from app.web.acts.asking import Said
from app.web.acts.change_acts import CHANGE_ACTS
from app.web.acts.plan_acts import PLANNING_ACTS
from app.web.acts.stop_acts import MAKE_SAFE
from app.web.changes import change_file, changes_listed, history_of, judged_rows, screened_lines
from app.web.memory import remembered
from app.web.new_change import ROWS, fresh_rows, rows_carried, rows_typed, weights_typed, wish_typed
from app.web.troubles import status_of
from app.web.visits import Form, Signed, Visit
from supports.errors import SupportsError
from supports.operations.changes import add_weights, note_change
from supports.queries.change_record import present_parts
from supports.queries.change_views import change_view
from supports.queries.lookups import change_of
from supports.rules.workflow import ChangeState

router = APIRouter()

ACTS = (*CHANGE_ACTS, *PLANNING_ACTS)


@router.get("/changes")
def changes(visit: Signed, text: str = "", over: bool = False, page: int = 1) -> Response:
    """Show changes: those that wait for the visitor first, each with what is in its way."""
    asked = (text.strip(), over, max(page, 1))
    with visit.gathering() as session:
        listed = remembered(
            visit, session, ("changes", asked, visit.roles),
            lambda: changes_listed(session, visit, asked[0], over=over, page=asked[2]),
        )  # fmt: skip
    return visit.page("changes.html.jinja", listed=listed, text=text, over=over)


@router.get("/changes/new")
def new_change(visit: Signed) -> Response:
    """Give out the form of a new change, filled with what the address brings along."""
    asked = visit.request.query_params
    return _new(visit, Said(FormData(list(asked.multi_items()))), rows_carried(asked))


def _new(
    visit: Visit, said: Said, rows: list[dict[str, str]], error: SupportsError | None = None
) -> Response:
    status = status_of(error) if error else 200
    return visit.page("change_new.html.jinja", status, said=said, rows=rows, error=error)


@router.post("/changes/new")
def note(visit: Signed, form: Form) -> Response:
    """Note a change with its rows in one go; asked for more rows, give the form back longer."""
    said, rows = Said(form), rows_typed(form)
    if said.text("more"):
        return _new(visit, said, rows + fresh_rows(ROWS))
    try:
        wish = wish_typed(said, rows)
        number = note_change(visit.register, wish, acting=visit.acting, now=visit.now)
    except SupportsError as error:
        return _new(visit, said, rows, error)
    return RedirectResponse(f"/changes/{number}", 303)


@router.get("/changes/make-safe")
def emergency(visit: Signed) -> Response:
    """Give out the form for what was done at once to make a line safe."""
    return act_page(visit, MAKE_SAFE, _SAFE)


@router.post("/changes/make-safe")
def made_safe(visit: Signed, form: Form) -> Response:
    """Write down what made a line safe."""
    return act_done(visit, MAKE_SAFE, _SAFE, form)


_SAFE = Subject("", (), "/changes", always=True)


@router.get("/changes/{number}")
def change(visit: Signed, number: str) -> Response:
    """Show where a change stands, what is in its way, and what can be done now."""
    return _shown(visit, number, "change.html.jinja")


def _shown(
    visit: Visit,
    number: str,
    template: str,
    **asked: Callable[[Session, str], Any],
) -> Response:
    """Show a page of a change: its file, and what else is asked for the page, by its name."""
    with visit.gathering() as session:
        number = change_of(session, number).number
        file = remembered(
            visit, session, ("change", number), lambda: change_file(session, number, visit.now)
        )
        more = {
            name: remembered(visit, session, (name, number), partial(ask, session, number))
            for name, ask in asked.items()
        }
    return visit.page(template, file=file, acts=ACTS, **more)


@router.get("/changes/{number}/supports")
def supports(visit: Signed, number: str) -> Response:
    """Show the assessment of every support."""
    return _shown(visit, number, "change_supports.html.jinja", judged=judged_rows)


@router.get("/changes/{number}/lines")
def lines(visit: Signed, number: str) -> Response:
    """Show the screening of each line: before, weight added, as planned."""
    return _shown(visit, number, "change_lines.html.jinja", screened=screened_lines)


@router.get("/changes/{number}/history")
def history(visit: Signed, number: str) -> Response:
    """Show everything that was done and refused."""
    return _shown(visit, number, "change_history.html.jinja", told=history_of)


@router.get("/changes/{number}/add-weights")
def weights(visit: Signed, number: str) -> Response:
    """Give out rows for what is added and taken off."""
    return _weights(visit, number, fresh_rows())


def _weights(
    visit: Visit, number: str, rows: list[dict[str, str]], error: SupportsError | None = None
) -> Response:
    with visit.gathering() as session:
        view = change_view(session, number)
    status = status_of(error) if error else 200
    return visit.page("change_weights.html.jinja", status, change=view, rows=rows, error=error)


@router.post("/changes/{number}/add-weights")
def weigh(visit: Signed, number: str, form: Form) -> Response:
    """Add rows of weights to a change."""
    rows = rows_typed(form)
    if Said(form).text("more"):
        return _weights(visit, number, rows + fresh_rows(ROWS))
    try:
        items = weights_typed(rows)
        add_weights(visit.register, number, items, acting=visit.acting, now=visit.now)
    except SupportsError as error:
        return _weights(visit, number, rows, error)
    return RedirectResponse(f"/changes/{number}", 303)


def _subject(session: Session, visit: Visit, number: str) -> Subject:
    found = change_of(session, number)
    return Subject(
        found.number,
        (found.number,),
        f"/changes/{found.number}",
        found.title,
        ChangeState(found.state),
        on_change(session, found, visit.today),
        present_parts(session, found),
    )


@router.get("/changes/{number}/do/{key}")
def form_of_act(visit: Signed, number: str, key: str) -> Response:
    """Give out the form of an act on a change."""
    with visit.gathering() as session:
        subject = _subject(session, visit, number)
    return act_page(visit, act_of(ACTS, key), subject)


@router.post("/changes/{number}/do/{key}")
def act_on_change(visit: Signed, number: str, key: str, form: Form) -> Response:
    """Do something with a change."""
    with visit.gathering() as session:
        subject = _subject(session, visit, number)
    return act_done(visit, act_of(ACTS, key), subject, form)
