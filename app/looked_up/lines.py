"""Lines in space, screened, as data and as lines of text."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sqlalchemy.orm import Session

from app.answers import Answer
from app.line_shapes import line_checked, state_shown
from app.line_tables import STAMP, compared_lines, finding_lines, state_lines
from app.lines import chosen_aim, made_ready
from app.shapes_of_lines import StateShown
from supports.calc.line.solver import solve_states
from supports.errors import CannotCalculate
from supports.queries.route_views import route_view
from supports.queries.site import settings_in_force
from supports.rules.line import screening
from supports.rules.line.overview import overview
from supports.rules.line.screening import ReadyLine, Screening, beside_record, common_states
from supports.vocabulary import counted


def line_check(session: Session, number: str, today: date) -> Answer:
    """Return a line's route row by row, and whether its loads on record add up."""
    limit = settings_in_force(session, today).closure
    route = route_view(session, number)
    seen = overview(route, limit)
    nodes, pieces = counted(len(route.nodes), "node"), counted(len(route.elements), "piece")
    lines = (f"line {number}: {nodes}, {pieces}", *seen.facts, *finding_lines(seen.findings))
    return Answer(line_checked(number, route, seen), (*lines, seen.verdict))


def line_screening(
    session: Session, number: str, change: str = "", aim: str = "", only: Sequence[str] = ()
) -> tuple[ReadyLine, Screening]:
    """Return a line made ready, and screened with the weights of a change."""
    ready = made_ready(session, number, change)
    return ready, screening.screen(ready, chosen_aim(aim, ready), only)


def line_states(session: Session, number: str) -> Answer:
    """Return a line cold and empty, cold and full, operating, and under test with stops in."""
    ready = made_ready(session, number)
    lines, shown = [STAMP], []
    for state in common_states(ready):
        try:
            result = solve_states(ready.system, [state])[0]
            lines += state_lines(result)
            shown.append(state_shown(result))
        except CannotCalculate as error:
            lines.append(f"{state.name}: cannot be calculated: {error}")
            shown.append(StateShown(state.name, None, (), (), str(error)))
    return Answer(tuple(shown), lines)


def line_comparison(session: Session, number: str) -> Answer:
    """Return a line as it stands beside its calculation on record, support by support."""
    ready = made_ready(session, number)
    beside = beside_record(solve_states(ready.system, [ready.present])[0], ready.route)
    lines = list(compared_lines(beside))
    if all(one.theirs is None for one in beside):
        lines.append(f"line {number} has no calculation on record: nothing can be compared.")
    return Answer(tuple(beside), lines)
