"""Sheets at the desk: handed in, read and held against the register, stored or discarded."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from app.intake import profiles_of
from app.leaving import FORMS, write_register
from app.web.acts.asking import Said
from app.web.routes.papers import download, given
from app.web.sheets import works
from app.web.sheets.keeping import keep_file
from app.web.sheets.looks import Wish, back_of, came_through, look, store_it
from app.web.sheets.shelf import KEPT, HandedIn, may_discard
from app.web.sheets.works import DIED, DONE, LOOK, REFUSED, STORE, Work, begin, kept_of, work_on
from app.web.troubles import status_of
from app.web.visits import Form, Signed, Visit
from importers.template import write_blank
from supports.errors import BadInput, Conflict, NotFound, SupportsError
from supports.queries.intake import doubts
from supports.sentences import Sentence, joined
from supports.vocabulary import Role

router = APIRouter(prefix="/sheets")


@router.get("")
def sheets(visit: Signed) -> Response:
    """Show what waits on the shelf, and the form to hand a file in."""
    return _shelf(visit)


def _shelf(visit: Visit, error: SupportsError | None = None) -> Response:
    on_shelf = [one for one in visit.desk.shelf.all(visit.now) if not one.order]
    _, sources = profiles_of(visit.register, "")
    with visit.reading() as session:
        waiting = len(doubts(session))
    return visit.page(
        "sheets.html.jinja", status_of(error), error=error, sources=sources, waiting=waiting,
        kept=KEPT.days, handed=[(one, work_on(visit.desk.shelf, one)) for one in on_shelf],
    )  # fmt: skip


@router.post("")
def hand_in(visit: Signed, form: Form) -> Response:
    """Keep a file and begin to read it."""
    try:
        handed = keep_file(visit, form)
        look_again(visit, handed)
    except SupportsError as error:
        return _shelf(visit, error)
    return to_file(handed)


def to_file(handed: HandedIn, part: str = "") -> Response:
    """Return the way to the page of a file."""
    return RedirectResponse(f"/sheets/in/{handed.token}{part}", 303)


def look_again(visit: Visit, handed: HandedIn) -> None:
    """Begin to read a file."""
    shelf, now = visit.desk.shelf, visit.now
    work = Work(LOOK, visit.acting, now)
    begin(shelf, handed, work, partial(look, visit.register, shelf, handed, now), visit.desk.hands)


def handed_of(visit: Visit, token: str) -> HandedIn:
    """Return a file of sheets on the shelf.

    Raises
    ------
    NotFound
        It is not there, or a form of a work order.
    """
    handed = visit.desk.shelf.get(token, visit.now)
    if handed.order:
        raise NotFound(
            "this file holds no sheets", found=Sentence("a form of {order}", order=handed.order)
        )
    return handed


@router.get("/blank-workbook")
def blank_workbook(_: Signed) -> Response:
    """Give the empty workbook with the headings that are understood."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "blank.xlsx"
        write_blank(path)
        return download(path.read_bytes(), path.name)


@router.get("/register-as/{form}")
def register_as(visit: Signed, form: str) -> Response:
    """Give the whole register as sheets that come in again, or its history to be read."""
    if form not in FORMS:
        raise NotFound("the register is not written so", found=form, expected=joined(FORMS, ", "))
    with TemporaryDirectory() as folder, visit.reading() as session:
        files = write_register(session, Path(folder), form)
        return given(files, f"register-{form}-{visit.today}")


@router.get("/in/{token}")
def one_file(visit: Signed, token: str) -> Response:
    """Show a file: how far the work on it is, what it would store, what is in doubt."""
    handed = handed_of(visit, token)
    work = work_on(visit.desk.shelf, handed)
    if visit.comfort and not (work and work.goes_on):
        return Response(headers={"HX-Refresh": "true"})
    return _file(visit, handed)


