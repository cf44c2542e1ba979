"""The list of supports, a page at a time: filtered, sorted, and paged by key, never by count."""

from __future__ import annotations

import operator
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import CTE, ColumnElement, Select, and_, func, literal, or_, select
from sqlalchemy.orm import Session

from supports.model import Area, Assembly, Attachment, Line, SupportPoint, SupportTag, UnitPlacement
from supports.queries.unit_history import last_readings, present_settings
from supports.tags import matching_key, natural_key

PAGE = 50


@dataclass(frozen=True, slots=True)
class ListFilter:
    """What narrows the list; what is not said does not.

    Parameters
    ----------
    text
        A part of the tag, however it is written.
    """

    area: str = ""
    line: str = ""
    kind: str = ""
    criticality: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a page begins or ends: what it is sorted by, and the tag.

    Parameters
    ----------
    value
        Empty where the list is sorted by the tag alone.
    """

    value: str
    tag: str

    @classmethod
    def of(cls, pair: Sequence[str] | None) -> Place | None:
        """Return the place that an address names; None where it names none."""
        return cls(pair[0], pair[-1]) if pair else None


@dataclass(frozen=True, slots=True)
class ListedUnit:
    """A unit of a listed support: what it is set to, and when it was last read."""

    position: str
    set_to: float | None
    read_on: date | None


@dataclass(frozen=True, slots=True)
class Listed:
    """A support as it stands in the list."""

    point: int
    tag: str
    kind: str
    in_service: str
    area: str
    criticality: str
    floor: str
    lines: tuple[str, ...]
    units: tuple[ListedUnit, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Page:
    """A page of the list, and whether there is more on either side."""

    rows: tuple[Listed, ...]
    before: Place | None
    after: Place | None


SORTS: dict[str, Any] = {
    "tag": SupportTag.sort_key,
    "kind": SupportPoint.kind,
    "area": func.coalesce(Area.code, ""),
    "class": func.coalesce(SupportPoint.criticality, ""),
}
"""What the list can be sorted by; the natural order of tags decides between equals."""


def listed_page(
    session: Session, asked: ListFilter, sort: str = "tag", *, falling: bool = False,
    after: Place | None = None, before: Place | None = None, size: int = PAGE,
) -> Page:  # fmt: skip
    """Return the page after a place, before a place, or else the first."""
    backwards = before is not None
    start = before if backwards else after
    query = page_query(asked, sort, start, falling=falling != backwards, size=size)
    found = session.execute(query).all()
    more, found = len(found) > size, found[:size]
    rows = _completed(session, found[::-1] if backwards else found)
    earlier, later = (more, True) if backwards else (start is not None, more)
    return Page(
        rows,
        rows[0].place if rows and earlier else None,
        rows[-1].place if rows and later else None,
    )


def page_query(
    asked: ListFilter, sort: str, start: Place | None, *, falling: bool = False, size: int = PAGE
) -> Select[Any]:
    """Return what fetches the rows of a page beyond a place, and one more."""
    key, tag = SORTS[sort], SupportTag.sort_key
    query = _narrowed(_rows(key), asked)
    if start is not None:
        query = query.where(_beyond(key, start, falling=falling))
    order = [key, tag] if sort != "tag" else [tag]
    return query.order_by(*(one.desc() if falling else one for one in order)).limit(size + 1)


def count_listed(session: Session, asked: ListFilter) -> int:
    """Return how many supports a filter leaves."""
    inner = _narrowed(select(SupportPoint.id).join(SupportTag, _present()), asked)
    return session.scalar(select(func.count()).select_from(inner.subquery())) or 0


def listed_points(session: Session, points: Sequence[int]) -> tuple[Listed, ...]:
    """Return supports as they stand in the list, in the order asked for."""
    query = _rows(SupportTag.sort_key).where(SupportPoint.id.in_(points))
    found = {row.id: row for row in session.execute(query)}
    return _completed(session, [found[one] for one in points if one in found])


def all_listed(session: Session, asked: ListFilter) -> tuple[Listed, ...]:
    """Return every support that a filter leaves, in natural order of the tags."""
    query = _narrowed(_rows(SupportTag.sort_key), asked).order_by(SupportTag.sort_key)
    return _completed(session, session.execute(query).all(), whole=True)


def list_choices(session: Session) -> dict[str, list[str]]:
    """Return the areas and classes that there are."""
    classes = select(SupportPoint.criticality).where(SupportPoint.criticality.is_not(None))
    return {
        "areas": sorted(session.scalars(select(Area.code)), key=natural_key),
        "classes": sorted(one for one in session.scalars(classes.distinct()) if one),
    }


def _rows(key: Any) -> Select[Any]:
    sorted_by = literal("") if key is SupportTag.sort_key else key
    return (
        select(
            SupportPoint.id, SupportTag.tag, SupportPoint.kind, SupportPoint.in_service, Area.code,
            SupportPoint.criticality, SupportPoint.floor, sorted_by.label("sorted_by"),
        )
        .join(SupportTag, _present())
        .outerjoin(Area, SupportPoint.area_id == Area.id)
    )  # fmt: skip


def _present() -> ColumnElement[bool]:
    return and_(SupportTag.point_id == SupportPoint.id, SupportTag.valid_to.is_(None))


def _narrowed(query: Select[Any], asked: ListFilter) -> Select[Any]:
    if asked.area:
        query = query.where(SupportPoint.id.in_(select(_in_area(asked.area).c.id)))
    if asked.kind:
        query = query.where(SupportPoint.kind == asked.kind)
    if asked.criticality:
        query = query.where(SupportPoint.criticality == asked.criticality)
    if asked.line:
        held = (
            select(Attachment.point_id)
            .join(Line, Attachment.line_id == Line.id)
            .where(Line.number == asked.line)
        )
        query = query.where(SupportPoint.id.in_(held))
    if asked.text:
        query = query.where(
            SupportTag.matching_key.contains(matching_key(asked.text), autoescape=True)
        )
    return query


def _in_area(code: str) -> CTE:
    """Return the supports of an area, found before anything is sorted.

    Left to itself PostgreSQL walks all tags in their order until it has met a page of the area:
    in a register of a million supports that is half of them.
    """
    area = select(Area.id).where(Area.code == code).scalar_subquery()
    found = select(SupportPoint.id).where(SupportPoint.area_id == area)
    return found.cte("of_area").prefix_with("MATERIALIZED")


def _beyond(key: Any, start: Place, *, falling: bool) -> ColumnElement[bool]:
    """Return what lies beyond a place in the order."""
    tag: Any = SupportTag.sort_key
    further = operator.lt if falling else operator.gt
    beyond: ColumnElement[bool] = further(tag, natural_key(start.tag))
    if key is tag:
        return beyond
    return or_(further(key, start.value), and_(key == start.value, beyond))


def _completed(session: Session, rows: Sequence[Any], *, whole: bool = False) -> tuple[Listed, ...]:
    points = None if whole else [row.id for row in rows]
    lines, units = _lines(session, points), _units(session, points)
    return tuple(
        Listed(
            row.id, row.tag, row.kind, row.in_service, row.code or "", row.criticality or "",
            row.floor or "", tuple(lines.get(row.id, ())), tuple(units.get(row.id, ())),
            Place(row.sorted_by, row.tag),
        )
        for row in rows
    )  # fmt: skip


def _lines(session: Session, points: Sequence[int] | None) -> dict[int, list[str]]:
    query = select(Attachment.point_id, Line.number).join(Line, Attachment.line_id == Line.id)
    if points is not None:
        query = query.where(Attachment.point_id.in_(points))
    found: dict[int, list[str]] = defaultdict(list)
    for point, number in session.execute(query.order_by(Attachment.id)):
        found[point].append(number)
    return found


def _units(session: Session, points: Sequence[int] | None) -> dict[int, list[ListedUnit]]:
    query = (
        select(Assembly.point_id, UnitPlacement.unit_id, UnitPlacement.position)
        .join(UnitPlacement, UnitPlacement.assembly_id == Assembly.id)
        .where(UnitPlacement.until.is_(None))
        .order_by(UnitPlacement.position)
    )
    if points is not None:
        query = query.where(Assembly.point_id.in_(points))
    rows = session.execute(query).all()
    wanted = None if points is None else [row.unit_id for row in rows]
    settings, readings = present_settings(session, wanted), last_readings(session, wanted)
    found: dict[int, list[ListedUnit]] = defaultdict(list)
    for point, unit, position in rows:
        setting, reading = settings.get(unit), readings.get(unit)
        found[point].append(
            ListedUnit(
                position, setting.load if setting else None, reading.read_on if reading else None
            )
        )
    return found
