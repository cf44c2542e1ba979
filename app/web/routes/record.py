"""The record: what was written, the history of a row, past days, what differs, the check."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Annotated
from urllib.parse import quote, urlencode

from fastapi import APIRouter, Depends, Query
from starlette.responses import RedirectResponse, Response

from app.web.asked import day_asked
from app.web.list_books import ROWS_AT_MOST, WORKBOOK, list_book
from app.web.memory import remembered
from app.web.record_pages import (
    DEPARTURES_SHOWN,
    About,
    Differs,
    asked_of_record,
    checked_record,
    differing,
    list_as_of,
    named,
)
from app.web.record_words import KINDS, field_in_words, value_in_words
from app.web.routes.support import support_page_as_of
from app.web.visits import Form, Signed, Visit
from supports.errors import NotFound
from supports.model import AuditBatch
from supports.queries.audit_head import audit_head
from supports.queries.record import (
    ROWS,
    BatchListed,
    batch_page,
    history_of_row,
    people_on_record,
    rows_of_batch,
)
from supports.queries.register_list import ListFilter, Place
from supports.sentences import Sentence

router = APIRouter(prefix="/record")

DIFFERENCES = 200
"""Differences of a page."""

Place_ = Annotated[list[str] | None, Query()]


def about_of(support: str = "", line: str = "", change: str = "") -> About:
    """Return what an address asks about."""
    return About(support.strip(), line.strip(), change.strip())


Asking = Annotated[About, Depends(about_of)]


@router.get("")
def record(
    visit: Signed, about: Asking, person: str = "", kind: str = "", since: str = "",
    until: str = "", older: int | None = None, newer: int | None = None, form: str = "",
) -> Response:  # fmt: skip
    """Show what was written, newest first, or give it as a workbook."""
    days = day_asked(since), day_asked(until)
    with visit.reading() as session:
        asked = asked_of_record(session, about, kind, person, days)
        if form == WORKBOOK:
            return _batches_book(visit, batch_page(session, asked, size=ROWS_AT_MOST).batches)
        page = batch_page(session, asked, older_than=older, newer_than=newer)
        people = remembered(visit, session, "people on record", lambda: people_on_record(session))
        return visit.page(
            "record.html.jinja", page=page, about=about, person=person, kind=kind, days=days,
            kinds=[*KINDS], people=people, head=audit_head(session),
            narrowing=_narrowing(about, kind),
        )  # fmt: skip


def _narrowing(about: About, kind: str) -> str:
    """Return what the page of a batch is asked for, so that it shows the same rows."""
    words = {"support": about.support, "line": about.line, "change": about.change, "kind": kind}
    said = urlencode({name: value for name, value in words.items() if value})
    return f"?{said}" if said else ""


def _batches_book(visit: Visit, batches: Sequence[BatchListed]) -> Response:
    say = visit.say
    headings = (
        say("Batch"),
        say("When"),
        say("Who"),
        say("What was done"),
        say("Why"),
        say("Rows"),
        say("Mark"),
    )
    rows = [
        (one.number, one.written_at, one.actor, one.action, one.reason, one.rows, one.mark)
        for one in batches
    ]
    return list_book(visit, visit.say("Record"), headings, rows)


@router.get("/batch/{number}")
def batch(visit: Signed, number: int, about: Asking, kind: str = "", behind: int = 0) -> Response:
    """Show the rows that one act wrote, each value before and after."""
    with visit.reading() as session:
        one = session.get(AuditBatch, number)
        if one is None:
            raise NotFound(Sentence("there is no batch {number} on record", number=str(number)))
        asked = asked_of_record(session, about, kind, "", (None, None))
        rows = rows_of_batch(session, number, asked, behind=behind)
        return visit.page(
            "record_batch.html.jinja", batch=one, rows=rows[:ROWS], about=about,
            behind=rows[ROWS - 1].entry if len(rows) > ROWS else None, narrowed=bool(about or kind),
        )  # fmt: skip


@router.get("/row/{table}/{row}")
def row_history(visit: Signed, table: str, row: int, field: str = "") -> Response:
    """Show every write of a row, or of one of its fields."""
    with visit.reading() as session:
        written = history_of_row(session, table, row, field)
    if not written:
        raise NotFound("nothing is on record of this", found=f"{table} {row} {field}".strip())
    return visit.page("record_row.html.jinja", rows=written, table=table, row=row, field=field)


@router.get("/day")
def day(
    visit: Signed, day: str = "", area: str = "", line: str = "", kind: str = "", text: str = "",
    after: Place_ = None, before: Place_ = None, tag: str = "",
) -> Response:  # fmt: skip
    """Show the list of supports as it stood at the end of a day; a tag leads to its support."""
    then = day_asked(day) or visit.today
    if tag.strip():
        return RedirectResponse(f"/record/day/{then}/{quote(tag.strip(), safe='')}", 303)
    asked = ListFilter(area.strip(), line.strip(), kind, "", text.strip())
    places = Place.of(after), Place.of(before)
    with visit.reading() as session:
        page, count = remembered(
            visit, session, ("as of", then, asked, places),
            lambda: list_as_of(session, then, asked, places),
        )  # fmt: skip
    return visit.page("record_day.html.jinja", page=page, count=count, then=then, asked=asked)


@router.get("/day/{then}/{tag:path}")
def support_then(visit: Signed, then: date, tag: str) -> Response:
    """Show a support as it stood at the end of a day."""
    with visit.reading() as session:
        return support_page_as_of(visit, session, tag, then)


@router.get("/between")
def between(
    visit: Signed, about: Asking, since: str = "", until: str = "", start: int = 0,
    form: str = "",
) -> Response:  # fmt: skip
    """Show what says something else at the end of one day than at the end of another."""
    days = day_asked(since), day_asked(until) or visit.today
    with visit.reading() as session:
        found = None
        if days[0] is not None:
            first, last = days[0], days[1]
            found = remembered(
                visit, session, ("between", first, last, about),
                lambda: differing(session, first, last, about),
            )  # fmt: skip
        if form == WORKBOOK:
            return _differences_book(visit, named(session, (found or [])[:ROWS_AT_MOST]))
        start = max(start, 0)
        shown = named(session, (found or [])[start : start + DIFFERENCES])
    return visit.page(
        "record_between.html.jinja", shown=shown, count=None if found is None else len(found),
        days=days, about=about, start=start, size=DIFFERENCES,
    )  # fmt: skip


def _differences_book(visit: Visit, found: Sequence[Differs]) -> Response:
    say = visit.say
    headings = (
        say("About"),
        say("Row"),
        say("Field"),
        say("Before"),
        say("After"),
        say("Who"),
        say("When"),
    )
    rows = [
        (each.about, f"{field_in_words(each.one.row[0])} {each.one.row[1]}",
         field_in_words(each.one.field), value_in_words(each.one.before, each.one.field),
         value_in_words(each.one.after, each.one.field), each.one.last_by, each.one.last_at)
        for each in found
    ]  # fmt: skip
    title = visit.say("What became different between two days")
    return list_book(visit, title, headings, rows)


@router.get("/whole")
def whole(visit: Signed) -> Response:
    """Show the head of the record and offer to check all of it."""
    with visit.reading() as session:
        return visit.page("record_whole.html.jinja", head=audit_head(session), checked=None)


@router.post("/whole")
def check(visit: Signed, form: Form) -> Response:
    """Check the record anew: nothing is kept of an earlier check, which a forger would like."""
    with visit.reading() as session:
        checked = checked_record(session, rows=bool(form.get("rows")))
        return visit.page(
            "record_whole.html.jinja", head=checked.head, checked=checked, most=DEPARTURES_SHOWN
        )
