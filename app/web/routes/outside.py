"""To the site's sign-in service and back."""

from __future__ import annotations

from dataclasses import astuple
from typing import NoReturn

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from app.web.keys import same
from app.web.outside import Errand, OutsideService, errand_address, name_brought_back
from app.web.routes.doors import inside, session_begun
from app.web.visits import Anyone, Visit
from supports.errors import NotAllowed, NotFound
from supports.queries.accounts import account_outside

router = APIRouter()

COOKIE, WAY_BACK = "desk-errand", "/sign-in/outside/back"
LASTS = 600
"""How long an errand may take [s]."""


@router.get("/sign-in/outside")
def to_service(visit: Anyone, then: str = "/") -> Response:
    """Send the browser to the service, with what it has to bring back in its own cookie."""
    draw = visit.desk.fresh_key
    errand = Errand(draw(), draw(), draw() + draw())
    answer = RedirectResponse(errand_address(_service(visit), errand, _back(visit)), 303)
    answer.set_cookie(
        COOKIE, "|".join((*astuple(errand), inside(then))), max_age=LASTS, httponly=True,
        samesite="lax", secure=visit.desk.secure, path="/sign-in/outside",
    )  # fmt: skip
    return answer


@router.get(WAY_BACK)
def from_service(visit: Anyone, code: str = "", state: str = "", error: str = "") -> Response:
    """Begin a session for whoever the service names."""
    *kept, then = visit.request.cookies.get(COOKIE, "|||/").split("|", 3)
    errand = Errand(*kept)
    if error or not code or not errand.state or not same(state, errand.state):
        raise NotAllowed(
            "this sign-in was not begun in this browser, or was broken off",
            found=error[:100],
            remedy="Begin the sign-in again",
        )
    name = name_brought_back(_service(visit), errand, _back(visit), code, visit.now)
    with visit.reading() as session:
        account_id = account_outside(session, name)
    if account_id is None:
        _nobody(name)
    answer = session_begun(visit, account_id, inside(then))
    answer.delete_cookie(COOKIE, path="/sign-in/outside", httponly=True)
    return answer


def _nobody(name: str) -> NoReturn:
    raise NotAllowed(
        "no open account belongs to this name",
        found=name,
        remedy="Whoever keeps the register opens one with exactly these words",
    )


def _service(visit: Visit) -> OutsideService:
    if visit.desk.outside is None:
        raise NotFound("the site has no sign-in service here", remedy="Sign in with a password")
    return visit.desk.outside


def _back(visit: Visit) -> str:
    return f"{str(visit.request.base_url).rstrip('/')}{WAY_BACK}"
