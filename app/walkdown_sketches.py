"""Lines of a walkdown drawn in space, each support with its number in walking order."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy.orm import Session

from reports.contents.drawn_route import drawn_route
from reports.contents.walkdown_package import Sketch
from reports.drawings.as_svg import as_svg
from reports.drawings.isometric import Room, isometric
from reports.languages import IN_ENGLISH, Texts
from supports.errors import CannotCalculate, InputHasFaults, NotReady
from supports.queries.route_views import route_view
from supports.rules.line.build import built_line
from supports.rules.walkdown.form import FormContent, FormRow

SHEET = Room("walkdown sheet", 264.0, 138.0)
"""What a landscape sheet leaves beneath the line's heading [mm]."""


def sketches(session: Session, form: FormContent, say: Texts = IN_ENGLISH) -> dict[str, Sketch]:
    """Return the lines that have a route on record, drawn as it stands now, by number."""
    drawn = {
        line.number: _sketch(
            session, line.number, [row for row in form.rows if row.line == line.number], say
        )
        for line in form.lines
    }
    return {number: one for number, one in drawn.items() if one is not None}


def _sketch(session: Session, number: str, rows: Iterable[FormRow], say: Texts) -> Sketch | None:
    try:
        view = route_view(session, number)
        built = built_line(view)
    except (NotReady, CannotCalculate, InputHasFaults):
        return None
    drawing, _ = isometric(drawn_route(view, built, (), _numbers(rows, say)), say, (SHEET,))
    return Sketch(as_svg(drawing).decode(), drawing.told)


def _numbers(rows: Iterable[FormRow], say: Texts) -> dict[str, tuple[str, ...]]:
    """Return the numbers in walking order by tag."""
    found: dict[str, list[str]] = {}
    for row in rows:
        found.setdefault(row.tag.partition("/")[0], []).append(str(row.order))
    return {
        tag: (say("no. {number}", number=", ".join(numbers)),) for tag, numbers in found.items()
    }
