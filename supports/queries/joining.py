"""By what supports are recognised in files, and what people have decided on names in them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import NamedTuple

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import (
    Attachment,
    Calculation,
    JoinDecision,
    Line,
    Person,
    RequiredLoad,
    SupportTag,
    Unit,
)
from supports.queries.existing import in_place
from supports.queries.narrowing import only, rows_of

SAME, RENAMED, ITS_OWN, UNDONE = "same", "renamed", "its own", "undone"


class TagLife(NamedTuple):
    """A tag that a point bore, from a day to a day."""

    tag: str
    since: date | None
    until: date | None


class PointTags(NamedTuple):
    """The tags of a support: the present one, since when, and those that it bore."""

    tag: str
    since: date | None
    former: tuple[TagLife, ...] = ()


@dataclass(slots=True)
class PointMarks:
    """What else a support may be recognised by in another file."""

    tag: str
    serials: list[str] = field(default_factory=list)
    nodes: list[tuple[str, str]] = field(default_factory=list)
    places: list[tuple[str, int]] = field(default_factory=list)


def point_tags(session: Session, named: Collection[str] | None = None) -> list[PointTags]:
    """Return the tags of each support that has a present one.

    Parameters
    ----------
    named
        Of supports that bear, or bore, one of these tags alone; of all if None.
    """
    found: dict[int, PointTags] = {}
    former: dict[int, list[TagLife]] = defaultdict(list)
    lives = select(SupportTag.point_id, SupportTag.tag, SupportTag.valid_from, SupportTag.valid_to)
    bearing = only(select(SupportTag.point_id), SupportTag.tag, named)
    points = None if named is None else {point for (point,) in rows_of(session, bearing)}
    lives = only(lives, SupportTag.point_id, points)
    for point, tag, since, until in rows_of(session, lives.order_by(SupportTag.id)):
        if until is None:
            found[point] = PointTags(tag, since)
        else:
            former[point].append(TagLife(tag, since, until))
    for point, once in former.items():
        if point in found:
            found[point] = found[point]._replace(former=tuple(once))
    return list(found.values())


def present_tags(session: Session, keys: Collection[str] | None = None) -> list[str]:
    """Return the present tags, of some matching keys or all."""
    query = select(SupportTag.tag).where(SupportTag.valid_to.is_(None))
    ordered = only(query, SupportTag.matching_key, keys).order_by(SupportTag.id)
    return [tag for (tag,) in rows_of(session, ordered)]


def point_marks(session: Session) -> list[PointMarks]:
    """Return by what each support with a present tag is known beside its tags."""
    present = select(SupportTag.point_id, SupportTag.tag).where(SupportTag.valid_to.is_(None))
    ordered = present.order_by(SupportTag.id)
    found = {point: PointMarks(tag) for point, tag in rows_of(session, ordered)}
    by_tag = {marks.tag: marks for marks in found.values()}
    for tag, _, serial in session.execute(in_place(Unit.serial).where(Unit.serial.is_not(None))):
        by_tag[tag].serials.append(serial)
    _add_places(session, found)
    return list(found.values())


def _add_places(session: Session, found: dict[int, PointMarks]) -> None:
    calculated: dict[int, set[str]] = defaultdict(set)
    pairs = select(RequiredLoad.line_id, Calculation.number).join(
        Calculation, RequiredLoad.calculation_id == Calculation.id
    )
    for line_id, number in session.execute(pairs.distinct()):
        calculated[line_id].add(number)
    query = select(
        Attachment.point_id, Attachment.line_id, Line.number, Attachment.order_along,
        Attachment.node,
    ).join(Line, Attachment.line_id == Line.id)  # fmt: skip
    for row in session.execute(query):
        names = found.get(row.point_id)
        if names and row.order_along is not None:
            names.places.append((row.number, row.order_along))
        if names and row.node:
            names.nodes.extend((number, row.node) for number in sorted(calculated[row.line_id]))


@dataclass(frozen=True, slots=True)
class Decided:
    """What holds of the names in files of a source: joined to which, or supports of their own."""

    joined: dict[str, str]
    own: frozenset[str]

    @property
    def names(self) -> frozenset[str]:
        """Return the names that something holds of."""
        return self.own | set(self.joined)


def decisions_of(session: Session, source: str) -> Decided:
    """Return what holds for the files of a source; the newest decision on a name wins."""
    newest = newest_decisions(session, source)
    if not newest:
        return Decided({}, frozenset())
    points = {one.point_id for one in newest.values() if one.point_id is not None}
    present = select(SupportTag.point_id, SupportTag.tag).where(SupportTag.valid_to.is_(None))
    named = only(present, SupportTag.point_id, points)
    tags = {row.point_id: row.tag for row in session.execute(named)}
    return Decided(
        {
            name: tags[one.point_id]
            for name, one in newest.items()
            if one.kind in {SAME, RENAMED} and one.point_id in tags
        },
        frozenset(name for name, one in newest.items() if one.kind == ITS_OWN),
    )


def newest_decisions(session: Session, source: str) -> dict[str, JoinDecision]:
    """Return the newest decision on each name of a source."""
    query = select(JoinDecision).where(JoinDecision.source == source)
    return {row.tag: row for row in session.scalars(query.order_by(JoinDecision.id))}


@dataclass(frozen=True, slots=True)
class DecisionView:
    """One decision, as it was taken."""

    source: str
    name: str
    kind: str
    support: str
    since: date | None
    person: str
    decided_at: datetime
    reason: str
    holds: bool


def decision_history(session: Session, source: str | None = None) -> list[DecisionView]:
    """Return every decision, oldest first, on names of one source or of all."""
    query = (
        select(JoinDecision, Person.name, SupportTag.tag)
        .join(Person, JoinDecision.person_id == Person.id)
        .outerjoin(
            SupportTag,
            (SupportTag.point_id == JoinDecision.point_id) & SupportTag.valid_to.is_(None),
        )
        .order_by(JoinDecision.id)
    )
    if source is not None:
        query = query.where(JoinDecision.source == source)
    rows = session.execute(query).all()
    newest = {(row.source, row.tag): row.id for row, _, _ in rows}
    return [
        DecisionView(
            row.source,
            row.tag,
            row.kind,
            tag or "",
            row.since,
            person,
            row.decided_at,
            row.reason or "",
            newest[row.source, row.tag] == row.id and row.kind != UNDONE,
        )
        for row, person, tag in rows
    ]
