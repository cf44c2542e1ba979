"""Walkdowns: planned, out, back, decided, judged and signed off; coverage of the plant."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter
from starlette.datastructures import UploadFile
from starlette.responses import RedirectResponse, Response

from app.cli.options import tag_and_position
from app.walkdown_returns import ComparedBox, compared_boxes, outcome_lines, take_file
from app.web.campaign_page import campaign_page
from app.web.coverage_page import coverage_page
from app.web.memory import remembered
from app.web.troubles import status_of
from app.web.visits import Form, Signed, Visit
from app.words import word
from supports.errors import BadInput, SupportsError
from supports.operations.walkdowns import campaigns as planning
from supports.operations.walkdowns import closing, findings, returns
from supports.operations.walkdowns.findings import SpokenFinding
from supports.queries.register_list import list_choices
from supports.queries.walkdowns.lookups import campaign_of, campaign_rows, form_of
from supports.queries.walkdowns.rows import copy_held
from supports.queries.walkdowns.scope import Scope
from supports.rules.walkdown.words import OPERATING_STATES, SHUT_DOWN_STATES, HowSoon
from supports.sentences import joined
from supports.vocabulary import PlantState

router = APIRouter(prefix="/walkdowns")

Act = Callable[[dict[str, Any]], object]
"""What is done, once it is told who acts and when."""

STATES = sorted(str(one) for one in OPERATING_STATES | SHUT_DOWN_STATES)


@router.get("")
def all_campaigns(visit: Signed) -> Response:
    """Show all campaigns, and the form to plan one."""
    return _all(visit)


def _all(visit: Visit, error: SupportsError | None = None, typed: Form | None = None) -> Response:
    with visit.reading() as session:
        rows, choices = campaign_rows(session), list_choices(session)
    return visit.page(
        "walkdowns.html.jinja", status_of(error), campaigns=rows, choices=choices,
        states=STATES, error=error, typed=typed or {},
    )  # fmt: skip


@router.post("")
def plan(visit: Signed, form: Form) -> Response:
    """Plan a campaign."""

    def said(name: str) -> str:
        return str(form.get(name, "")).strip()

    def several(name: str) -> tuple[str, ...]:
        return tuple(one.strip() for one in said(name).split(",") if one.strip())

    try:
        scope = Scope(
            lines=several("line"), areas=several("area"), classes=several("criticality"),
            change=said("change"), overdue=bool(said("overdue")),
            never_seen=bool(said("never_seen")), springs_only=bool(said("springs_only")),
            carried_from=said("carried_from"),
        )  # fmt: skip
        wanted = planning.CampaignPlan(
            said("title"), word(PlantState, said("state")), day_of(said("walk_on")), scope,
            said("reason"), said("pair"),
        )  # fmt: skip
        if not wanted.title:
            raise BadInput("the campaign has no title")
        number = planning.plan_campaign(visit.register, wanted, acting=visit.acting, now=visit.now)
    except SupportsError as error:
        return _all(visit, error, form)
    return to_campaign(number)


def day_of(text: str) -> date:
    """Read a day as browsers hand it in.

    Raises
    ------
    BadInput
        It is no day.
    """
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadInput("no day is named", found=f"'{text}'", expected="as 2031-05-04") from None


def to_campaign(number: str) -> Response:
    """Return the way to the page of a campaign."""
    return RedirectResponse(f"/walkdowns/{quote(number, safe='')}", 303)


@router.get("/coverage")
def coverage(visit: Signed) -> Response:
    """Show how much of the plant was seen, and what is overdue."""
    with visit.reading() as session:
        shown = remembered(visit, session, "coverage", lambda: coverage_page(session, visit.today))
    return visit.page("walk_coverage.html.jinja", shown=shown)


@router.get("/{number}")
def campaign(visit: Signed, number: str) -> Response:
    """Show a campaign."""
    return _one(visit, number)


def _one(
    visit: Visit, number: str, error: SupportsError | None = None, told: tuple[str, ...] = (),
    boxes: Sequence[ComparedBox] = (),
) -> Response:  # fmt: skip
    with visit.gathering() as session:
        shown = campaign_page(visit, session, campaign_of(session, number))
        return visit.page(
            "walkdown.html.jinja", status_of(error), shown=shown, number=number,
            error=error, told=told, boxes=boxes, how_soon=[str(one) for one in HowSoon],
        )  # fmt: skip


@router.post("/{number}/issue")
def issue(visit: Signed, number: str, _: Form) -> Response:
    """Issue the form as it stands now."""
    return _done(visit, number, lambda who: planning.issue_form(visit.register, number, **who))


@router.post("/{number}/take-along")
def take_along(visit: Signed, number: str, _: Form) -> Response:
    """Take the newest form out on the tablet in hand; a second press takes no second copy."""
    with visit.reading() as session:
        held = copy_held(session, form_of(session, campaign_of(session, number)), visit.acting)
    if held is None:
        planning.take_out(visit.register, number, visit.acting, acting=visit.acting, now=visit.now)
    return RedirectResponse(f"/tablet#take/walkdowns/{quote(number, safe='')}", 303)


@router.post("/{number}/out")
def out(visit: Signed, number: str, form: Form) -> Response:
    """Record that somebody takes a paper copy out."""
    holder = str(form.get("walker", "")).strip()
    return _done(
        visit, number, lambda who: planning.take_out(visit.register, number, holder, **who)
    )


@router.post("/{number}/return")
def take_back_form(visit: Signed, number: str, form: Form) -> Response:
    """Take a filled-in workbook back."""
    file = form.get("file")
    if not isinstance(file, UploadFile) or not file.filename:
        return _one(visit, number, BadInput("no workbook was handed in"))
    with TemporaryDirectory() as folder:
        path = Path(folder) / Path(file.filename).name
        path.write_bytes(file.file.read())
        try:
            outcome = take_file(
                visit.register, number, path, walker=str(form.get("walker", "")).strip(),
                acting=visit.acting, now=visit.now,
            )  # fmt: skip
        except SupportsError as error:
            return _one(visit, number, error)
    return _one(visit, number, told=tuple(outcome_lines(outcome)), boxes=compared_boxes(outcome))


@router.post("/{number}/choose")
def choose(visit: Signed, number: str, form: Form) -> Response:
    """Choose one walker's word where several differ."""
    place = tag_and_position(str(form.get("tag", "")))
    walker, reason = str(form.get("walker", "")), str(form.get("reason", ""))
    return _done(
        visit, number,
        lambda who: returns.choose_entry(
            visit.register, number, place, walker, reason=reason, **who
        ),
    )  # fmt: skip


