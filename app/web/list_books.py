"""What a list shows, as a workbook to be kept."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from starlette.responses import Response

from app.web.routes.papers import download
from app.web.visits import Visit
from reports.contents.common import PageSize, PaperHead
from reports.xlsx.book import Book, Cell, Column
from supports.freezing import fingerprint, short
from supports.plant_time import Zone, clock_words

WORKBOOK = "workbook"
"""What an address asks for under `form` where it wants the list as a workbook."""
ROWS_AT_MOST = 100_000
"""Rows of a workbook; a spreadsheet takes little more."""
_WIDTHS = (10.0, 48.0)


def list_book(
    visit: Visit, title: str, headings: Sequence[str], rows: Sequence[Sequence[Cell | date]]
) -> Response:
    """Return a list as a workbook: its rows, and beside them what it was asked for."""
    table = [[_plain(value, visit.register.zone) for value in row] for row in rows[:ROWS_AT_MOST]]
    asked = [
        [name, value]
        for name, value in visit.request.query_params.multi_items()
        if value and name not in {"form", "older", "newer", "start", "after", "before"}
    ]
    head = PaperHead(
        title=title,
        number="-",
        about="; ".join(f"{name}: {value}" for name, value in asked) or visit.say("all"),
        revision="-",
        made=visit.clock,
        fingerprint=short(fingerprint([list(map(str, row)) for row in table])),
        valid_until=visit.say("the register changes"),
        plant=visit.plant,
    )
    book = Book(head, PageSize.A4)
    book.table("List", _columns(headings, table), table)
    name = "-".join(title.lower().split())
    return download(book.finished(), f"{name}-{visit.today}.xlsx")


def _columns(headings: Sequence[str], rows: Sequence[Sequence[Cell]]) -> list[Column]:
    least, most = _WIDTHS
    found = []
    for place, heading in enumerate(headings):
        longest = max((len(str(row[place] or "")) for row in rows), default=0)
        found.append(Column(heading, min(max(len(heading) + 2.0, longest + 2.0, least), most)))
    return found


def _plain(value: Cell | date, zone: Zone) -> Cell:
    if isinstance(value, datetime):
        return clock_words(value, zone)
    return value.isoformat() if isinstance(value, date) else value
