"""Accounts: one's own password and tokens; opening and closing those of others."""

from __future__ import annotations

from datetime import timedelta

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from app.web.keys import fits, hashed, mark_of
from app.web.routes.doors import session_begun
from app.web.troubles import status_of
from app.web.visits import Form, Signed, Visit
from supports.errors import BadInput, NotAllowed, SupportsError
from supports.operations import accounts as using
from supports.queries.accounts import accounts, password_of, sign_in_name, tokens_of
from supports.queries.people import people_without_account

router = APIRouter()

TOKEN_DAYS = (30, 90, 365)
"""For how long a token may be given [days]."""


def _account_id(visit: Visit) -> int:
    return visit.account.id if visit.account else 0


def _account_name(visit: Visit) -> str:
    return visit.account.name if visit.account else ""


@router.get("/own-account")
def own_account(visit: Signed) -> Response:
    """Show what belongs to the visitor's own account."""
    return _own(visit)


def _own(visit: Visit, error: SupportsError | None = None, key: str = "") -> Response:
    with visit.reading() as session:
        tokens = tokens_of(session, _account_id(visit))
        by_password = password_of(session, _account_name(visit)) is not None
        return visit.page(
            "own_account.html.jinja", status_of(error), tokens=tokens, error=error, key=key,
            by_password=by_password, scopes=using.SCOPES, days=TOKEN_DAYS,
        )  # fmt: skip


@router.post("/own-account/password")
def own_password(visit: Signed, form: Form) -> Response:
    """Give oneself a new password; every session ends and this browser gets a new one."""
    name = _account_name(visit)
    try:
        with visit.reading() as session:
            known = password_of(session, name)
        if known is None or not fits(str(form.get("present", "")), known[1]):
            raise BadInput("the present password is not right")
        password_hash = hashed(str(form.get("password", "")), name)
        using.set_password(visit.register, name, password_hash, acting=visit.acting, now=visit.now)
    except SupportsError as error:
        return _own(visit, error)
    return session_begun(visit, _account_id(visit), "/own-account")


@router.post("/own-account/tokens")
def own_token(visit: Signed, form: Form) -> Response:
    """Give a token to a program of one's own; its key is shown this once."""
    key = visit.desk.fresh_key()
    days = str(form.get("days", TOKEN_DAYS[0]))
    if days not in map(str, TOKEN_DAYS):
        raise BadInput("a token is given for a fixed time", found=days)
    new = using.NewToken(
        str(form.get("name", "")), mark_of(key), str(form.get("scope", "")),
        visit.now + timedelta(days=int(days)),
    )  # fmt: skip
    try:
        using.give_token(
            visit.register, _account_name(visit), new, acting=visit.acting, now=visit.now
        )
    except SupportsError as error:
        return _own(visit, error)
    return _own(visit, key=key)


@router.post("/own-account/tokens/{number}/withdraw")
def withdraw(visit: Signed, number: int, _: Form) -> Response:
    """Withdraw a token."""
    using.withdraw_token(visit.register, number, acting=visit.acting, now=visit.now)
    return RedirectResponse("/own-account", 303)


@router.get("/accounts")
def all_accounts(visit: Signed) -> Response:
    """Show who may sign in."""
    return _all(visit)


def _all(visit: Visit, error: SupportsError | None = None) -> Response:
    with visit.reading() as session:
        known = accounts(session, visit.today)
        others = people_without_account(session)
    return visit.page(
        "accounts.html.jinja", status_of(error), accounts=known, others=others, error=error
    )


@router.post("/accounts")
def open_account(visit: Signed, form: Form) -> Response:
    """Open an account for a person of the register."""
    said = {field: str(form.get(field, "")).strip() for field in ("person", "name", "outside")}
    try:
        password = str(form.get("password", ""))
        hash_of_it = hashed(password, said["name"]) if password or not said["outside"] else ""
        new = using.NewAccount(said["person"], said["name"], hash_of_it, said["outside"])
        using.open_account(visit.register, new, acting=visit.acting, now=visit.now)
    except SupportsError as error:
        return _all(visit, error)
    return RedirectResponse("/accounts", 303)


@router.post("/accounts/{name}/password")
def new_password(visit: Signed, name: str, form: Form) -> Response:
    """Give somebody else a new password; one's own wants the present one."""
    try:
        if sign_in_name(name) == _account_name(visit):
            raise NotAllowed(
                "one's own password is changed with the present one",
                remedy="Do it on the page of your own account",
            )
        using.set_password(
            visit.register, name, hashed(str(form.get("password", "")), name),
            acting=visit.acting, now=visit.now,
        )  # fmt: skip
    except SupportsError as error:
        return _all(visit, error)
    return RedirectResponse("/accounts", 303)


@router.post("/accounts/{name}/close")
def close_account(visit: Signed, name: str, _: Form) -> Response:
    """Close an account."""
    using.close_account(visit.register, name, acting=visit.acting, now=visit.now)
    return RedirectResponse("/accounts", 303)
