"""Lines for programs: the list, their supports, the screening calculation, what rules say."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from app.json_shapes import SHAPES
from app.line_shapes import line_screened
from app.looked_up.lines import line_check, line_comparison, line_screening, line_states
from app.looked_up.supports import supports_on
from app.shapes_of_machine import MACHINE_SHAPES
from app.web.machine.answering import PREFIX, Looker, PageWanted, answer, paged
from app.web.machine.asked import Line, OfChange, Words
from app.web.machine.described import gives
from supports.queries.explanations import explanations
from supports.queries.line_list import listed_lines
from supports.queries.lookups import line_of

router = APIRouter(prefix=PREFIX, tags=["lines"])

_Aim = Annotated[
    str, Query(max_length=80, description="What the new loads are to achieve; no default "
                                          "where weight is added.")
]  # fmt: skip
_Only = Annotated[
    list[str] | None, Query(max_length=50, description="Springs that may be re-set; all if none.")
]


@router.get("/lines", **gives(MACHINE_SHAPES["line list"], pages=True))
def lines(visit: Looker, wanted: PageWanted, text: Words = "", area: Words = "") -> Response:
    """List lines by number, with how many supports hold each and whether it has a route."""
    with visit.reading() as session:
        found = listed_lines(session, text.strip(), area)
    return paged(visit, found, wanted, lambda one: one.number)


@router.get("/lines/{number:path}/supports", **gives(SHAPES["support list"]))
def supports(visit: Looker, number: Line) -> Response:
    """List the supports of a line in order along it."""
    with visit.reading() as session:
        return answer(visit, supports_on(session, number))


@router.get("/lines/{number:path}/check", **gives(SHAPES["line check"]))
def check(visit: Looker, number: Line) -> Response:
    """Check a line's route, and whether its loads on record add up."""
    with visit.reading() as session:
        number = line_of(session, number).number
        return answer(visit, line_check(session, number, visit.today).data)


@router.get("/lines/{number:path}/screening", **gives(SHAPES["line screen"]))
def screened(
    visit: Looker, number: Line, change: OfChange = "", aim: _Aim = "", only: _Only = None
) -> Response:
    """Screen a line: loads before, with a change's weight added and nothing re-set, as planned."""
    with visit.reading() as session:
        number = line_of(session, number).number
        _, told = line_screening(session, number, change, aim, only or ())
    return answer(visit, line_screened(number, told, ()))


@router.get("/lines/{number:path}/states", **gives(SHAPES["line states"]))
def states(visit: Looker, number: Line) -> Response:
    """Show a line cold and empty, cold and full, operating, and under test with stops in."""
    with visit.reading() as session:
        return answer(visit, line_states(session, line_of(session, number).number).data)


@router.get("/lines/{number:path}/comparison", **gives(SHAPES["line compare"]))
def comparison(visit: Looker, number: Line) -> Response:
    """Hold a line as it stands against its calculation on record, support by support."""
    with visit.reading() as session:
        return answer(visit, line_comparison(session, line_of(session, number).number).data)


@router.get("/lines/{number:path}/rules", **gives(SHAPES["rules explain"]))
def rules(
    visit: Looker, number: Line,
    every: Annotated[bool, Query(description="Answers that pass too.")] = False,
) -> Response:  # fmt: skip
    """Explain what the rules say of a line, gravest first."""
    with visit.reading() as session:
        number = line_of(session, number).number
        return answer(visit, explanations(session, number, visit.today, every=every))
