"""Supports and their units, as data and as lines."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy.orm import Session

from app.answers import Answer
from app.shapes import SupportShown, UnitHistory
from app.tables import reading_words, setting_words, source_lines, support_page, support_table
from app.words import tag_and_position
from supports.queries.lookups import line_of, point_of, unit_of
from supports.queries.provenance import origins_at
from supports.queries.support_views import points_on_lines, support_views
from supports.queries.unit_history import readings_of, settings_of, units_marked
from supports.snapshots import SupportView


def supports_listed(session: Session, line: str = "") -> Answer:
    """Return all supports by tag, or those of a line in order along it."""
    views = supports_on(session, line) if line else tuple(support_views(session))
    return Answer(views, support_table(views))


def supports_on(session: Session, line: str) -> tuple[SupportView, ...]:
    """Return the supports of a line in order along it."""
    number = line_of(session, line).number
    views = support_views(session, points_on_lines(session, [number]))
    return tuple(sorted(views, key=lambda view: view.order_on(number)))


def supports_at(session: Session, points: Sequence[int]) -> tuple[SupportView, ...]:
    """Return supports in the order of their points."""
    places = {point: place for place, point in enumerate(points)}
    views = support_views(session, points)
    return tuple(sorted(views, key=lambda view: places[view.id]))


def support_shown(session: Session, tag: str, *, sources: bool = False) -> Answer:
    """Return all that is known of a support; `sources` says where each value was read."""
    point = point_of(session, tag_and_position(tag)[0])
    (view,) = support_views(session, [point])
    origins = tuple(origins_at(session, point)) if sources else ()
    shown = SupportShown(view, tuple(value for _, value in origins))
    return Answer(shown, (*support_page(view), *source_lines(origins)))


def unit_history(session: Session, tag: str) -> Answer:
    """Return every setting and reading of the unit at a support ('PS-12/B'), oldest first."""
    unit = unit_of(session, *tag_and_position(tag))
    settings = settings_of(session, [unit.id]).get(unit.id, [])
    readings = readings_of(session, [unit.id]).get(unit.id, [])
    scale, pointer = units_marked(session, unit.id)
    events = [(s.happened_on, setting_words(s, scale)) for s in settings]
    events += [(r.read_on, reading_words(r, scale, pointer)) for r in readings]
    lines = [f"  {day}  {words}" for day, words in sorted(events)]
    return Answer(
        UnitHistory(tag, unit.serial or "", tuple(settings), tuple(readings)),
        (f"unit {unit.serial or 'without serial'} at {tag}", *lines),
    )
