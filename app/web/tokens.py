"""Programs that show a token: whom they act for, and no further than the token's scope."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Annotated

from fastapi import Depends, Request

from app.web.keys import mark_of
from app.web.visits import Desk, Visit, desk_of, visit
from supports.errors import NotAllowed
from supports.operations.accounts import SCOPES
from supports.operations.desk_sessions import note_failure
from supports.queries.accounts import AccountView, account_with_token, failures_of
from supports.sentences import Sentence

READ, WRITE = SCOPES

WINDOW = timedelta(minutes=15)
FROM_ADDRESS = 30
"""So many tokens that do not hold may come from one address within the window, as many as failed
sign-ins and counted together with them."""

_NAME = "(token)"
"""What such a failure is noted under; nobody's sign-in name."""


class NoTokenError(NotAllowed):
    """No token that holds was shown."""


class TooManyTriesError(NotAllowed):
    """Too many keys that open nothing came from one address."""


def by_token(request: Request, visit: Annotated[Visit, Depends(visit)]) -> Visit:
    """Return the visit of a program; what its browser session might say does not count.

    Raises
    ------
    NoTokenError
        There is no token, or it holds no more.
    TooManyTriesError
        Too many that do not hold came from the same address.
    """
    kind, _, key = request.headers.get("authorization", "").partition(" ")
    shown = key.strip() if kind.lower() == "bearer" else ""
    desk = desk_of(request)
    account = _account(desk, shown, visit)
    if account is None:
        if shown:
            _note(desk, request, visit)
        raise NoTokenError(
            "no token that holds was shown",
            expected="the header 'Authorization: Bearer KEY'",
            remedy="Give a token on the page of your own account",
        )
    return replace(visit, account=account)


def _account(desk: Desk, key: str, visit: Visit) -> AccountView | None:
    if not key:
        return None
    with desk.register.reading() as session:
        return account_with_token(session, mark_of(key), visit.now)


def _note(desk: Desk, request: Request, visit: Visit) -> None:
    """Note a key that opens nothing; too many of them end in a refusal that writes nothing."""
    address = request.client.host if request.client else ""
    with desk.register.reading() as session:
        _, from_there = failures_of(session, _NAME, address, visit.now - WINDOW)
    if from_there >= FROM_ADDRESS:
        raise TooManyTriesError(
            "too many keys that open nothing came from this address",
            remedy=Sentence(
                "Wait {count} minutes, then show one that holds",
                count=str(WINDOW.seconds // 60),
            ),
        )
    note_failure(desk.register, _NAME, address, visit.now)


def by_writing_token(visit: Annotated[Visit, Depends(by_token)]) -> Visit:
    """Return the visit of a program that may write.

    Raises
    ------
    NotAllowed
        The token may only read.
    """
    if visit.account is None or visit.account.scope != WRITE:
        raise NotAllowed("this token may only read", remedy="Give one that may write as well")
    return visit


Reader = Annotated[Visit, Depends(by_token)]
Writer = Annotated[Visit, Depends(by_writing_token)]
