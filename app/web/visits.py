"""One visit of the desk: who asks, when, in which language; and the gates before a screen."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Annotated, Any
from urllib.parse import urlsplit

from fastapi import Depends, Request
from sqlalchemy.orm import Session
from starlette.datastructures import FormData
from starlette.responses import HTMLResponse, Response

from app.settings import handed_in_store
from app.web.keys import form_key_of, mark_of, same
from app.web.outside import OutsideService
from app.web.pages import filled
from app.web.sheets.shelf import Shelf
from app.web.sheets.works import Hands, in_a_thread
from reports.languages import ENGLISH, Texts, languages, texts
from supports.database import Register
from supports.errors import DatabaseTrouble, NotAllowed
from supports.operations.desk_sessions import prolong_session
from supports.plant_time import at_plant, day_of
from supports.queries.accounts import AccountView, account_in_session
from supports.queries.asked_once import each_asked_once
from supports.queries.site import plant_and_zone
from supports.vocabulary import Role

SAFE_METHODS = {"GET", "HEAD", "OPTIONS"}
FORM_KEY = "form_key"
FOR_PROGRAMS = "/api/"
"""Addresses of the machine interface: what asks there shows a token, a browser's session counts
for nothing."""
MOST_FIELDS, MOST_FILES = 2000, 50


@dataclass(frozen=True, slots=True)
class Desk:
    """What every visit shares: the register, the clock, chance, and how the desk is served.

    Parameters
    ----------
    secure
        It is reached over TLS: cookies are sent over TLS alone.
    setup_code
        What the first-run setup asks for; printed where the desk was opened.
    outside
        The site's own sign-in service; None where there is none.
    hands
        Who does long work: a thread beside the desk.
    """

    register: Register
    now: Callable[[], datetime]
    fresh_key: Callable[[], str]
    secure: bool = False
    setup_code: str = ""
    outside: OutsideService | None = None
    hands: Hands = in_a_thread
    kept: dict[str, Any] = field(default_factory=dict)
    """What screens keep in memory, each under its own name; never more than can be made anew."""

    @property
    def shelf(self) -> Shelf:
        """Return where files that were handed in wait."""
        return Shelf(handed_in_store(self.register.url))

    @property
    def session_cookie(self) -> str:
        """Return the name of the cookie that holds the key of a session."""
        return "__Host-desk" if self.secure else "desk"

    @property
    def visitor_cookie(self) -> str:
        """Return the name of the cookie of a browser that nobody is signed in with."""
        return "__Host-desk-visitor" if self.secure else "desk-visitor"


class SignInNeededError(Exception):
    """Nobody is signed in; the visitor is led to the sign-in and back."""


@dataclass(frozen=True, slots=True)
class Visit:
    """One request, with what is known of who makes it."""

    request: Request
    desk: Desk
    now: datetime
    account: AccountView | None
    form_key: str
    language: str
    plant: str = ""

    @property
    def register(self) -> Register:
        """Return the register."""
        return self.desk.register

    @property
    def clock(self) -> datetime:
        """Return the time at the plant, with its zone where one is laid down."""
        return at_plant(self.now, self.register.zone)

    @property
    def today(self) -> date:
        """Return the day at the plant."""
        return day_of(self.now, self.register.zone)

    @property
    def acting(self) -> str:
        """Return the name under which operations are asked for."""
        return "" if self.account is None else self.account.person

    @property
    def roles(self) -> frozenset[Role]:
        """Return the roles held today."""
        return frozenset() if self.account is None else self.account.roles

    @property
    def say(self) -> Texts:
        """Return the words of the visitor's language."""
        return texts(self.language)

    @property
    def comfort(self) -> bool:
        """Return whether only a part of the page is asked for, to be put in place by htmx."""
        return self.request.headers.get("hx-request") == "true"

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """Give a session that writes nothing."""
        with self.register.reading() as session:
            yield session

    @contextmanager
    def gathering(self) -> Iterator[Session]:
        """Give a session for a page that asks much: what is asked again is not asked twice."""
        with self.register.reading() as session, each_asked_once(session):
            yield session

    def page(self, template: str, status: int = 200, **words: Any) -> HTMLResponse:
        """Return a page; `words` are what its template asks for."""
        answer = HTMLResponse(filled(self, template, **words), status)
        if key := getattr(self.request.state, "new_visitor", ""):
            give_cookie(answer, self.desk, self.desk.visitor_cookie, key)
        return answer


