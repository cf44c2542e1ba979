"""One support: what it is, how it stands, what was set, read, found and ordered there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from fastapi import APIRouter
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.making.supports_ import sheet_of
from app.making.wanted import Wanted
from app.web.memory import remembered
from app.web.visits import Signed, Visit
from reports.contents.support_sheet import support_blocks, title_of
from reports.contents.unknown import unknown_said
from reports.html.document import anchored
from supports.queries.as_of import register_as_of
from supports.queries.beside import beside_on_lines
from supports.queries.lookups import point_of
from supports.queries.plant_days import end_of_day
from supports.queries.provenance import Origin, origins_of_rows, rows_at
from supports.queries.support_record import judged_supports

router = APIRouter()

PAPERS = ("support-data-sheet", "hanging-tags")
"""Papers about one support."""


@dataclass(frozen=True, slots=True)
class RowRead:
    """A row that speaks of a support: what it is about, and where each of its values was read."""

    about: str
    table: str
    row: int
    origins: tuple[Origin, ...]


@router.get("/supports/{tag:path}")
def support(visit: Signed, tag: str) -> Response:
    """Show all that is known of a support."""
    with visit.gathering() as session:
        point = point_of(session, tag)
        return visit.page(
            "support.html.jinja",
            asked_by=tag,
            papers=PAPERS,
            then=None,
            **remembered(
                visit, session, ("support", point, visit.language),
                lambda: _shown_today(visit, session, point),
            ),
        )  # fmt: skip


def _shown_today(visit: Visit, session: Session, point: int) -> dict[str, Any]:
    rows, beside = tuple(_rows_read(session, point)), beside_on_lines(session, point)
    return {"rows": rows, "beside": beside, **_shown(visit, session, point, visit.today)}


def support_page_as_of(visit: Visit, session: Session, tag: str, then: date) -> Response:
    """Return the page of a support as it stood at the end of a day."""
    shown = remembered(
        visit, session, ("support then", tag, then, visit.language),
        lambda: _shown_then(visit, session, tag, then),
    )  # fmt: skip
    return visit.page(
        "support.html.jinja", asked_by=tag, rows=(), beside=(), papers=(), then=then, **shown
    )


def _shown_then(visit: Visit, session: Session, tag: str, then: date) -> dict[str, Any]:
    """Play the whole trail: rules look at neighbours, lines and limits beside the support's own."""
    with register_as_of(session, end_of_day(session, then)) as past:
        return _shown(visit, past, point_of(past, tag), then)


def _shown(visit: Visit, session: Session, point: int, day: date) -> dict[str, Any]:
    (one,) = judged_supports(session, [point], day)
    made = end_of_day(session, day).replace(microsecond=0)
    wanted = Wanted((one.support.tag,), Path(), made, language=visit.language)
    sheet = sheet_of(session, one, wanted, sources=False)
    blocks = unknown_said(support_blocks(sheet, visit.say), visit.say)
    name_of, contents = anchored(blocks)
    return {
        "support": one.support,
        "title": title_of(one.support, visit.say),
        "blocks": blocks,
        "anchor_of": name_of,
        "contents": contents,
        "springs": any(unit.kind.is_spring for unit in one.support.units),
    }


def _rows_read(session: Session, point: int) -> Iterator[RowRead]:
    rows = list(rows_at(session, point))
    found = origins_of_rows(session, ((table, row) for _, table, row in rows))
    for words, table, row in rows:
        if origins := tuple(found[table, row]):
            yield RowRead(words, table, row, origins)
