"""Find one thing by the name that people use; a wrong name is answered with the nearest ones."""

from __future__ import annotations

from typing import Any, TypeVar

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from supports.errors import NotFound
from supports.model import (
    Area,
    Assembly,
    Calculation,
    Change,
    Line,
    Person,
    Plan,
    SupportTag,
    Unit,
    UnitPlacement,
    WorkOrder,
    WorkOrderLine,
)
from supports.sentences import Sentence, either, joined
from supports.tags import matching_key, suggestions
from supports.vocabulary import counted

T = TypeVar("T")


def line_of(session: Session, number: str) -> Line:
    """Return a line by its number."""
    found = session.scalar(select(Line).where(Line.number == number))
    return or_nearest(session, found, "line", number, select(Line.number))


def area_of(session: Session, code: str) -> Area:
    """Return an area by its code."""
    found = session.scalar(select(Area).where(Area.code == code))
    return or_nearest(session, found, "area", code, select(Area.code))


def point_of(session: Session, tag: str) -> int:
    """Return the id of the support point that bears a tag, or bore it if no other bears it now."""
    present = select(SupportTag.point_id).where(SupportTag.valid_to.is_(None))
    cleaned = SupportTag.matching_key == matching_key(tag)
    former = select(SupportTag.point_id).where(SupportTag.valid_to.is_not(None))
    for query in (present.where(SupportTag.tag == tag), present.where(cleaned)):
        found = session.scalars(query.limit(2)).all()
        if len(found) == 1:
            return found[0]
    known = session.scalars(former.where(SupportTag.tag == tag).distinct().limit(2)).all()
    point = known[0] if len(known) == 1 else None
    tags = select(SupportTag.tag).where(SupportTag.valid_to.is_(None))
    return or_nearest(session, point, "support", tag, tags)


def units_at(session: Session, point: int) -> list[int]:
    """Return the ids of the units in place at a support point."""
    query = (
        select(UnitPlacement.unit_id)
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .where(UnitPlacement.until.is_(None), Assembly.point_id == point)
        .order_by(UnitPlacement.position)
    )
    return list(session.scalars(query))


def unit_of(session: Session, tag: str, position: str = "") -> Unit:
    """Return the unit in place at a support; the position is needed where there are two.

    Raises
    ------
    NotFound
        No such support, no unit there, or two units and no position given.
    """
    query = (
        select(Unit, UnitPlacement.position)
        .join(UnitPlacement, UnitPlacement.unit_id == Unit.id)
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .where(UnitPlacement.until.is_(None), Assembly.point_id == point_of(session, tag))
    )
    units = {place: unit for unit, place in session.execute(query)}
    if position in units:
        return units[position]
    if not position and len(units) == 1:
        return next(iter(units.values()))
    raise NotFound(
        Sentence("support {tag} has no unit in position {position}", tag=tag, position=position)
        if position
        else Sentence("support {tag} has {count}", tag=tag, count=counted(len(units), "unit")),
        found=joined(sorted(units), ", ") or "no unit",
        remedy="Name the position, as in: PS-1024/B" if units else "Bring in its unit first",
    )


def calculation_of(session: Session, number: str, revision: str) -> Calculation:
    """Return a calculation by number and revision."""
    query = select(Calculation).where(
        Calculation.number == number, Calculation.revision == revision
    )
    known = select(Calculation.number + " rev. " + Calculation.revision)
    name = Sentence("{number} rev. {revision}", number=number, revision=revision)
    return or_nearest(session, session.scalar(query), "calculation", name, known)


def change_of(session: Session, number: str) -> Change:
    """Return a change by its number."""
    found = session.scalar(select(Change).where(Change.number == number))
    return or_nearest(session, found, "change", number, select(Change.number))


def plan_of(session: Session, number: str) -> Plan:
    """Return a re-set plan by its number."""
    found = session.scalar(select(Plan).where(Plan.number == number))
    return or_nearest(session, found, "plan", number, select(Plan.number))


def work_order_of(session: Session, number: str) -> WorkOrder:
    """Return a work order by its number."""
    found = session.scalar(select(WorkOrder).where(WorkOrder.number == number))
    return or_nearest(session, found, "work order", number, select(WorkOrder.number))


def work_order_line_of(session: Session, number: str, unit: Unit, tag: str) -> WorkOrderLine:
    """Return the line of a work order for a unit."""
    order = work_order_of(session, number)
    query = select(WorkOrderLine).where(
        WorkOrderLine.work_order_id == order.id, WorkOrderLine.unit_id == unit.id
    )
    line = session.scalar(query)
    if line is None:
        raise NotFound(
            Sentence("support {tag} is not on work order {number}", tag=tag, number=number),
            remedy=Sentence(
                "See what is on it with: supports work-order show {number}", number=number
            ),
        )
    return line


def person_of(session: Session, name: str) -> Person:
    """Return a person by name or initials."""
    query = select(Person).where((Person.name == name) | (Person.initials == name))
    return or_nearest(session, session.scalar(query), "person", name, select(Person.name))


def or_nearest(session: Session, found: T | None, what: str, name: str, names: Select[Any]) -> T:
    """Return what was found.

    Parameters
    ----------
    what
        What sort of thing was looked for, in words.
    names
        The names there are, of which the nearest are told.

    Raises
    ------
    NotFound
        Nothing was found.
    """
    if found is not None:
        return found
    near = suggestions(name, session.scalars(names))
    raise NotFound(
        Sentence("{what} '{name}' is not in the register", what=what, name=name),
        remedy=Sentence("Did you mean {near}?", near=either(near)) if near else "",
    )
