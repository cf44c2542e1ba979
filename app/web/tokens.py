"""Programs that show a token: whom they act for, and no further than the token's scope."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import Depends, Request

from app.web.keys import mark_of
from app.web.visits import SAFE_METHODS, Visit, desk_of, visit
from supports.errors import NotAllowed
from supports.queries.accounts import account_with_token


def by_token(request: Request, visit: Annotated[Visit, Depends(visit)]) -> Visit:
    """Return the visit of a program; what its browser session might say does not count.

    Raises
    ------
    NotAllowed
        There is no token, it holds no more, or it may only read.
    """
    kind, _, key = request.headers.get("authorization", "").partition(" ")
    desk = desk_of(request)
    account = None
    if kind.lower() == "bearer" and key:
        with desk.register.reading() as session:
            account = account_with_token(session, mark_of(key.strip()), visit.now)
    if account is None:
        raise NotAllowed(
            "no token that holds was shown",
            expected="the header 'Authorization: Bearer KEY'",
            remedy="Give a token on the page of your own account",
        )
    if request.method not in SAFE_METHODS and account.scope == "read":
        raise NotAllowed("this token may only read", remedy="Give one that may write as well")
    return replace(visit, account=account)


Program = Annotated[Visit, Depends(by_token)]
