"""How the machine interface answers: one envelope, pages, and what an answer is known by."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, TypeVar
from urllib.parse import urlencode

from fastapi import Depends, Query
from starlette.responses import JSONResponse, Response

from app.answers import VERSION
from app.plainly import plain
from app.web.tokens import Reader
from app.web.visits import Visit
from supports.errors import BadInput
from supports.queries.audit_head import audit_head

PREFIX = "/api/v1"
USUAL, MOST = 50, 500
"""Rows of a page."""

T = TypeVar("T")


class UnchangedError(Exception):
    """The program holds this answer already."""

    def __init__(self, mark: str) -> None:
        self.mark = mark
        super().__init__(mark)


def looking(visit: Reader) -> Visit:
    """Return the visit of a program that looks something up.

    An answer is known by the newest batch of the record and the day: whatever is written makes a
    batch. It is read before the answer is made, so that it never stands for something newer.

    Raises
    ------
    UnchangedError
        The program says that it holds the answer of this state.
    """
    with visit.reading() as session:
        mark = f'"{VERSION}.{audit_head(session).batch}.{visit.now:%Y%m%d}"'
    visit.request.state.mark = mark
    held = visit.request.headers.get("if-none-match", "")
    if mark in {one.strip().removeprefix("W/") for one in held.split(",")}:
        raise UnchangedError(mark)
    return visit


Looker = Annotated[Visit, Depends(looking)]


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which page is wanted: behind which row, and how many rows."""

    after: str
    limit: int


def wanted_page(
    after: Annotated[
        str, Query(max_length=300, description="The `next` of the page before; first if left out.")
    ] = "",
    limit: Annotated[int, Query(ge=1, le=MOST, description="Rows of a page.")] = USUAL,
) -> Wanted:
    """Return which page is wanted."""
    return Wanted(after, limit)


PageWanted = Annotated[Wanted, Depends(wanted_page)]


def answer(visit: Visit, data: Any, status: int = 200) -> Response:
    """Return data in the envelope."""
    return JSONResponse(
        {"version": VERSION, "answer": plain(data)}, status, headers=_known_by(visit)
    )


def page(visit: Visit, rows: Sequence[Any], after: str | None, total: int) -> Response:
    """Return a page of rows in the envelope, with the way to the next one."""
    headers = _known_by(visit)
    if after is not None:
        query = dict(visit.request.query_params.multi_items()) | {"after": after}
        headers["link"] = f'<{visit.request.url.path}?{urlencode(query)}>; rel="next"'
    said = {"version": VERSION, "answer": plain(rows), "next": after, "total": total}
    return JSONResponse(said, headers=headers)


def paged(
    visit: Visit,
    rows: Sequence[T],
    wanted: Wanted,
    name: Callable[[T], str] | None = None,
    shown: Callable[[T], Any] | None = None,
) -> Response:
    """Return the page wanted of some rows.

    Parameters
    ----------
    name
        Tells a row from every other; its place where a list only grows at its end.
    shown
        Makes what is answered of a row; only rows of the page are made.

    Raises
    ------
    BadInput
        The row that the page lies behind is not among them.
    """
    names = [name(row) if name else str(place) for place, row in enumerate(rows, start=1)]
    first = 0
    if wanted.after:
        if wanted.after not in names:
            raise BadInput(
                "the row before this page is not in the list",
                where="after", found=f"'{wanted.after}'", remedy="Begin again at the first page",
            )  # fmt: skip
        first = names.index(wanted.after) + 1
    last = first + wanted.limit
    more = names[last - 1] if last < len(rows) else None
    made = [shown(row) if shown else row for row in rows[first:last]]
    return page(visit, made, more, len(rows))


def _known_by(visit: Visit) -> dict[str, str]:
    mark = getattr(visit.request.state, "mark", "")
    return {"etag": mark, "cache-control": "private, no-cache"} if mark else {}
