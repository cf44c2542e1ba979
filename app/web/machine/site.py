"""What stands on site, for programs: travel stops, start-up, walkdowns, findings, rules, record."""

from __future__ import annotations

from datetime import datetime, time
from typing import Annotated

from fastapi import APIRouter, Query
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.json_shapes import SHAPES
from app.looked_up.record import batches_after, refusals
from app.looked_up.rules import found_now
from app.looked_up.site import pins_counted, start_up_answered
from app.past import as_of_day
from app.shapes import FindingsNow
from app.shapes_of_machine import MACHINE_SHAPES
from app.walkdown_tables import campaign_shown, coverage_shown, findings_shown
from app.web.machine.answering import PREFIX, Looker, PageWanted, answer, page, paged
from app.web.machine.asked import LONGEST, Day, Number, OnLine, Words
from app.web.machine.described import gives
from app.web.memory import remembered
from supports.errors import BadInput
from supports.findings import Severity
from supports.queries.audit_head import audit_head
from supports.queries.walkdowns.lookups import campaign_rows
from supports.sentences import joined

router = APIRouter(prefix=PREFIX, tags=["site"])


@router.get("/travel-stops", **gives(SHAPES["stops count"]))
def travel_stops(visit: Looker, line: OnLine = "") -> Response:
    """List the travel stops that are in."""
    with visit.reading() as session:
        return answer(visit, pins_counted(session, line).data)


@router.get("/start-up", **gives(SHAPES["stops start-up"]))
def start_up(visit: Looker, line: OnLine = "") -> Response:
    """Answer 'may we start up?' as far as pipe supports are concerned; operations decide."""
    with visit.reading() as session:
        return answer(visit, start_up_answered(session, visit.now, line.strip()).data)


@router.get("/walkdowns", **gives(SHAPES["walkdown list"], pages=True))
def walkdowns(visit: Looker, wanted: PageWanted) -> Response:
    """List campaigns, the newest first."""
    with visit.reading() as session:
        return paged(visit, campaign_rows(session), wanted, lambda one: one.number)


@router.get("/walkdowns/coverage", **gives(SHAPES["walkdown coverage"]))
def coverage(visit: Looker) -> Response:
    """Count supports seen, never seen and overdue, area by area; the last is the whole plant."""
    with visit.reading() as session:
        return answer(visit, coverage_shown(session, visit.today, every=False).data)


@router.get("/walkdowns/{number}", **gives(SHAPES["walkdown show"]))
def walkdown(visit: Looker, number: Number) -> Response:
    """Show a campaign row by row, with what stands in the way of signing it off."""
    with visit.reading() as session:
        return answer(visit, campaign_shown(session, number, visit.today).data)


@router.get("/findings", **gives(SHAPES["walkdown findings"], pages=True))
def findings(
    visit: Looker, wanted: PageWanted,
    campaign: Annotated[str, Query(max_length=LONGEST, description="Campaign or finding.")] = "",
    overdue: Annotated[bool, Query(description="Only those whose day has passed.")] = False,
    still_open: Annotated[bool, Query(description="Only those not at an end.")] = False,
) -> Response:  # fmt: skip
    """List findings of walkdowns, with their owner, their day and where they stand."""
    today = visit.today
    with visit.reading() as session:
        held = findings_shown(session, campaign, today, overdue=overdue, open_only=still_open).data
    return paged(visit, held, wanted, lambda one: one.number)


@router.get("/rules/findings", **gives(MACHINE_SHAPES["rules found"], pages=True))
def rules(
    visit: Looker, wanted: PageWanted, rule: Words = "", severity: Words = "",
    unjudged: Annotated[bool, Query(description="What cannot be judged instead.")] = False,
) -> Response:  # fmt: skip
    """List what the rules find now, accepted findings among them."""
    grave = severity.strip().upper()
    if grave and grave not in set(Severity):
        raise BadInput("the severity is not known", found=severity, expected=joined(Severity, ", "))
    with visit.reading() as session:
        found = remembered(
            visit, session, ("rules found", rule, grave, unjudged),
            lambda: _found(visit, session, rule, grave, unjudged=unjudged),
        )  # fmt: skip
    return paged(visit, found.findings, wanted, lambda one: f"{one.found.rule} {one.found.name}")


def _found(
    visit: Looker, session: Session, rule: str, severity: str, *, unjudged: bool
) -> FindingsNow:
    today = visit.today
    found: FindingsNow = found_now(
        session, today, rule=rule, severity=severity, unjudged=unjudged
    ).data
    return found


@router.get("/record/batches", **gives(SHAPES["audit show"], pages=True))
def record(visit: Looker, wanted: PageWanted) -> Response:
    """List what was written, oldest first; `after` is the number of a batch."""
    if wanted.after and not (wanted.after.isascii() and wanted.after.isdigit()):
        raise BadInput("a batch has a number", where="after", found=f"'{wanted.after}'")
    with visit.reading() as session:
        newest = audit_head(session).batch
        first = min(int(wanted.after or 0), newest)
        found = batches_after(session, first, wanted.limit)
    last = found[-1].number if found else newest
    return page(visit, found, str(last) if last < newest else None, newest)


@router.get("/record/refusals", **gives(SHAPES["audit refused"], pages=True))
def refused(visit: Looker, wanted: PageWanted) -> Response:
    """List what was asked for and refused, oldest first."""
    with visit.reading() as session:
        return paged(visit, refusals(session).data, wanted)


@router.get("/as-of/{day}", **gives(SHAPES["audit as-of"]))
def as_of(
    visit: Looker, day: Day, support: Words = "", line: Words = "", change: Words = ""
) -> Response:
    """Show a support, the supports of a line, or a change, as known at the end of a day."""
    with visit.reading() as session:
        about = (support, line, change)
        return answer(visit, as_of_day(session, datetime.combine(day, time.max), about).data)
