"""What stops a request, as a page: what, where, found, expected, and what to do."""

from __future__ import annotations

import logging
from urllib.parse import quote

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response

from app.web.machine.answering import UnchangedError
from app.web.pages import told
from app.web.problems import problem
from app.web.tokens import NoTokenError, TooManyTriesError
from app.web.visits import FOR_PROGRAMS, SAFE_METHODS, SignInNeededError, language_of, visit
from reports.languages import texts
from supports.errors import (
    BadInput,
    CannotCalculate,
    Conflict,
    DatabaseTrouble,
    NotAllowed,
    NotFound,
    NotReady,
    SupportsError,
)
from supports.sentences import joined

STATUS: dict[type[SupportsError], int] = {
    BadInput: 400,
    NotFound: 404,
    NotAllowed: 403,
    NotReady: 409,
    Conflict: 409,
    DatabaseTrouble: 503,
    CannotCalculate: 422,
    NoTokenError: 401,
    TooManyTriesError: 429,
}
UNFORESEEN = 500
_LOG = logging.getLogger("supports.desk")


def handle_troubles(app: FastAPI) -> None:
    """Answer every trouble with a page; what nobody foresaw is logged, never shown."""
    app.add_exception_handler(SupportsError, _told)
    app.add_exception_handler(SignInNeededError, _to_sign_in)
    app.add_exception_handler(UnchangedError, _unchanged)
    app.add_exception_handler(HTTPException, _not_there)
    app.add_exception_handler(RequestValidationError, _misread)
    app.add_exception_handler(Exception, _unforeseen)


def status_of(error: SupportsError | None) -> int:
    """Return the status of an answer that says this error; 200 where there is none."""
    if error is None:
        return 200
    return next((STATUS[kind] for kind in type(error).__mro__ if kind in STATUS), UNFORESEEN)


async def _told(request: Request, error: Exception) -> Response:
    known = error if isinstance(error, SupportsError) else SupportsError(str(error))
    return await run_in_threadpool(_page, request, known, status_of(known))


async def _to_sign_in(request: Request, _: Exception) -> Response:
    then = request.url.path if request.method in SAFE_METHODS else "/"
    if request.url.query and request.method in SAFE_METHODS:
        then = f"{then}?{request.url.query}"
    answer = RedirectResponse(f"/sign-in?then={quote(then, safe='/')}", 303)
    if request.headers.get("hx-request") == "true":
        answer = RedirectResponse(request.url.path, 204)
        answer.headers["HX-Redirect"] = "/sign-in"
    return answer


async def _unchanged(_: Request, error: Exception) -> Response:
    """Answer a program that holds the answer already."""
    return Response(status_code=304, headers={"etag": str(error)})


async def _not_there(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 404
    said: SupportsError = BadInput("this cannot be asked for here", where=request.url.path)
    if status == 404:
        there = "Go on from the places above"
        said = NotFound("there is no such page", where=request.url.path, remedy=there)
    answer = await run_in_threadpool(_page, request, said, status)
    if isinstance(error, HTTPException) and error.headers:
        answer.headers.update(error.headers)
    return answer


async def _misread(request: Request, error: Exception) -> Response:
    faults = error.errors() if isinstance(error, RequestValidationError) else []
    said = BadInput(
        "what was handed in cannot be read",
        where=joined((_printable(fault["loc"][-1]) for fault in faults[:3]), ", "),
        found="; ".join(_printable(fault.get("input", "")) for fault in faults[:3])[:200],
        remedy="Go back and mend it",
    )
    return await run_in_threadpool(_page, request, said, 400)


def _printable(said: object) -> str:
    """Return what was said with signs spelled out that no answer can hold."""
    return str(said).encode(errors="backslashreplace").decode().replace("\x00", "\\x00")


async def _unforeseen(request: Request, error: Exception) -> Response:
    _LOG.error("unforeseen on %s %s", request.method, request.url.path, exc_info=error)
    said = SupportsError(
        "the desk failed at this",
        where=request.url.path,
        remedy="Nothing half-written was kept. Try again; if it fails again, tell whoever runs it",
    )
    return await run_in_threadpool(_page, request, said, UNFORESEEN)


def _page(request: Request, error: SupportsError, status: int) -> Response:
    """Return the page of an error; plain words where the register itself does not answer."""
    if request.url.path.startswith(FOR_PROGRAMS):
        return problem(error, status, request.url.path)
    if request.url.path.startswith("/tablet/"):
        return JSONResponse({"error": told(error, texts(language_of(request)))}, status)
    try:
        return visit(request).page("trouble.html.jinja", status, error=error)
    except SupportsError:
        return PlainTextResponse(str(error), status)
