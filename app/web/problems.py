"""What stops a program's request, as RFC 9457 has it: application/problem+json."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from starlette.responses import JSONResponse

from app.plainly import plain
from app.web.tokens import WINDOW, NoTokenError, TooManyTriesError
from supports.errors import InputHasFaults, SupportsError
from supports.findings import Finding

MEDIA_TYPE = "application/problem+json"
MOST_FINDINGS = 1000
"""Findings that a problem names; a file with more is mended in several goes."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What stopped a request: `code` is stable, the rest is for whoever reads it."""

    type: str
    title: str
    status: int
    detail: str
    instance: str
    code: str
    what: str
    where: str
    found: str
    expected: str
    remedy: str
    findings: tuple[Finding, ...]
    """Faults of a file that was handed in, at most a thousand."""


def code_of(kind: type[SupportsError]) -> str:
    """Return the stable code of an error.

    >>> code_of(InputHasFaults), code_of(NoTokenError)
    ('input-has-faults', 'no-token')
    """
    return re.sub(r"(?<!^)(?=[A-Z])", "-", kind.__name__.removesuffix("Error")).lower()


def title_of(kind: type[SupportsError]) -> str:
    """Return what kind of trouble it is, in a sentence."""
    return (kind.__doc__ or "").strip().splitlines()[0]


def problem(error: SupportsError, status: int, path: str) -> JSONResponse:
    """Return what stopped a request."""
    findings = error.findings if isinstance(error, InputHasFaults) else ()
    code = code_of(type(error))
    said = Problem(
        type=f"/api/v1/#{code}",
        title=title_of(type(error)),
        status=status,
        detail=str(error),
        instance=path,
        code=code,
        what=error.what,
        where=error.where,
        found=error.found,
        expected=error.expected,
        remedy=error.remedy,
        findings=tuple(one for one in findings if isinstance(one, Finding))[:MOST_FINDINGS],
    )
    return JSONResponse(plain(said), status, media_type=MEDIA_TYPE, headers=_headers(error))


def _headers(error: SupportsError) -> Mapping[str, str]:
    if isinstance(error, NoTokenError):
        return {"www-authenticate": "Bearer"}
    if isinstance(error, TooManyTriesError):
        return {"retry-after": str(WINDOW.seconds)}
    return {}
