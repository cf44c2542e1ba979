"""Supports for programs: the register as a list, one support, its units' past, what rules say."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from app.json_shapes import SHAPES
from app.looked_up.supports import support_shown, supports_at, unit_history
from app.web.asked import Asked, answered, filter_of
from app.web.machine.answering import PREFIX, Looker, PageWanted, answer, page
from app.web.machine.asked import Position, Tag
from app.web.machine.described import gives
from app.web.memory import remembered
from supports.queries.explanations import explanations
from supports.queries.lookups import point_of
from supports.queries.register_list import Place, count_listed, listed_page

router = APIRouter(prefix=PREFIX, tags=["supports"])

_Every = Annotated[bool, Query(description="Answers that pass too.")]


@router.get("/supports", **gives(SHAPES["support list"], pages=True))
def supports(visit: Looker, asked: Asked, wanted: PageWanted) -> Response:
    """List supports by tag; what is asked of the rules narrows by what they find today."""
    after = Place("", wanted.after) if wanted.after else None
    with visit.reading() as session:
        if asked.asks_rules:
            found = answered(visit, session, asked)
            listed, total = found.page(session, after, None, wanted.limit), len(found.tags)
        else:
            only = filter_of(asked)
            listed = listed_page(session, only, after=after, size=wanted.limit)
            total = remembered(visit, session, only, lambda: count_listed(session, only))
        views = supports_at(session, [row.point for row in listed.rows])
    return page(visit, views, listed.after.tag if listed.after else None, total)


@router.get("/supports/{tag:path}/units/{position}/history", **gives(SHAPES["unit history"]))
def history(visit: Looker, tag: Tag, position: Position) -> Response:
    """Return every setting and reading of a unit, oldest first."""
    with visit.reading() as session:
        return answer(visit, unit_history(session, f"{tag}/{position}").data)


@router.get("/supports/{tag:path}/rules", **gives(SHAPES["rules explain"]))
def rules(visit: Looker, tag: Tag, every: _Every = False) -> Response:
    """Explain what the rules say of a support and its units, gravest first."""
    with visit.reading() as session:
        point_of(session, tag)
        return answer(visit, explanations(session, tag, visit.today, every=every))


@router.get("/supports/{tag:path}", **gives(SHAPES["support show"]))
def support(
    visit: Looker, tag: Tag,
    sources: Annotated[bool, Query(description="Where each value was read.")] = False,
) -> Response:  # fmt: skip
    """Return all that is known of a support."""
    with visit.reading() as session:
        point_of(session, tag)
        return answer(visit, support_shown(session, tag, sources=sources).data)
