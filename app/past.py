"""The register of a past day, and what became different since, as lines of text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, time

from sqlalchemy.orm import Session

from app.change_pages import change_page
from app.tables import support_page, support_row
from supports.errors import BadInput
from supports.queries.as_of import register_as_of
from supports.queries.differences import RowName, differences, rows_of_line, rows_of_point
from supports.queries.history import rows_of_change
from supports.queries.lookups import change_of, line_of, point_of
from supports.queries.support_views import points_on_lines, support_views
from supports.vocabulary import counted

About = tuple[str, str, str]
"""Support, line and change; at most one of them is named."""


def end_of(day: datetime) -> datetime:
    """Return the last moment of a day."""
    return datetime.combine(day.date(), time.max)


def page_as_of(session: Session, moment: datetime, about: About) -> Iterator[str]:
    """Return a support, a line or a change as lines, as the register knew it at a moment.

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
            "what is to be shown", expected="one of --support, --line and --change",
            found=", ".join(name for name in about if name) or "none",
        )  # fmt: skip
    yield f"As of the end of {moment:%Y-%m-%d}:"
    with register_as_of(session, moment) as then:
        if support:
            (view,) = support_views(then, [point_of(then, support)])
            yield from support_page(view)
        elif line:
            yield from _line(then, line)
        else:
            yield from change_page(then, change_of(then, change).number, moment)


def _line(then: Session, number: str) -> Iterator[str]:
    line = line_of(then, number)
    views = support_views(then, points_on_lines(then, [line.number]))
    for view in sorted(views, key=lambda view: view.order_on(line.number)):
        yield support_row(view)
    yield f"{counted(len(views), 'support')}."


def differences_page(
    session: Session, moments: tuple[datetime, datetime], about: About
) -> Iterator[str]:
    """Return what differs between two moments as lines, and count it."""
    since, until = moments
    if until < since:
        raise BadInput("the second day is before the first", found=f"{until:%Y-%m-%d}")
    rows = None if not any(about) else set(_rows(session, about))
    found = differences(session, since, until, rows)
    yield from (str(one) for one in found)
    yield f"{len(found)} fields differ between the ends of {since:%Y-%m-%d} and {until:%Y-%m-%d}."


def _rows(session: Session, about: About) -> Iterable[RowName]:
    support, line, change = about
    if support:
        yield from rows_of_point(session, point_of(session, support))
    if line:
        yield from rows_of_line(session, line_of(session, line))
    if change:
        yield from rows_of_change(session, change_of(session, change))