def give_cookie(answer: Response, desk: Desk, name: str, key: str) -> None:
    """Let the browser hold a key that no script can read and no other site can send."""
    answer.set_cookie(name, key, httponly=True, samesite="lax", secure=desk.secure, path="/")


def desk_of(request: Request) -> Desk:
    """Return the desk that a request came to."""
    desk: Desk = request.app.state.desk
    return desk


def visit(request: Request) -> Visit:
    """Return the visit; nobody need be signed in."""
    desk = desk_of(request)
    moment = desk.now()
    key = request.cookies.get(desk.session_cookie, "")
    with desk.register.reading() as session:
        plant, zone = plant_and_zone(session)
        found = account_in_session(session, mark_of(key), moment) if key else None
    desk.register.go_by(zone)
    if found is not None:
        with suppress(DatabaseTrouble):  # somebody is writing: it is written down next time
            prolong_session(desk.register, mark_of(key), found.seen_at, moment)
    account = found.account if found else None
    return Visit(request, desk, moment, account, _form_key(request), language_of(request), plant)


def signed_in(visit: Annotated[Visit, Depends(visit)]) -> Visit:
    """Return the visit of somebody who is signed in."""
    if visit.account is None:
        raise SignInNeededError
    return visit


def browser_key(request: Request) -> str:
    """Return the key that this browser holds: of its session, else of a visitor; '' if neither."""
    desk = desk_of(request)
    cookies = request.cookies
    return cookies.get(desk.session_cookie) or cookies.get(desk.visitor_cookie) or ""


def _form_key(request: Request) -> str:
    """Return what forms of this browser bring along; a new visitor gets a key with the answer."""
    key = browser_key(request)
    if not key:
        key = request.state.new_visitor = desk_of(request).fresh_key()
    return form_key_of(key)


async def handed_in(request: Request) -> FormData:
    """Return the fields of a form that this desk gave out itself.

    Raises
    ------
    NotAllowed
        The form came from elsewhere, or was open across a sign-in.
    """
    form = await request.form(max_fields=MOST_FIELDS, max_files=MOST_FILES)
    said = request.headers.get("x-form-key") or str(form.get(FORM_KEY, ""))
    key = browser_key(request)
    if not _from_here(request) or not key or not same(said, form_key_of(key)):
        raise NotAllowed(
            "this form was not given out to you by the desk",
            remedy="Go back, load the page again and repeat",
        )
    return form


async def no_forged_form(request: Request) -> AsyncIterator[None]:
    """Refuse whatever may write unless the desk gave the form out itself; close its files at last.

    Where programs ask nothing that a browser brings along by itself opens anything.
    """
    for_programs = request.url.path.startswith(FOR_PROGRAMS)
    try:
        if request.method not in SAFE_METHODS and not for_programs:
            await handed_in(request)
        yield
    finally:
        await request.close()


def _from_here(request: Request) -> bool:
    site = request.headers.get("sec-fetch-site")
    if site is not None:
        return site in {"same-origin", "none"}
    origin = request.headers.get("origin")
    return origin is None or urlsplit(origin).netloc == request.headers.get("host")


def language_of(request: Request) -> str:
    """Return the language chosen here, else the first of the browser's that there is."""
    known = languages()
    wanted = [request.cookies.get("language", "")]
    wanted += [
        part.split(";")[0].strip()[:2].lower()
        for part in request.headers.get("accept-language", "").split(",")
    ]
    return next((one for one in wanted if one in known), ENGLISH)


Anyone = Annotated[Visit, Depends(visit)]
Signed = Annotated[Visit, Depends(signed_in)]
Form = Annotated[FormData, Depends(handed_in)]
