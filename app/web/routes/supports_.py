"""The register as a list of supports: asked, sorted, paged, kept as questions, written out."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Query
from sqlalchemy.orm import Session
from starlette.responses import RedirectResponse, Response

from app.question_papers import write_answer
from app.web.asked import Asked, Found, address_of, answered, filter_of
from app.web.memory import remembered
from app.web.routes.papers import download
from app.web.visits import Form, Signed, Visit
from supports.findings import Severity
from supports.operations.rule_runs import save_question
from supports.queries.questions import answer_question, saved_questions
from supports.queries.register_list import (
    SORTS,
    Page,
    Place,
    count_listed,
    list_choices,
    listed_page,
)
from supports.queries.site import plant_name
from supports.rules.catalogue import RULES
from supports.rules.questions import Question
from supports.vocabulary import SupportKind, Verdict

router = APIRouter()

Place_ = Annotated[list[str] | None, Query()]


@router.get("/supports")
def supports(
    visit: Signed, asked: Asked, sort: str = "tag", falling: bool = False, after: Place_ = None,
    before: Place_ = None, tag: str = "",
) -> Response:  # fmt: skip
    """Show a page of the list; a tag leads straight to its support."""
    if tag.strip():
        return RedirectResponse(f"/supports/{quote(tag.strip(), safe='')}", 303)
    sort = sort if sort in SORTS else "tag"
    places = Place.of(after), Place.of(before)
    with visit.reading() as session:
        if asked.asks_rules:
            page, count, found = _by_rules(visit, session, asked, places)
            sort, falling = "", False
        else:
            only = filter_of(asked)
            page = listed_page(
                session, only, sort, falling=falling, after=places[0], before=places[1]
            )
            count = remembered(visit, session, only, lambda: count_listed(session, only))
            found = {}
        choices = remembered(visit, session, "choices", lambda: list_choices(session))
        return visit.page(
            "supports.html.jinja", page=page, count=count, found=found, asked=asked, sort=sort,
            falling=falling, choices=choices, kinds=tuple(map(str, SupportKind)),
            verdicts=tuple(map(str, Verdict)), severities=tuple(map(str, Severity)),
            rules=[rule.id for rule in RULES], saved=sorted(saved_questions(session)),
            query=visit.request.url.query, typed=visit.request.query_params,
        )  # fmt: skip


def _by_rules(
    visit: Visit, session: Session, asked: Question, places: tuple[Place | None, Place | None]
) -> tuple[Page, int, dict[str, Found]]:
    answer = answered(visit, session, asked)
    return answer.page(session, *places), len(answer.tags), answer.found


@router.get("/supports-as-workbook")
def as_workbook(visit: Signed, asked: Asked) -> Response:
    """Give all that the list is asked for as a workbook, with what the rules find."""
    with TemporaryDirectory() as folder, visit.reading() as session:
        table = answer_question(session, asked, visit.today)
        path = Path(folder) / f"supports-{visit.today}.xlsx"
        write_answer(table, asked, "", plant_name(session), path, visit.clock)
        return download(path.read_bytes(), path.name)


@router.get("/saved-questions/{name:path}")
def saved_question(visit: Signed, name: str) -> Response:
    """Lead to the list as a question kept by name asks for it."""
    with visit.reading() as session:
        kept = saved_questions(session)
    if name not in kept:
        return RedirectResponse("/supports", 303)
    return RedirectResponse(address_of(kept[name]), 303)


@router.post("/saved-questions")
def keep_question(visit: Signed, asked: Asked, form: Form) -> Response:
    """Keep what the list is asked for under a name."""
    name = str(form.get("name", ""))
    save_question(visit.register, name, asked.as_words, acting=visit.acting, now=visit.now)
    return RedirectResponse(address_of(asked), 303)
