"""The desk put together: one application on one register."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from anyio.to_thread import current_default_thread_limiter
from fastapi import Depends, FastAPI
from starlette.staticfiles import StaticFiles

from app.web.guards import SafeHeaders, UploadCeiling
from app.web.machine import about
from app.web.outside import OutsideService
from app.web.pages import STATIC
from app.web.routes import (
    accounts,
    changes,
    doors,
    findings,
    home,
    line_what_if,
    lines_,
    order_forms,
    outside,
    papers,
    plans,
    record,
    rules,
    sheet_columns,
    sheet_names,
    sheets,
    stops,
    support,
    supports_,
    tablet,
    walkdowns,
    work_orders,
)
from app.web.troubles import handle_troubles
from app.web.visits import Desk, no_forged_form

ROUTERS = (
    doors.router, outside.router, home.router, accounts.router, supports_.router, support.router,
    line_what_if.router, lines_.router, papers.router, changes.router, plans.router,
    work_orders.router, order_forms.router, stops.router, walkdowns.router, findings.router,
    rules.router, record.router,
    sheets.router, sheet_columns.router, sheet_names.router, tablet.router, about.open_router,
    *about.ROUTERS,
)  # fmt: skip
"""The screens; then the machine interface, whose routes ask for a `Reader` or a `Writer`."""


THREADS = 7
"""Requests worked on at once by one process.

Each may need two of the fifteen connections that a register keeps (a use case that looks and then
writes); with more, requests would hold one and wait for each other's second. The fifteenth is left
to long work on a file.
"""


@asynccontextmanager
async def _few_threads(_: FastAPI) -> AsyncIterator[None]:
    current_default_thread_limiter().total_tokens = THREADS
    yield


def make_desk(desk: Desk) -> FastAPI:
    """Return the application that serves a desk."""
    app = FastAPI(
        title="Pipe support register",
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
        lifespan=_few_threads,
        dependencies=[Depends(no_forged_form)],
    )
    app.state.desk = desk
    for router in ROUTERS:
        app.include_router(router)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    handle_troubles(app)
    app.add_middleware(UploadCeiling)
    app.add_middleware(SafeHeaders, secure=desk.secure)
    return app


def desk_here() -> FastAPI:
    """Return the desk that the environment describes; each worker makes its own."""
    from app.settings import (
        desk_is_secure,
        fresh_key,
        now,
        open_register,
        setup_code,
        sign_in_service,
    )

    service = sign_in_service()
    desk = Desk(
        open_register(None), now, fresh_key, desk_is_secure(), setup_code(),
        OutsideService(*service) if service else None,
    )  # fmt: skip
    return make_desk(desk)
