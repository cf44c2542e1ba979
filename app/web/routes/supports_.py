"""The register as a list of supports."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Depends, Query
from starlette.responses import RedirectResponse, Response

from app.web.visits import Signed
from supports.queries.register_list import (
    SORTS,
    ListFilter,
    Place,
    count_listed,
    list_choices,
    listed_page,
)
from supports.vocabulary import SupportKind

router = APIRouter()


def asked_of(
    area: str = "", line: str = "", kind: str = "", criticality: str = "", text: str = ""
) -> ListFilter:
    """Return what the address asks for."""
    return ListFilter(area, line.strip(), kind, criticality, text.strip())


Asked = Annotated[ListFilter, Depends(asked_of)]


@router.get("/supports")
def supports(
    visit: Signed, asked: Asked, sort: str = "tag", falling: bool = False,
    after: Annotated[list[str] | None, Query()] = None,
    before: Annotated[list[str] | None, Query()] = None, tag: str = "",
) -> Response:  # fmt: skip
    """Show a page of the list; a tag leads straight to its support."""
    if tag.strip():
        return RedirectResponse(f"/supports/{quote(tag.strip(), safe='')}", 303)
    sort = sort if sort in SORTS else "tag"
    with visit.reading() as session:
        page = listed_page(
            session, asked, sort, falling=falling, after=_place(after), before=_place(before)
        )
        count = count_listed(session, asked)
        choices = list_choices(session)
    return visit.page(
        "supports.html.jinja", page=page, count=count, asked=asked, sort=sort, falling=falling,
        choices=choices, kinds=[str(one) for one in SupportKind],
    )  # fmt: skip


def _place(pair: list[str] | None) -> Place | None:
    return Place(pair[0], pair[-1]) if pair else None