@router.post("/{number}/tell")
def tell(visit: Signed, number: str, form: Form) -> Response:
    """Take down a finding in the visitor's own words."""
    tag, position = tag_and_position(str(form.get("tag", "")).strip())
    what = str(form.get("what", "")).strip()

    def telling(who: dict[str, Any]) -> None:
        if not what:
            raise BadInput("a finding says what is wrong")
        soon = word(HowSoon, str(form.get("how_soon", "")))
        spoken = SpokenFinding(tag, position, what, soon, str(form.get("told", "")).strip())
        findings.tell_finding(visit.register, number, spoken, **who)

    return _done(visit, number, telling)


@router.post("/{number}/step/{act}")
def step(visit: Signed, number: str, act: str, form: Form) -> Response:
    """Move a campaign on by one of its steps."""
    words = str(form.get("words", ""))
    lost = [str(name) for name in form.getlist("lost")]
    steps = {
        "read-in": lambda who: returns.read_in(visit.register, number, lost=lost, **who),
        "take-back": lambda who: returns.take_back(visit.register, number, reason=words, **who),
        "review": lambda who: returns.review(visit.register, number, **who),
        "judge": lambda who: findings.raise_findings(visit.register, number, **who),
        "owners-named": lambda who: closing.owners_named(visit.register, number, **who),
        "give-verdict": lambda who: closing.give_verdict(visit.register, number, words, **who),
        "sign-off": lambda who: closing.sign_off(visit.register, number, **who),
    }
    if act not in steps:
        raise BadInput("a campaign has no such step", found=act, expected=joined(steps, ", "))
    return _done(visit, number, steps[act])


def _done(visit: Visit, number: str, act: Act) -> Response:
    """Do something, and show the campaign: as it is now, or with what stood in the way."""
    try:
        act({"acting": visit.acting, "now": visit.now})
    except SupportsError as error:
        return _one(visit, number, error)
    return to_campaign(number)
