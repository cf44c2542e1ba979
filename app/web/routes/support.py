"""One support: what it is, how it stands, what was set, read, found and ordered there."""

from __future__ import annotations

from pathlib import Path

from fastapi import APIRouter
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.making.supports_ import sheet_of
from app.making.wanted import Wanted
from app.web.visits import Signed, Visit
from reports.contents.support_sheet import source_blocks, support_blocks, title_of
from reports.html.document import anchored
from supports.queries.beside import beside_on_lines
from supports.queries.lookups import point_of
from supports.queries.support_record import judged_supports

router = APIRouter()

PAPERS = ("support-data-sheet", "hanging-tags")
"""Papers about one support."""


@router.get("/supports/{tag:path}")
def support(visit: Signed, tag: str) -> Response:
    """Show all that is known of a support."""
    with visit.reading() as session:
        return _page(visit, session, tag)


def _page(visit: Visit, session: Session, tag: str) -> Response:
    point = point_of(session, tag)
    (one,) = judged_supports(session, [point], visit.now.date())
    wanted = Wanted((one.support.tag,), Path(), visit.now, language=visit.language)
    sheet = sheet_of(session, one, wanted)
    blocks = support_blocks(sheet, visit.say)
    name_of, contents = anchored(blocks)
    return visit.page(
        "support.html.jinja",
        support=one.support,
        asked_by=tag,
        title=title_of(one.support, visit.say),
        blocks=blocks,
        sources=tuple(source_blocks(sheet.sources, visit.say))[1:],
        anchor_of=name_of,
        contents=contents,
        beside=beside_on_lines(session, point),
        papers=PAPERS,
        springs=any(unit.kind.is_spring for unit in one.support.units),
    )
