"""Lines screened anew where their data changed, kept for the rules of the whole plant."""

from __future__ import annotations

from dataclasses import dataclass

from supports.database import Register
from supports.freezing import to_plain
from supports.model import LineScreening
from supports.operations.acting import Deed
from supports.queries.line_standings import stale
from supports.queries.route_views import route_view
from supports.rules.line.standing import LineStanding, line_standing


@dataclass(frozen=True, slots=True)
class Screened:
    """A line as screened, with the mark of the data it was done from."""

    line: int
    mark: str
    standing: LineStanding


def screened_anew(register: Register) -> tuple[Screened, ...]:
    """Screen every line with a route whose data are not those of its last screening.

    Done before anything is written, so that nobody waits for the writer: data that change meanwhile
    have another mark, and the screening is stale at once.
    """
    with register.reading() as session:
        return tuple(
            Screened(line, mark, line_standing(route_view(session, number)))
            for line, number, mark in stale(session)
        )


def keep_standings(act: Deed, screened: tuple[Screened, ...]) -> None:
    """Keep what was screened."""
    for one in screened:
        act.session.add(
            LineScreening(
                line_id=one.line,
                screened_at=act.now,
                screened_by=act.person.name,
                mark=one.mark,
                content=to_plain(one.standing),
            )
        )
    act.session.flush()
