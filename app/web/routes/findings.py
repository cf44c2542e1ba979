"""Findings of walkdowns: whose, until when, and step by step to their end."""

from __future__ import annotations

from urllib.parse import quote

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from app.web.list_books import WORKBOOK, list_book
from app.web.routes.walkdowns import Act, day_of
from app.web.troubles import status_of
from app.web.visits import Form, Signed, Visit
from supports.errors import BadInput, NotFound, SupportsError
from supports.operations.walkdowns import findings as steps
from supports.queries.people import people_with_roles
from supports.queries.walkdowns.findings import finding_views
from supports.queries.walkdowns.lookups import finding_of
from supports.rules.walkdown.findings import FindingView
from supports.rules.walkdown.flow import FINDING_STEPS, open_steps
from supports.sentences import joined

router = APIRouter(prefix="/findings")

SHOWN = ("open", "overdue", "without owner", "all")
"""Which findings a page lists."""


@router.get("")
def all_findings(visit: Signed, shown: str = "open", owner: str = "", form: str = "") -> Response:
    """Show findings, those overdue first, or give them as a workbook."""
    shown = shown if shown in SHOWN else "open"
    today = visit.today
    with visit.reading() as session:
        every = finding_views(session)
    kept = [one for one in every if _is_shown(one, shown, visit) and owner in {"", one.owner}]
    kept.sort(key=lambda one: (not one.overdue(today), one.due_on is None, one.due_on, one.number))
    if form == WORKBOOK:
        return _as_workbook(visit, kept)
    return visit.page(
        "findings.html.jinja", findings=kept, shown=shown, owner=owner, today=today,
        choices=SHOWN, owners=sorted({one.owner for one in every if one.owner}),
        late=sum(one.overdue(today) for one in every),
    )  # fmt: skip


def _as_workbook(visit: Visit, findings: list[FindingView]) -> Response:
    say = visit.say
    headings = (
        say("Number"),
        say("Severity"),
        say("Support"),
        say("What"),
        say("How soon"),
        say("Stands at"),
        say("Owner"),
        say("Due"),
    )
    rows = [
        (one.number, str(one.severity), one.tag, one.what, say.word(str(one.how_soon)),
         say.word(str(one.state)), one.owner, one.accepted_until or one.due_on)
        for one in findings
    ]  # fmt: skip
    return list_book(visit, say("Findings of walkdowns"), headings, rows)


def _is_shown(one: FindingView, shown: str, visit: Visit) -> bool:
    today = visit.today
    if shown == "overdue":
        return one.overdue(today)
    if shown == "without owner":
        return one.ownerless and one.wants_something(today)
    return shown == "all" or one.wants_something(today)


@router.get("/{number}")
def finding(visit: Signed, number: str) -> Response:
    """Show a finding with its steps and what may be done next."""
    return _one(visit, number)


def _one(visit: Visit, number: str, error: SupportsError | None = None) -> Response:
    with visit.reading() as session:
        finding_of(session, number)
        one = finding_views(session, number=number)[0]
        people = people_with_roles(session, visit.today)
    return visit.page(
        "finding.html.jinja", status_of(error), one=one, error=error, people=people,
        may=open_steps(FINDING_STEPS, one.state, visit.roles), today=visit.today,
    )  # fmt: skip


@router.post("/{number}/{act}")
def step(visit: Signed, number: str, act: str, form: Form) -> Response:
    """Take a finding on by one step."""
    said = {name: str(form.get(name, "")).strip() for name in ("words", "person", "day", "by")}
    words, register = said["words"], visit.register
    acts: dict[str, Act] = {
        "owner": lambda who: steps.name_owner(
            register, number, said["person"], day_of(said["day"]), **who
        ),
        "answer": lambda who: steps.answer(register, number, words, said["by"], **who),
        "done": lambda who: steps.done(register, number, words, day_of(said["day"]), **who),
        "verify": lambda who: steps.verify(register, number, words, **who),
        "not-mended": lambda who: steps.verify(register, number, words, mended=False, **who),
        "close": lambda who: steps.close_finding(register, number, **who),
        "accept": lambda who: steps.accept(register, number, day_of(said["day"]), words, **who),
    }
    if act not in acts:
        raise BadInput("a finding has no such step", found=act, expected=joined(acts, ", "))
    try:
        acts[act]({"acting": visit.acting, "now": visit.now})
    except NotFound:
        raise
    except SupportsError as error:
        return _one(visit, number, error)
    return RedirectResponse(f"/findings/{quote(number, safe='')}", 303)
