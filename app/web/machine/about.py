"""The machine interface about itself: who a token is, its description, a page that lists it."""

from __future__ import annotations

from functools import cache
from typing import Any

from fastapi import APIRouter
from starlette.responses import JSONResponse, Response

from app.shapes_of_machine import MACHINE_SHAPES, TokenHeld
from app.web.machine import changes, lines, site, supports, writing
from app.web.machine.answering import PREFIX, answer
from app.web.machine.described import ABOUT, gives, openapi_of
from app.web.machine.listed import listed_routes, problem_codes
from app.web.tokens import Reader
from app.web.visits import Anyone

router = APIRouter(prefix=PREFIX, tags=["token"])
open_router = APIRouter(prefix=PREFIX, include_in_schema=False)

ROUTERS = (
    router, supports.router, lines.router, changes.router, site.router, writing.router,
)  # fmt: skip


@router.get("/token", **gives(MACHINE_SHAPES["token"], refused=(400, 401, 429, 503)))
def token(visit: Reader) -> Response:
    """Say who the token acts for, with which roles today, within which scope."""
    scope = visit.account.scope if visit.account else ""
    return answer(visit, TokenHeld(visit.acting, tuple(sorted(map(str, visit.roles))), scope))


@cache
def description() -> dict[str, Any]:
    """Return the description of the machine interface; it is the same for everybody."""
    return openapi_of(ROUTERS)


@open_router.get("/openapi.json")
def openapi() -> Response:
    """Give the description of the machine interface; there is no plant data in it."""
    return JSONResponse(description())


@open_router.get("/")
def page(visit: Anyone) -> Response:
    """Show a page that lists the machine interface."""
    return visit.page(
        "machine.html.jinja", routes=listed_routes(description()), problems=problem_codes(),
        about=ABOUT.split("\n\n"),
    )  # fmt: skip
