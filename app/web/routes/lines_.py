"""Lines: the list, one line drawn and judged, before and after a change, a weight moved along."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import orjson
from fastapi import APIRouter, Query
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.line_papers import screening_paper
from app.lines import chosen_aim, made_ready
from app.making.lines_ import summary_of
from app.making.wanted import Wanted
from app.readings import quantity
from app.web.list_books import WORKBOOK, list_book
from app.web.memory import remembered
from app.web.troubles import status_of
from app.web.visits import Signed, Visit
from reports.contents.blocks import Block
from reports.contents.line_summary import line_summary
from reports.contents.unknown import unknown_said
from reports.drawings.isometric import isometric
from reports.drawings.primitives import Drawing
from reports.drawings.straight import straight
from reports.html.document import anchored
from supports.calc.line.aims import Aim
from supports.errors import CannotCalculate, InputHasFaults, NotReady, SupportsError
from supports.queries.line_list import listed_lines
from supports.queries.lookups import line_of
from supports.queries.plant_standing import open_changes
from supports.queries.register_list import list_choices
from supports.queries.route_views import route_view
from supports.rules.line import screening
from supports.rules.line.moving_weight import MovingWeight, moving_weight
from supports.rules.line.words import CAUTION, verdict_words
from supports.units import Kind

router = APIRouter()

LINES = 200
"""Lines of a page."""


@router.get("/lines")
def lines(
    visit: Signed, text: str = "", area: str = "", form: str = "", after: str = ""
) -> Response:
    """Show a page of the lines of the plant, or give all of them as a workbook."""
    asked = text.strip()
    with visit.reading() as session:
        found, choices = remembered(
            visit, session, ("lines", asked, area),
            lambda: (listed_lines(session, asked, area), list_choices(session)),
        )  # fmt: skip
    if form == WORKBOOK:
        say = visit.say
        headings = (
            say("Number"),
            say("Service"),
            say("Area"),
            say("Nominal size"),
            say("Class"),
            say("Supports"),
            say("Route"),
        )
        rows = [
            (one.number, one.service, one.area, one.nominal_size, one.criticality, one.supports,
             visit.say("on record") if one.routed else visit.say("missing"))
            for one in found
        ]  # fmt: skip
        return list_book(visit, visit.say("Lines"), headings, rows)
    numbers = [one.number for one in found]
    first = numbers.index(after) + 1 if after in numbers else 0
    last = min(first + LINES, len(found))
    return visit.page(
        "lines.html.jinja", lines=found[first:last], count=len(found), text=text, area=area,
        choices=choices, first=first, after=numbers[last - 1] if last < len(found) else "",
    )  # fmt: skip


@router.get("/lines/{number:path}/weight")
def weight(
    visit: Signed, number: str, mass: str = "", along: str = "", station: int | None = None
) -> Response:
    """Show what a weight does wherever it is hung on the line."""
    with visit.gathering() as session:
        number = line_of(session, number).number
        route = route_view(session, number)
        kinds = {view.tag: str(view.kind) for view in route.supports}
    said, answer, error = mass or "500 kg", None, None
    try:
        answer = moving_weight(route, quantity(said, Kind.MASS) or 0.0)
        place = quantity(along, Kind.LENGTH) if along.strip() else None
    except SupportsError as trouble:
        error, place = trouble, None
    chosen = _chosen(answer, place, station)
    return visit.page(
        "weight.html.jinja", status_of(error), number=number, answer=answer, chosen=chosen,
        mass=said, error=error, kinds=kinds, caution=CAUTION,
        data=_as_data(answer) if answer else "",
    )  # fmt: skip


def _chosen(answer: MovingWeight | None, place: float | None, station: int | None) -> int:
    if answer is None:
        return 0
    if place is not None:
        return answer.nearest(place)
    last = len(answer.stations) - 1
    return min(max(last // 2 if station is None else station, 0), last)


def _as_data(answer: MovingWeight) -> str:
    """Return all stations for the script: places [m], loads [kN], sinks [mm], uses [%]."""
    bare = answer.without.loads
    return orjson.dumps(
        {
            "along": [round(one.along, 3) for one in answer.stations],
            "loads": [[round(v / 1e3, 2) for v in one.loads.values()] for one in answer.stations],
            "more": [
                [round((v - bare[tag]) / 1e3, 2) for tag, v in one.loads.items()]
                for one in answer.stations
            ],
            "sinks": [[round(v * 1e3, 1) for v in one.sinks.values()] for one in answer.stations],
            "uses": [
                [None if v is None else round(100.0 * v) for v in one.nozzles.values()]
                for one in answer.stations
            ],
            "changed": [list(one.changed) for one in answer.stations],
        }
    ).decode()


@router.get("/lines/{number:path}/change")
def through_change(
    visit: Signed, number: str, change: Annotated[str, Query()] = "", aim: str = ""
) -> Response:
    """Show a line before a change, with its weight added and nothing re-set, and as planned."""
    paper, words, error = None, "", None
    drawings: tuple[Drawing, ...] = ()
    with visit.gathering() as session:
        number = line_of(session, number).number
        changes = [one.number for one in open_changes(session)]
        try:
            if change:
                ready = made_ready(session, number, change)
                screened = screening.screen(ready, chosen_aim(aim, ready))
                paper = screening_paper(
                    session, (ready, screened), change, visit.now, visit.language
                )
                drawings = (
                    straight(paper.straight, say=visit.say),
                    isometric(paper.route, visit.say)[0],
                )
                words = verdict_words(screened)
        except SupportsError as trouble:
            error = trouble
    return visit.page(
        "line_change.html.jinja", status_of(error), number=number, change=change, aim=aim,
        changes=changes, aims=[(str(one), visit.say.word(str(one))) for one in Aim], paper=paper,
        drawings=drawings,
        words=words, error=error,
    )  # fmt: skip


@router.get("/lines/{number:path}")
def line(visit: Signed, number: str) -> Response:
    """Show a line: its data, drawn straight and in three axes, its supports, its nozzles."""
    with visit.gathering() as session:
        number = line_of(session, number).number
        blocks, can = remembered(
            visit, session, ("line", number, visit.language), lambda: _shown(visit, session, number)
        )
    name_of, contents = anchored(blocks)
    return visit.page(
        "line.html.jinja", number=number, blocks=blocks, anchor_of=name_of, contents=contents,
        can=can,
    )  # fmt: skip


def _shown(visit: Visit, session: Session, number: str) -> tuple[tuple[Block, ...], bool]:
    wanted = Wanted((number,), Path(), visit.now, language=visit.language)
    blocks = unknown_said(line_summary(summary_of(session, number, wanted), visit.say), visit.say)
    return blocks, _can_be_screened(session, number)


def _can_be_screened(session: Session, number: str) -> bool:
    try:
        made_ready(session, number)
    except (NotReady, CannotCalculate, InputHasFaults):
        return False
    return True
