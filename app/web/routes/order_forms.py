"""A form that came back and says otherwise than what is recorded: a person chooses."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from app.returns import NOT_RECORDED, choose_on_form, compare_form, take_back
from app.web.acts.asking import Said
from app.web.sheets.shelf import HandedIn
from app.web.troubles import status_of
from app.web.visits import Form, Signed, Visit
from app.words import word
from supports.errors import NotFound, SupportsError
from supports.sentences import Sentence
from supports.vocabulary import Kept, ReadAs

router = APIRouter(prefix="/work-orders/{number}/forms/{token}")


def _form_of(visit: Visit, number: str, token: str) -> HandedIn:
    handed = visit.desk.shelf.get(token, visit.now)
    if handed.order != number:
        raise NotFound(
            Sentence("no form of {number} is here", number=number), remedy="Hand it in at the order"
        )
    return handed


@router.get("")
def compared(visit: Signed, number: str, token: str) -> Response:
    """Show row by row what the form says and what is recorded."""
    return _page(visit, _form_of(visit, number, token))


def _page(
    visit: Visit, handed: HandedIn, error: SupportsError | None = None,
    told: tuple[str, ...] = (), typed: Said | None = None,
) -> Response:  # fmt: skip
    rows = compare_form(visit.register, handed.order, visit.desk.shelf.file(handed))
    return visit.page(
        "order_form.html.jinja", status_of(error), error=error, told=told, rows=rows,
        handed=handed, typed=typed or Said.empty(),
    )  # fmt: skip


@router.post("/take")
def take(visit: Signed, number: str, token: str, _: Form) -> Response:
    """Record what the form says that is not recorded yet; say what stood in the way."""
    handed = _form_of(visit, number, token)
    try:
        told = tuple(
            take_back(
                visit.register, number, visit.desk.shelf.file(handed), acting=visit.acting,
                now=visit.now,
            )
        )  # fmt: skip
    except SupportsError as error:
        return _page(visit, handed, error)
    return _page(visit, handed, told=tuple(line for line in told if NOT_RECORDED in line))


@router.post("/choose")
def choose(visit: Signed, number: str, token: str, form: Form) -> Response:
    """Let the form or what is recorded stand; both are kept, with name and reason."""
    handed, said = _form_of(visit, number, token), Said(form)
    try:
        choose_on_form(
            visit.register, number, said.text("tag"), visit.desk.shelf.file(handed),
            word(ReadAs, said.text("occasion")), word(Kept, said.text("keep")),
            acting=visit.acting, now=visit.now, reason=said.text("reason"),
        )  # fmt: skip
    except SupportsError as error:
        return _page(visit, handed, error, typed=said)
    return RedirectResponse(f"/work-orders/{number}/forms/{token}", 303)