def _file(visit: Visit, handed: HandedIn, error: SupportsError | None = None) -> Response:
    shelf = visit.desk.shelf
    work = work_on(shelf, handed)
    return visit.page(
        "sheets_file.html.jinja", status_of(error), error=error, work=work,
        became=_became(visit, handed, work), through=_came_through(visit, handed, work),
        **file_words(visit, handed),
    )  # fmt: skip


def file_words(visit: Visit, handed: HandedIn) -> dict[str, Any]:
    """Return what every page of a file says of it."""
    shelf = visit.desk.shelf
    seen = kept_of(shelf, handed, LOOK)
    if seen:
        seen["at"] = datetime.fromisoformat(seen["at"]) if "at" in seen else None
    return {
        "handed": handed, "seen": seen, "has_back": back_of(shelf, handed) is not None,
        "may_discard": visit.acting == handed.by or Role.REGISTER_KEEPER in visit.roles,
    }  # fmt: skip


def _became(visit: Visit, handed: HandedIn, work: Work | None) -> Any:
    """Return what became of storing or declaring, where that was the last thing done."""
    if work is None or work.doing == LOOK or work.ended not in {DONE, REFUSED}:
        return None
    return kept_of(visit.desk.shelf, handed, work.doing)


def _came_through(visit: Visit, handed: HandedIn, work: Work | None) -> bool:
    """Return whether a work that died had stored the file before."""
    if work is None or work.doing != STORE or work.ended != DIED:
        return False
    return came_through(visit.register, handed.digest, work.at)


@router.post("/in/{token}/look")
def look_once_more(visit: Signed, token: str, form: Form) -> Response:
    """Read a file again, perhaps under another source or day."""
    handed, said = handed_of(visit, token), Said(form)
    try:
        if "source" in form:
            handed = replace(handed, source=said.text("source"), on=said.day("on"))
            visit.desk.shelf.say_anew(handed)
        look_again(visit, handed)
    except SupportsError as error:
        return _file(visit, handed, error)
    return to_file(handed)


@router.post("/in/{token}/call-off")
def call_off(visit: Signed, token: str, _: Form) -> Response:
    """Ask that the work on a file be left."""
    handed = handed_of(visit, token)
    works.call_off(visit.desk.shelf, handed)
    return to_file(handed)


@router.post("/in/{token}/discard")
def discard(visit: Signed, token: str, _: Form) -> Response:
    """Take a file from the shelf."""
    handed = visit.desk.shelf.get(token, visit.now)
    may_discard(handed, visit.acting, keeper=Role.REGISTER_KEEPER in visit.roles)
    work = work_on(visit.desk.shelf, handed)
    if work is not None and work.goes_on:
        raise Conflict("this file is being worked on", remedy="Call the work off first")
    visit.desk.shelf.discard(token)
    back = f"/work-orders/{handed.order}" if handed.order else "/sheets"
    return RedirectResponse(back, 303)


@router.post("/in/{token}/store")
def store(visit: Signed, token: str, form: Form) -> Response:
    """Begin to store a file: all of it or, where that is asked for, what is good of it."""
    handed, said = handed_of(visit, token), Said(form)
    shelf, now = visit.desk.shelf, visit.now
    wish = Wish(
        visit.acting, said.text("reason"), said.text("mark"), bool(said.text("accept_the_good"))
    )
    try:
        if not wish.mark:
            raise BadInput("this file was not read yet", remedy="Look at what it would store first")
        run = partial(store_it, visit.register, shelf, handed, wish, now)
        begin(shelf, handed, Work(STORE, visit.acting, now), run, visit.desk.hands)
    except SupportsError as error:
        return _file(visit, handed, error)
    return to_file(handed)


@router.get("/in/{token}/back")
def back(visit: Signed, token: str) -> Response:
    """Give a file back with a column of its findings."""
    path = back_of(visit.desk.shelf, handed_of(visit, token))
    if path is None:
        raise NotFound("this file was not read yet", remedy="Read it first")
    return download(path.read_bytes(), path.name)
