"""What a route of the machine interface answers, in OpenAPI 3.1, out of the shapes themselves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from http import HTTPStatus
from typing import Any

from fastapi import APIRouter
from fastapi.openapi.utils import get_openapi

from app.answers import VERSION
from app.json_shapes import schema_of
from app.web.problems import MEDIA_TYPE, Problem

VIEWS = "x-views"
REFUSED = {
    400: "What was handed in cannot be read, or a word is not on its list.",
    401: "No token that holds was shown.",
    403: "The token, or the person it acts for, may not do this.",
    404: "Nothing of this name is in the register.",
    409: "The state of things forbids it, or somebody else wrote meanwhile.",
    413: "More was handed in than the ceiling allows.",
    422: "The arithmetic has no answer.",
    429: "Too many keys that open nothing came from one address.",
    503: "The database is busy or does not answer.",
}
LOOKING = (400, 401, 404, 409, 422, 429, 503)
WRITING = (400, 401, 403, 404, 409, 413, 422, 429, 503)
HANDING_IN = (400, 401, 404, 409, 413, 422, 429, 503)

ABOUT = """The answers of the command line's `--json`, over HTTP. Numbers are SI, the unit ends
their key (`load_N`) or stands beside them; what is not known is null, never zero. The line
calculation is screening. Whether, when and how a spring support is touched is decided by the rules
in force at the site and by its licensed engineers.

A program shows a token, `Authorization: Bearer KEY`, given on the page of one's own account, and
acts for that person: what the person may not do, it may not do either. `read` looks things up,
`read and write` hands things in as well.

Lists come in pages: `next` is what to ask `after` for the page behind; null at the end. An answer
has an `ETag` for the state of the register and the day; with it in `If-None-Match` nothing is sent
twice. What stops a request is `application/problem+json` (RFC 9457) with a stable `code`."""


def gives(
    kind: Any, *, pages: bool = False, refused: Sequence[int] = LOOKING, status: int = 200
) -> dict[str, Any]:
    """Return what the decorator of a route is told of its answers.

    Parameters
    ----------
    kind
        Type of what it answers, as in `app.json_shapes.SHAPES`.
    refused
        Statuses of problems that it can end in.
    """
    views: dict[str, Any] = {}
    properties = {"version": {"const": VERSION}, "answer": schema_of(kind, views)}
    if pages:
        properties |= {"next": {"type": ["string", "null"]}, "total": {"type": "integer"}}
    envelope = {
        "type": "object", "properties": properties, "required": [*properties],
        "additionalProperties": False,
    }  # fmt: skip
    schema_of(Problem, views)
    told: dict[int, Any] = {
        status: {
            "description": HTTPStatus(status).phrase,
            "content": {"application/json": {"schema": envelope}},
        }
    }
    if refused is LOOKING:
        told[304] = {"description": "The answer is the one that `If-None-Match` names."}
    told |= {one: _problem(REFUSED[one]) for one in refused}
    return {"responses": told, "status_code": status, "openapi_extra": {VIEWS: views}}


def _problem(words: str) -> dict[str, Any]:
    return {
        "description": words,
        "content": {MEDIA_TYPE: {"schema": {"$ref": "#/$defs/Problem"}}},
    }


def openapi_of(routers: Iterable[APIRouter]) -> dict[str, Any]:
    """Return the description of the machine interface."""
    ours = [one for router in routers for one in router.routes]
    made = get_openapi(
        title="Pipe support register: machine interface",
        version=str(VERSION),
        description=ABOUT,
        routes=ours,
    )
    views: dict[str, Any] = made.setdefault("components", {}).setdefault("schemas", {})
    for path in made["paths"].values():
        for operation in path.values():
            views |= operation.pop(VIEWS, {})
            if "422" in operation["responses"] and _is_made_up(operation["responses"]["422"]):
                del operation["responses"]["422"]
            operation["security"] = [{"token": []}]
    for name in ("HTTPValidationError", "ValidationError"):
        views.pop(name, None)
    made["components"]["securitySchemes"] = {"token": {"type": "http", "scheme": "bearer"}}
    renamed: dict[str, Any] = _among_components(made)
    return renamed


def _is_made_up(told: dict[str, Any]) -> bool:
    """Return whether the framework added this answer by itself."""
    return "HTTPValidationError" in str(told.get("content", {}).get("application/json", ""))


def _among_components(value: Any) -> Any:
    """Return a description whose views stand where OpenAPI keeps them."""
    if isinstance(value, dict):
        return {key: _among_components(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_among_components(one) for one in value]
    if isinstance(value, str) and value.startswith("#/$defs/"):
        return value.replace("#/$defs/", "#/components/schemas/")
    return value
