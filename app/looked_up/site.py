"""Travel stops, the start-up question and changes in a list, as data and as lines."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import datetime

from sqlalchemy.orm import Session

from app.answers import Answer
from app.fitting import table
from app.shapes import ChangeRow, StartUpAnswer
from supports.queries.change_views import change_numbers
from supports.queries.lookups import line_of
from supports.queries.start_up import start_up_of
from supports.queries.stops import pins_in
from supports.rules.workflow.start_up import StartUp
from supports.tags import natural_key
from supports.vocabulary import counted


def pins_counted(session: Session, line: str = "") -> Answer:
    """Return the travel stops that are in, with unit, person and reason, counted by line."""
    pins = [pin for pin in pins_in(session) if not line or line in pin.lines]
    counts = Counter(number for pin in pins for number in pin.lines)
    by_line = sorted(counts.items(), key=lambda each: natural_key(each[0]))
    lines = (
        *(f"  {pin} on {', '.join(pin.lines) or 'no line'}" for pin in pins),
        *(f"  {number}: {total}" for number, total in by_line),
        f"{len(pins)} travel stops are in.",
    )
    return Answer(tuple(pins), lines)


def start_up_answered(
    session: Session, now: datetime, line: str = "", *, every: bool = False
) -> Answer:
    """Answer 'may we start up?' for a line, or for the plant where none is named."""
    number = line_of(session, line).number if line else ""
    answer = start_up_of(session, now, number)
    data = StartUpAnswer(str(answer.answer), answer)
    return Answer(data, tuple(start_up_lines(answer, every=every)))


def start_up_lines(answer: StartUp, *, every: bool) -> Iterator[str]:
    """Return the answer as lines: what forbids it, what is not known, and the counts."""
    yield f"May {answer.where} start up, as far as pipe supports are concerned? {answer.answer}"
    yield from (f"  no: {blocker}" for blocker in answer.blockers)
    shown = answer.missing if every else answer.missing[:10]
    yield from (f"  not known: {missing}" for missing in shown)
    if len(answer.missing) > len(shown):
        yield f"  and {len(answer.missing) - len(shown)} more not known; see them with --every"
    yield (
        f"{counted(answer.supports, 'support')}, {counted(answer.stops_in, 'travel stop')} "
        f"and {counted(answer.props_in, 'prop')} in, "
        f"{counted(len(answer.blockers), 'blocker')}, {len(answer.missing)} not known. "
        "Operations decide, by local procedure."
    )


def changes_listed(session: Session) -> Answer:
    """Return all changes and where they stand."""
    rows = tuple(ChangeRow(*row) for row in change_numbers(session))
    cells = [(one.number, one.state, one.title) for one in rows]
    return Answer(rows, table(cells, ("change", "stands at", "title")))
