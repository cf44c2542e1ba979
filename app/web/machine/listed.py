"""The machine interface as rows, out of its own description: for its page and for the manual."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from app.web.problems import code_of, title_of
from app.web.tokens import NoTokenError, TooManyTriesError
from app.web.troubles import STATUS, UNFORESEEN
from supports.errors import SupportsError


@dataclass(frozen=True, slots=True)
class Named:
    """Something that is asked for along with a route."""

    name: str
    where: str
    needed: bool
    said: str


@dataclass(frozen=True, slots=True)
class ListedRoute:
    """A route: what it does, what goes with it, what it answers, what can stop it."""

    method: str
    path: str
    said: str
    named: tuple[Named, ...]
    answers: str
    statuses: tuple[str, ...]

    @property
    def scope(self) -> str:
        """Return the scope that a token needs."""
        return "read and write" if "403" in self.statuses else "read"


def listed_routes(described: dict[str, Any]) -> tuple[ListedRoute, ...]:
    """Return every route of a description."""
    return tuple(
        ListedRoute(
            method.upper(),
            path,
            operation["description"],
            (*_asked(operation), *_handed_in(operation, described)),
            _answer(operation),
            tuple(operation["responses"]),
        )
        for path, operations in described["paths"].items()
        for method, operation in operations.items()
    )


def _asked(operation: dict[str, Any]) -> Iterator[Named]:
    for one in operation.get("parameters", ()):
        yield Named(one["name"], one["in"], one["required"], one.get("description", ""))


def _handed_in(operation: dict[str, Any], described: dict[str, Any]) -> Iterator[Named]:
    for content in operation.get("requestBody", {}).get("content", {}).values():
        name = content["schema"]["$ref"].rpartition("/")[2]
        body = described["components"]["schemas"][name]
        for field, kind in body["properties"].items():
            needed = field in body.get("required", ())
            yield Named(field, "body", needed, kind.get("description", ""))


def _answer(operation: dict[str, Any]) -> str:
    """Return the view that a route answers; a list of them as 'list of ...'."""
    schema = operation["responses"]["200"]["content"]["application/json"]["schema"]
    kind, many = schema["properties"]["answer"], ""
    if kind.get("type") == "array":
        kind, many = kind["items"], "list of "
    return many + str(kind["$ref"].rpartition("/")[2])


def problem_codes() -> tuple[tuple[str, int, str], ...]:
    """Return the code of every problem, its status, and what it says."""
    kinds = [*_beneath(SupportsError), NoTokenError, TooManyTriesError]
    unique = {code_of(kind): kind for kind in kinds}
    return tuple((code, _status(kind), title_of(kind)) for code, kind in sorted(unique.items()))


def _status(kind: type[SupportsError]) -> int:
    return next((STATUS[one] for one in kind.__mro__ if one in STATUS), UNFORESEEN)


def _beneath(kind: type[SupportsError]) -> Iterator[type[SupportsError]]:
    for one in kind.__subclasses__():
        if one.__module__ == SupportsError.__module__:
            yield one
            yield from _beneath(one)
