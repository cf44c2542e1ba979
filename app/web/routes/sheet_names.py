"""Whose rows these are, and which values are not clear: said by people, undone by a new word."""

from __future__ import annotations

from functools import partial
from typing import Any

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from app.doubts import doubt_groups
from app.web.acts.asking import Said
from app.web.routes.sheets import file_words, handed_of, to_file
from app.web.sheets.looks import Declared, declare_it
from app.web.sheets.shelf import HandedIn
from app.web.sheets.works import DECLARE, Work, begin
from app.web.troubles import status_of
from app.web.visits import Form, Signed, Visit
from supports.errors import BadInput, SupportsError
from supports.operations.intake import settle_doubt
from supports.operations.joining import (
    decide_its_own,
    decide_same,
    rename_support,
    undo_decision,
)
from supports.queries.intake import doubts
from supports.queries.joining import decision_history

router = APIRouter(prefix="/sheets")

DOUBTS_SHOWN = 60
"""Values shown of each group."""


@router.get("/in/{token}/names")
def names(visit: Signed, token: str) -> Response:
    """Show the four lists of a file, and what was decided on its names."""
    return _names(visit, handed_of(visit, token))


def _names(
    visit: Visit, handed: HandedIn, error: SupportsError | None = None, typed: Said | None = None
) -> Response:
    with visit.reading() as session:
        history = decision_history(session, handed.source)
    words = file_words(visit, handed)
    since = [one for one in history if words["seen"] and one.decided_at >= _read_at(words)]
    return visit.page(
        "sheets_names.html.jinja", status_of(error), error=error, typed=typed or Said.empty(),
        decided={one.name: one for one in history if one.holds}, fresh=len(since), **words,
    )  # fmt: skip


def _read_at(words: dict[str, Any]) -> Any:
    seen = words["seen"]
    return seen.get("at") or words["handed"].at


@router.post("/in/{token}/names")
def decide(visit: Signed, token: str, form: Form) -> Response:
    """Decide what a name in the file means; it is kept for the files of its source."""
    handed, said = handed_of(visit, token), Said(form)
    try:
        _decide(visit, handed.source, said)
    except SupportsError as error:
        return _names(visit, handed, error, said)
    return to_file(handed, "/names")


def _decide(visit: Visit, source: str, said: Said) -> None:
    """Call the use case that the form asks for.

    Raises
    ------
    BadInput
        The form says none of the three ways.
    """
    name, tag = said.text("name"), said.text("tag")
    who: dict[str, Any] = {
        "acting": visit.acting, "now": visit.now, "reason": said.text("reason")
    }  # fmt: skip
    match said.text("way"):
        case "same":
            decide_same(visit.register, source, name, tag, **who)
        case "renamed":
            since = said.day("since") or visit.today
            rename_support(visit.register, source, name, tag, since=since, **who)
        case "own":
            decide_its_own(visit.register, source, name, **who)
        case other:
            raise BadInput("a decision says one thing", found=other or "nothing", where=name)


@router.get("/decisions")
def decisions(visit: Signed) -> Response:
    """Show who decided what on names in files, and what holds."""
    return _decisions(visit)


def _decisions(visit: Visit, error: SupportsError | None = None) -> Response:
    with visit.reading() as session:
        found = decision_history(session)
    return visit.page(
        "sheets_decisions.html.jinja", status_of(error), error=error, found=found[::-1]
    )


@router.post("/decisions/undo")
def undo(visit: Signed, form: Form) -> Response:
    """Take a decision back by a new one."""
    said = Said(form)
    try:
        undo_decision(
            visit.register, said.text("source"), said.text("name"), acting=visit.acting,
            now=visit.now, reason=said.text("reason"),
        )  # fmt: skip
    except SupportsError as error:
        return _decisions(visit, error)
    return RedirectResponse("/sheets/decisions", 303)


@router.get("/in/{token}/unclear")
def unclear(visit: Signed, token: str) -> Response:
    """Show the values of a file that are not clear, and the forms to say their unit."""
    return _unclear(visit, handed_of(visit, token))


def _unclear(visit: Visit, handed: HandedIn, error: SupportsError | None = None) -> Response:
    return visit.page(
        "sheets_unclear.html.jinja", status_of(error), error=error, **file_words(visit, handed)
    )


@router.post("/in/{token}/unclear")
def declare(visit: Signed, token: str, form: Form) -> Response:
    """Begin to declare the unit of unclear values, and to read the file with it."""
    handed, said = handed_of(visit, token), Said(form)
    shelf, now = visit.desk.shelf, visit.now
    wish = Declared(visit.acting, said.text("cells"), said.text("unit"), said.text("reason"))
    try:
        if not (wish.unit and wish.cells):
            raise BadInput("neither cells nor unit may stay open")
        run = partial(declare_it, visit.register, shelf, handed, wish, now)
        begin(shelf, handed, Work(DECLARE, visit.acting, now), run, visit.desk.hands)
    except SupportsError as error:
        return _unclear(visit, handed, error)
    return to_file(handed)


@router.get("/doubts")
def all_doubts(visit: Signed, tag: str = "") -> Response:
    """Show every value of the register that waits for an answer, alike ones together."""
    return _doubts(visit, tag)


def _doubts(visit: Visit, tag: str = "", error: SupportsError | None = None) -> Response:
    with visit.reading() as session:
        groups = doubt_groups(doubts(session, tag=tag))
    here = {one.digest: one for one in visit.desk.shelf.all(visit.now) if not one.order}
    return visit.page(
        "sheets_doubts.html.jinja", status_of(error), error=error, groups=groups, here=here,
        tag=tag, most=DOUBTS_SHOWN,
    )  # fmt: skip


@router.post("/doubts/{number}/settle")
def settle(visit: Signed, number: int, form: Form) -> Response:
    """End the waiting of a value that nobody can answer any more; it stays unknown."""
    reason = Said(form).text("reason")
    try:
        settle_doubt(visit.register, number, acting=visit.acting, now=visit.now, reason=reason)
    except SupportsError as error:
        return _doubts(visit, error=error)
    return RedirectResponse("/sheets/doubts", 303)
