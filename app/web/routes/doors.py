"""In and out: sign-in, sign-out, the first account, the language."""

from __future__ import annotations

from datetime import timedelta

from fastapi import APIRouter
from starlette.datastructures import FormData
from starlette.responses import RedirectResponse, Response

from app.web.keys import fits, hashed, in_the_lane, mark_of, same
from app.web.troubles import status_of
from app.web.visits import Anyone, Form, Visit, give_cookie
from reports.languages import languages
from supports.errors import BadInput, NotAllowed, SupportsError
from supports.operations.accounts import NewAccount, open_account, require_no_account
from supports.operations.desk_sessions import (
    begin_session,
    end_session,
    forget_failures,
    note_failure,
)
from supports.operations.people import add_person
from supports.queries.accounts import any_account, failures_of, password_of
from supports.queries.people import keepers
from supports.sentences import Sentence, joined
from supports.vocabulary import Role

router = APIRouter()

WINDOW = timedelta(minutes=15)
BY_NAME, FROM_ADDRESS = 5, 30
"""So many sign-ins may fail within the window, by one name and from one address.

Common practice, no source; slow enough against guessing, quick enough for tired people.
"""


@router.get("/sign-in")
def sign_in(visit: Anyone, then: str = "/") -> Response:
    """Show the sign-in; the first-run setup where there is no account yet."""
    with visit.reading() as session:
        if not any_account(session):
            return RedirectResponse("/first-run", 303)
    return visit.page("sign_in.html.jinja", then=inside(then), error=None, typed="")


@router.post("/sign-in")
async def signing_in(visit: Anyone, form: Form) -> Response:
    """Begin a session, or say that it did not work without saying why."""
    return await in_the_lane(lambda: _signing_in(visit, form))


def _signing_in(visit: Visit, form: FormData) -> Response:
    name, then = str(form.get("name", "")), inside(str(form.get("then", "/")))
    try:
        account_id = _proved(visit, name, str(form.get("password", "")))
    except SupportsError as error:
        status = 429 if isinstance(error, NotAllowed) else 400
        return visit.page("sign_in.html.jinja", status, then=then, error=error, typed=name)
    forget_failures(visit.register, name)
    return session_begun(visit, account_id, then)


def _proved(visit: Visit, name: str, password: str) -> int:
    _require_patience(visit, name)
    with visit.reading() as session:
        known = password_of(session, name)
    if not fits(password, known[1] if known else None) or known is None:
        note_failure(visit.register, name, address_of(visit), visit.now)
        raise BadInput(
            "name and password do not belong together",
            remedy="Try again; whoever keeps the register can set a new password",
        )
    return known[0]


def _require_patience(visit: Visit, name: str) -> None:
    with visit.reading() as session:
        counted = failures_of(session, name, address_of(visit), visit.now - WINDOW)
    if counted[0] >= BY_NAME or counted[1] >= FROM_ADDRESS:
        raise NotAllowed(
            "too many sign-ins failed",
            remedy=Sentence(
                "Wait {count} minutes, then try again", count=str(WINDOW.seconds // 60)
            ),
        )


def session_begun(visit: Visit, account_id: int, then: str) -> Response:
    """Begin a session with a key of its own, whatever the browser held before."""
    key = visit.desk.fresh_key()
    begin_session(visit.register, account_id, mark_of(key), visit.now)
    answer = RedirectResponse(then, 303)
    give_cookie(answer, visit.desk, visit.desk.session_cookie, key)
    answer.delete_cookie(visit.desk.visitor_cookie, secure=visit.desk.secure, httponly=True)
    return answer


@router.post("/sign-out")
def sign_out(visit: Anyone, _: Form) -> Response:
    """End the session."""
    if key := visit.request.cookies.get(visit.desk.session_cookie):
        end_session(visit.register, mark_of(key))
    answer = RedirectResponse("/sign-in", 303)
    answer.delete_cookie(visit.desk.session_cookie, secure=visit.desk.secure, httponly=True)
    answer.headers["clear-site-data"] = '"cache"'
    return answer


@router.get("/first-run")
def first_run(visit: Anyone) -> Response:
    """Show the setup of the first account."""
    require_no_account(visit.register)
    return _first_run_page(visit)


def _first_run_page(visit: Visit, error: SupportsError | None = None) -> Response:
    with visit.reading() as session:
        people = keepers(session, visit.today)
    return visit.page("first_run.html.jinja", status_of(error), people=people, error=error)


@router.post("/first-run")
def set_up(visit: Anyone, form: Form) -> Response:
    """Open the first account, for somebody who keeps the register; enter them if nobody is."""
    require_no_account(visit.register)
    said = {field: str(form.get(field, "")).strip() for field in ("code", "person", "name")}
    try:
        _require_patience(visit, "first run")
        if not visit.desk.setup_code or not same(said["code"], visit.desk.setup_code):
            note_failure(visit.register, "first run", address_of(visit), visit.now)
            raise BadInput(
                "the setup code is not right",
                remedy="It stands in the terminal where the desk was opened",
            )
        _open_first(visit, said, str(form.get("password", "")))
    except SupportsError as error:
        return _first_run_page(visit, error)
    return RedirectResponse("/sign-in", 303)


def _open_first(visit: Visit, said: dict[str, str], password: str) -> None:
    password_hash = hashed(password, said["name"])
    with visit.reading() as session:
        nobody = not keepers(session, visit.today)
    who = said["person"]
    if nobody:
        roles = [Role.REGISTER_KEEPER]
        add_person(visit.register, who, roles, acting=who, now=visit.now)
    new = NewAccount(who, said["name"], password_hash)
    open_account(visit.register, new, acting=who, now=visit.now)


@router.post("/language")
def choose_language(visit: Anyone, form: Form) -> Response:
    """Keep the language chosen in this browser."""
    chosen = str(form.get("language", ""))
    if chosen not in languages():
        raise BadInput("the desk does not speak this language", expected=joined(languages(), ", "))
    answer = RedirectResponse(inside(str(form.get("then", "/"))), 303)
    answer.set_cookie(
        "language", chosen, max_age=365 * 86400, samesite="lax", secure=visit.desk.secure
    )
    return answer


def inside(address: str) -> str:
    """Return an address within the desk; anything else leads to its first page.

    >>> inside("/supports?line=L-1"), inside("//elsewhere.example"), inside("https://elsewhere")
    ('/supports?line=L-1', '/', '/')
    """
    plain = address.startswith("/") and address[1:2] not in {"/", "\\"}
    return address if plain and address.isprintable() and "\\" not in address else "/"


def address_of(visit: Visit) -> str:
    """Return the address that a visit comes from; behind a proxy, as the proxy says."""
    client = visit.request.client
    return "" if client is None else client.host
