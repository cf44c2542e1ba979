"""What the rules find: the last run, one rule, one support explained, and the limits they go by."""

from __future__ import annotations

from fastapi import APIRouter
from sqlalchemy.orm import Session
from starlette.responses import RedirectResponse, Response

from app.web.acts.asking import Said
from app.web.memory import remembered
from app.web.rule_tables import RunTable, limit_rows, run_table
from app.web.troubles import status_of
from app.web.visits import Form, Signed, Visit
from supports.errors import NotFound, SupportsError
from supports.operations.rule_runs import run_rules
from supports.operations.site import OF_THE_SITE, lay_down_time_zone
from supports.queries.explanations import explanations
from supports.queries.limits import laid_down
from supports.queries.rule_runs import acceptances, ask_register, run_by_number, runs
from supports.queries.site import zones_laid_down
from supports.rules.acceptances import Stood, stood
from supports.rules.catalogue import RULES, rule_of
from supports.rules.rule import Rule
from supports.rules.run import RuleCount, counts, found_in, sentences
from supports.rules.site_settings import limit_of
from supports.rules.wording import Explanation
from supports.tags import natural_key

router = APIRouter(prefix="/rules")

FINDINGS_SHOWN = 100
EXPLAINED = 40
RUNS_SHOWN = 20


@router.get("")
def last_run(visit: Signed, number: int = 0) -> Response:
    """Show what a run found, the newest unless another is named, and what is new since."""
    with visit.reading() as session:
        kept = runs(session)
        if number:
            run_by_number(session, number)
        shown = number or (kept[-1].id if kept else 0)
        table = _table(visit, session, shown) if shown else None
    return visit.page("rules.html.jinja", table=table, runs=kept[: -RUNS_SHOWN - 1 : -1])


def _table(visit: Visit, session: Session, number: int) -> RunTable:
    name = ("run of the rules", number)
    return remembered(visit, session, name, lambda: run_table(session, number))


@router.post("/runs")
def keep_run(visit: Signed, form: Form) -> Response:
    """Ask every rule and keep what it finds."""
    reason = str(form.get("reason", "")).strip()
    kept = run_rules(visit.register, acting=visit.acting, now=visit.now, reason=reason)
    return RedirectResponse(f"/rules?number={kept.id}", 303)


@router.get("/explained")
def explained(visit: Signed, name: str = "", every: bool = False) -> Response:
    """Explain every answer about one support, unit, line or change, gravest first."""
    name = name.strip()
    if not name:
        return RedirectResponse("/rules", 303)
    said: tuple[Explanation, ...] = ()
    trouble = None
    with visit.reading() as session:
        try:
            said = explanations(session, name, visit.today, every=every)
        except NotFound as error:
            trouble = error
    return visit.page(
        "explained.html.jinja", 404 if trouble else 200, name=name, said=said[:EXPLAINED],
        all_said=len(said), every=every, error=trouble, calm=not (said or trouble),
    )  # fmt: skip


@router.get("/limits")
def limits(visit: Signed, text: str = "") -> Response:
    """Show every limit that the rules go by, with where it is from, and the plant's clock."""
    return _limits(visit, text)


def _limits(
    visit: Visit, text: str = "", typed: Said | None = None, error: SupportsError | None = None
) -> Response:
    with visit.reading() as session:
        rows = limit_rows(session, visit.today)
        zones = zones_laid_down(session)
    wanted = text.strip().lower()
    kept = [one for one in rows if wanted in f"{one.limit.name} {one.limit.meaning}".lower()]
    return visit.page(
        "limits.html.jinja", status_of(error), rows=kept, text=text, zones=zones,
        may=bool(visit.roles & OF_THE_SITE), typed=typed or Said.empty(), error=error,
    )  # fmt: skip


@router.post("/time-zone")
def time_zone(visit: Signed, form: Form) -> Response:
    """Lay down the plant's time zone from today on; what was laid down stays on record."""
    said = Said(form)
    try:
        lay_down_time_zone(
            visit.register, said.text("zone"), reason=said.text("reason"), acting=visit.acting,
            now=visit.now,
        )  # fmt: skip
    except SupportsError as error:
        return _limits(visit, typed=said, error=error)
    return RedirectResponse("/rules/limits#clock", 303)


@router.get("/limits/{name}")
def limit(visit: Signed, name: str) -> Response:
    """Show all that was ever laid down for a limit, and which rules go by it."""
    one = limit_of(name)
    with visit.reading() as session:
        held = laid_down(session, name)
    asking = [rule for rule in RULES if name in rule.limits]
    return visit.page("limit.html.jinja", limit=one, held=held, rules=asking)


@router.get("/of/{number}")
def rule(visit: Signed, number: str, unjudged: bool = False) -> Response:
    """Show a rule with its words and what it finds now."""
    one = rule_of(number)
    with visit.reading() as session:
        rows, count = remembered(
            visit, session, ("rule", number), lambda: _found(visit, session, one)
        )
    kept = [row for row in rows if row[0].found.fails is not unjudged]
    return visit.page(
        "rule.html.jinja", rule=one, rows=kept[:FINDINGS_SHOWN], found=len(kept), count=count,
        unjudged=unjudged,
    )  # fmt: skip


def _found(visit: Visit, session: Session, one: Rule) -> tuple[list[tuple[Stood, str]], RuleCount]:
    today = visit.today
    asked = ask_register(session, today, rules=(one,))
    held = stood(found_in(asked.asked, asked.limits), acceptances(session, (one.id,)), today)
    said = sentences(asked.asked, asked.limits)
    ranked = sorted(held, key=lambda each: (each.found.severity.rank, natural_key(each.found.name)))
    (count,) = counts(asked.asked)
    return [(each, said(each.found)) for each in ranked], count
