"""The tablet form: its page and files, copies taken along, and what comes back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import APIRouter
from starlette.responses import FileResponse, JSONResponse, PlainTextResponse, Response

from app.settings import photo_store
from app.tablets.order_back import take_order
from app.tablets.order_copy import order_copy
from app.tablets.photo_back import SentPhoto, take_photo
from app.tablets.sent import RowAnswer, SentRows
from app.tablets.walk_back import take_walk
from app.tablets.walk_copy import walk_copy
from app.web.pages import spoken, told
from app.web.tablet_files import address_of, kept_files, media_type, shelf, worker
from app.web.tablet_words import form_lists, register_words
from app.web.troubles import status_of
from app.web.visits import Anyone, Form, Visit
from reports.contents.walkdown_package import CAUTIONS, DEFERENCE
from reports.languages import Texts
from supports.errors import BadInput, Conflict, NotFound, SupportsError

router = APIRouter(prefix="/tablet")

_YEAR = "public, max-age=31536000, immutable"
Taking = Callable[..., list[RowAnswer]]


@router.get("")
def page(visit: Anyone) -> Response:
    """Show the form itself; it holds no plant data and is kept on the tablet."""
    answer = visit.page(
        "tablet.html.jinja",
        file=address_of,
        lists=form_lists(),
        spoken=register_words(),
        cautions=CAUTIONS,
        deference=DEFERENCE,
    )
    answer.headers["x-shelf"] = shelf()
    return answer


@router.get("/worker.js")
def service_worker() -> Response:
    """Give the worker that keeps the page at hand."""
    headers = {"service-worker-allowed": "/tablet", "cache-control": "no-cache"}
    return PlainTextResponse(worker(), media_type="text/javascript", headers=headers)


@router.get("/files/{edition}/{name}")
def kept_file(edition: str, name: str) -> Response:
    """Give a file of the form."""
    path = kept_files().get(name)
    if path is None or edition != shelf():
        raise NotFound("there is no such file", where=name, remedy="Load the page again")
    return FileResponse(path, media_type=media_type(name), headers={"cache-control": _YEAR})


@router.get("/who")
def who(visit: Anyone) -> Response:
    """Say who is signed in, with the key that what is sent must bring along."""
    return _told(visit, lambda: {"person": visit.acting, "form_key": visit.form_key})


@router.get("/copies/walkdowns/{number}")
def campaign_copy(visit: Anyone, number: str) -> Response:
    """Give the copy of a campaign that is out with the visitor."""
    with visit.reading() as session:
        return _told(visit, lambda: walk_copy(session, number, visit.acting, visit.now))


@router.get("/copies/work-orders/{number}/{copy}")
def work_order_copy(visit: Anyone, number: str, copy: int) -> Response:
    """Give a copy of a work order."""
    with visit.reading() as session:
        return _told(
            visit, lambda: order_copy(session, number, copy, visit.acting, visit.now, visit.say)
        )


@router.post("/send/walkdowns")
def send_walk(visit: Anyone, sent: SentRows) -> Response:
    """Take in rows of a campaign."""
    return _told(visit, lambda: _taken(visit, sent, take_walk))


@router.post("/send/work-orders")
def send_order(visit: Anyone, sent: SentRows) -> Response:
    """Take in readings of a work order."""
    return _told(visit, lambda: _taken(visit, sent, take_order))


@router.post("/photos")
def send_photo(visit: Anyone, form: Form) -> Response:
    """Take in a photo."""
    return _told(visit, lambda: {"new": _photo_taken(visit, form)})


def _photo_taken(visit: Visit, form: Form) -> int:
    picture = form.get("picture")
    if picture is None or isinstance(picture, str):
        raise BadInput("no picture was handed in")
    names = ("campaign", "form", "person", "row", "tag", "line", "seal", "number", "subject")
    said = {name: str(form.get(name, "")) for name in names}
    photo = SentPhoto(**said, picture=picture.file.read())
    store = photo_store(visit.register.url, None)
    return take_photo(visit.register, photo, store, acting=visit.acting, now=visit.now)


def _taken(visit: Visit, sent: SentRows, take: Taking) -> dict[str, Any]:
    """Take rows in; where two sendings meet, the later one looks again at what is known."""
    try:
        rows = take(visit.register, sent, acting=visit.acting, now=visit.now)
    except Conflict:
        rows = take(visit.register, sent, acting=visit.acting, now=visit.now)
    return {"rows": [_answered(one, visit.say) for one in rows]}


def _answered(one: RowAnswer, say: Texts) -> dict[str, Any]:
    """Return an answer as JSON can hold it, what it says in the visitor's language."""
    words = [spoken(each, say) for each in one.words]
    return {"row": one.row, "revision": one.revision, "became": one.became, "words": words}


def _told(visit: Visit, answer: Callable[[], dict[str, Any]]) -> Response:
    """Answer a tablet in plain data; nobody signed in is told apart from every other trouble."""
    if visit.account is None:
        return JSONResponse({"error": visit.say("Sign in, then send again")}, 401)
    try:
        return JSONResponse(answer())
    except SupportsError as error:
        return JSONResponse({"error": told(error, visit.say)}, status_of(error))
