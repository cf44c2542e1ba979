"""The register of a past day, and what became different since, as lines of text."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from sqlalchemy.orm import Session

from app.answers import Answer
from app.change_pages import change_shown
from app.shapes import AsOf
from app.tables import support_page, support_table
from supports.errors import BadInput
from supports.queries.as_of import register_as_of
from supports.queries.differences import RowName, differences, rows_of_line, rows_of_point
from supports.queries.history import rows_of_change
from supports.queries.lookups import change_of, line_of, point_of
from supports.queries.plant_days import day_at
from supports.queries.support_views import points_on_lines, support_views
from supports.sentences import joined
from supports.snapshots import SupportView

About = tuple[str, str, str]
"""Support, line and change; at most one of them is named."""


def as_of_day(session: Session, moment: datetime, about: About) -> Answer:
    """Return a support, a line or a change as the register knew it at a moment.

    Raises
    ------
    BadInput
        Not exactly one of support, line and change is named.
    NotFound
        It was not in the register then.
    """
    support, line, change = about
    if sum(bool(name) for name in about) != 1:
        raise BadInput(
            "what is to be shown",
            expected="one of --support, --line and --change",
            found=joined((name for name in about if name), ", ") or "none",
        )
    day = day_at(session, moment)
    heading = f"As of the end of {day}:"
    with register_as_of(session, moment) as then:
        if change:
            shown = change_shown(then, change_of(then, change).number, moment)
            return Answer(AsOf(day, (), shown.data), (heading, *shown.lines))
        if line:
            views = _on_line(then, line_of(then, line).number)
            return Answer(AsOf(day, views, None), (heading, *support_table(views)))
        views = tuple(support_views(then, [point_of(then, support)]))
        pages = (row for view in views for row in support_page(view))
        return Answer(AsOf(day, views, None), (heading, *pages))


def _on_line(then: Session, number: str) -> tuple[SupportView, ...]:
    views = support_views(then, points_on_lines(then, [number]))
    return tuple(sorted(views, key=lambda view: view.order_on(number)))


def differences_between(
    session: Session, moments: tuple[datetime, datetime], about: About
) -> Answer:
    """Return what differs between two moments, and count it."""
    since, until = moments
    if until < since:
        raise BadInput("the second day is before the first", found=f"{day_at(session, until)}")
    rows = None if not any(about) else set(_rows(session, about))
    found = differences(session, since, until, rows)
    ends = f"the ends of {day_at(session, since)} and {day_at(session, until)}"
    lines = (*map(str, found), f"{len(found)} fields differ between {ends}.")
    return Answer(tuple(found), lines)


def _rows(session: Session, about: About) -> Iterable[RowName]:
    support, line, change = about
    if support:
        yield from rows_of_point(session, point_of(session, support))
    if line:
        yield from rows_of_line(session, line_of(session, line))
    if change:
        yield from rows_of_change(session, change_of(session, change))
