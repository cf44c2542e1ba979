"""What the register says today, in the words of the sheets: by subject and key.

Imports, returned forms and exports compare with it; the ids beside it tell a write which rows to
touch. Everything is read in whole tables, never row by row.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator
from functools import cache
from typing import Any

from sqlalchemy import Row, Select, select
from sqlalchemy.orm import Session

from supports.audit.chain import head
from supports.model import (
    Area,
    Assembly,
    Attachment,
    Base,
    Calculation,
    DesignCase,
    HardwarePiece,
    Line,
    LineElement,
    LineEnd,
    LineNode,
    Nameplate,
    NozzleLimit,
    Reading,
    RequiredLoad,
    SettingEvent,
    SupportPoint,
    SupportTag,
    Unit,
    UnitPlacement,
)
from supports.proposals import BELONGS_TO, Key, Name, Record, Today, Value, owners_of
from supports.queries.narrowing import only, rows_of

Values = dict[str, Value]
Named = Collection[str] | None
"""Names that are spoken of; None means all."""
_PLUMBING = {"id", "row_version"}
_NOWHERE: frozenset[str] = frozenset()


@cache
def plain_columns(*models: type[Base]) -> tuple[str, ...]:
    """Return the columns that hold facts: no ids, links or versions."""
    columns = [column for model in models for column in model.__table__.columns]
    return tuple(c.name for c in columns if c.name not in _PLUMBING and not c.foreign_keys)


def _facts(model: type[Base]) -> list[Any]:
    return [getattr(model, name) for name in plain_columns(model)]


def _values(row: Row[Any], *models: type[Base]) -> Values:
    """Return the facts of the models, whose columns must be the last that were asked for."""
    names = plain_columns(*models)
    return dict(zip(names, row[-len(names) :], strict=True))


def today(session: Session, subjects: Collection[str] | None = None, named: Named = None) -> Today:
    """Read the register, or some subjects of it, in the words of the sheets.

    Parameters
    ----------
    named
        Tags, lines and calculations that are spoken of; others are left out. All if None.
    """
    found = Today()
    for subject, reader in _READERS.items():
        if subjects is None or subject in subjects:
            for name, values, ids in reader(session, named):
                found.put(name, values, ids)
    return found


def today_for(session: Session, records: Collection[Record]) -> Today:
    """Read what some records speak of, and of what they belong to no more than which there are.

    The head of the chain is read before the rows: who writes in between moves it, so that what was
    read then is not taken for what stands there now.
    """
    newest = head(session)
    subjects, named = {record.subject for record in records}, _names_in(records)
    found = today(session, subjects, named)
    owners = {owner.subject for subject in subjects for owner in BELONGS_TO.get(subject, ())}
    for owner in owners.difference(subjects):
        for key, ids in _NAMES[owner](session, named):
            found.ids[owner, key] = ids
    found.head = newest
    return found


def _names_in(records: Collection[Record]) -> set[str]:
    """Return every name that records bear or belong to."""
    names = {part for record in records for part in record.key}
    owners = ((owner, record) for record in records for owner in owners_of(record))
    return names.union(*(owner.key_of(record) for owner, record in owners if not owner.places))


def unit_positions(session: Session, tags: Named = None) -> dict[str, frozenset[str]]:
    """Return the unit positions known at each support tag, or at some."""
    positions: dict[str, frozenset[str]] = {}
    alike: dict[frozenset[str], frozenset[str]] = {}
    for (tag, position), _ in _unit_names(session, tags):
        at_tag = positions.get(tag, _NOWHERE) | {position}
        positions[tag] = alike.setdefault(at_tag, at_tag)
    return positions


Entry = tuple[Name, Values, dict[str, int]]
_Reader = Callable[[Session, Named], Iterator[Entry]]


def _present_tags() -> Any:
    return (SupportTag.point_id == SupportPoint.id) & SupportTag.valid_to.is_(None)


def _lines(session: Session, named: Named) -> Iterator[Entry]:
    query = select(Line.id, Area.code.label("area"), *_facts(Line)).outerjoin(
        Area, Line.area_id == Area.id
    )
    for row in session.execute(only(query, Line.number, named)):
        values = _values(row, Line)
        number = str(values.pop("number"))
        yield ("line", (number,)), {**values, "area": row.area}, {"line": row.id}


def _supports(session: Session, named: Named) -> Iterator[Entry]:
    query = (
        select(
            SupportPoint.id,
            SupportTag.tag,
            Area.code.label("area"),
            Assembly.id.label("assembly"),
            *_facts(SupportPoint),
            *_facts(Assembly),
        )
        .join(SupportTag, _present_tags())
        .join(Assembly, Assembly.point_id == SupportPoint.id)
        .outerjoin(Area, SupportPoint.area_id == Area.id)
    )
    places = _main_attachments(session, named)
    former = _former_tags(session, named)
    for row in session.execute(only(query, SupportTag.tag, named)):
        place, attachment = places.get(row.id, ({}, {}))
        values = {**_values(row, SupportPoint, Assembly), **place}
        values |= {"area": row.area, "former_tag": former.get(row.id)}
        yield (
            ("support", (row.tag,)),
            values,
            {"support_point": row.id, "assembly": row.assembly, **attachment},
        )


def _main_attachments(session: Session, named: Named) -> dict[int, tuple[Values, dict[str, int]]]:
    query = (
        select(Attachment.id, Attachment.point_id, Line.number, *_facts(Attachment))
        .join(Line, Attachment.line_id == Line.id)
        .join(
            SupportTag,
            (SupportTag.point_id == Attachment.point_id) & SupportTag.valid_to.is_(None),
        )
        .order_by(Attachment.id.desc())
    )
    return {
        row.point_id: (
            {
                "line": row.number,
                "order_along": row.order_along,
                "distance_along": row.distance_along,
                "node": row.node,
            },
            {"attachment": row.id},
        )
        for row in session.execute(only(query, SupportTag.tag, named))
    }


def _former_tags(session: Session, named: Named) -> dict[int, str]:
    query = (
        select(SupportTag.point_id, SupportTag.tag)
        .where(SupportTag.valid_to.is_not(None))
        .order_by(SupportTag.id)
    )
    present = select(SupportTag.point_id).where(SupportTag.valid_to.is_(None))
    if named is not None:
        query = query.where(SupportTag.point_id.in_(only(present, SupportTag.tag, named)))
    return {row.point_id: row.tag for row in session.execute(query)}


def _attachments(session: Session, named: Named) -> Iterator[Entry]:
    query = (
        select(Attachment.id, SupportTag.tag, Line.number, *_facts(Attachment))
        .join(SupportPoint, Attachment.point_id == SupportPoint.id)
        .join(SupportTag, _present_tags())
        .join(Line, Attachment.line_id == Line.id)
    )
    for row in session.execute(only(query, SupportTag.tag, named)):
        key = (row.tag, row.number)
        yield ("attachment", key), _values(row, Attachment), {"attachment": row.id}


def in_place(*columns: Any) -> Select[Any]:
    """Select units that hang somewhere now, with tag and position."""
    return (
        select(SupportTag.tag, UnitPlacement.position.label("place"), *columns)
        .select_from(UnitPlacement)
        .where(UnitPlacement.until.is_(None))
        .join(Unit, UnitPlacement.unit_id == Unit.id)
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .join(SupportPoint, Assembly.point_id == SupportPoint.id)
        .join(SupportTag, _present_tags())
    )


def _units(session: Session, named: Named) -> Iterator[Entry]:
    query = in_place(Unit.id, *_facts(Unit))
    for row in session.execute(only(query, SupportTag.tag, named)):
        yield ("unit", (row.tag, row.place)), _values(row, Unit), {"unit": row.id}


def _nameplates(session: Session, named: Named) -> Iterator[Entry]:
    query = in_place(Nameplate.id, *_facts(Nameplate)).join(Nameplate, Nameplate.unit_id == Unit.id)
    for row in session.execute(only(query, SupportTag.tag, named)):
        key = (row.tag, row.place)
        yield ("nameplate", key), _values(row, Nameplate), {"nameplate": row.id}


def _hardware(session: Session, named: Named) -> Iterator[Entry]:
    query = (
        select(HardwarePiece.id, SupportTag.tag, *_facts(HardwarePiece))
        .join(Assembly, HardwarePiece.assembly_id == Assembly.id)
        .join(SupportPoint, Assembly.point_id == SupportPoint.id)
        .join(SupportTag, _present_tags())
    )
    for row in session.execute(only(query, SupportTag.tag, named)):
        values = _values(row, HardwarePiece)
        key = (row.tag, str(values.pop("branch")), str(values.pop("position")))
        yield ("hardware", key), values, {"hardware_piece": row.id}


def _calculations(session: Session, named: Named) -> Iterator[Entry]:
    query = select(Calculation.id, *_facts(Calculation))
    for row in session.execute(only(query, Calculation.number, named)):
        values = _values(row, Calculation)
        key = (str(values.pop("number")), str(values.pop("revision")))
        yield ("calculation", key), values, {"calculation": row.id}


def _required_loads(session: Session, named: Named) -> Iterator[Entry]:
    query = (
        select(
            RequiredLoad.id,
            Calculation.number.label("calculation"),
            Calculation.revision,
            SupportTag.tag,
            Line.number.label("line"),
            DesignCase.name.label("case"),
            DesignCase.kind.label("case_kind"),
            *_facts(RequiredLoad),
        )
        .join(Calculation, RequiredLoad.calculation_id == Calculation.id)
        .join(SupportPoint, RequiredLoad.point_id == SupportPoint.id)
        .join(SupportTag, _present_tags())
        .join(Line, RequiredLoad.line_id == Line.id)
        .join(DesignCase, RequiredLoad.case_id == DesignCase.id)
    )
    for row in session.execute(only(query, SupportTag.tag, named)):
        key = (row.calculation, row.revision, row.tag, row.line, row.case)
        values = {**_values(row, RequiredLoad), "case_kind": row.case_kind}
        yield ("required load", key), values, {"required_load": row.id}


def _nozzle_limits(session: Session, named: Named) -> Iterator[Entry]:
    query = select(NozzleLimit.id, Line.number, *_facts(NozzleLimit)).join(
        Line, NozzleLimit.line_id == Line.id
    )
    for row in session.execute(only(query, Line.number, named)):
        values = _values(row, NozzleLimit)
        key = (row.number, str(values.pop("nozzle")))
        yield ("nozzle limit", key), values, {"nozzle_limit": row.id}


def _settings(session: Session, named: Named) -> Iterator[Entry]:
    query = in_place(SettingEvent.id, *_facts(SettingEvent)).join(
        SettingEvent, SettingEvent.unit_id == Unit.id
    )
    nth: Counter[Key] = Counter()
    for row in session.execute(only(query, SupportTag.tag, named).order_by(SettingEvent.id)):
        key = _told_apart(nth, (row.tag, row.place, row.happened_on.isoformat()))
        yield ("setting", key), _values(row, SettingEvent), {"setting_event": row.id}


def _readings(session: Session, named: Named) -> Iterator[Entry]:
    query = in_place(Reading.id, *_facts(Reading)).join(Reading, Reading.unit_id == Unit.id)
    nth: Counter[Key] = Counter()
    for row in session.execute(only(query, SupportTag.tag, named).order_by(Reading.id)):
        key = _told_apart(nth, (row.tag, row.place, row.read_on.isoformat(), row.read_by))
        yield ("reading", key), _values(row, Reading), {"reading": row.id}


def _told_apart(nth: Counter[Key], key: Key) -> Key:
    """Return the key of an event, numbered where it is not the first of its day."""
    nth[key] += 1
    return (*key, "" if nth[key] == 1 else str(nth[key]))


def _route(model: type[LineNode | LineElement | LineEnd], subject: str, *key: str) -> _Reader:
    """Return the reader of one part of a line's route; its key is the line and some columns."""

    def read(session: Session, named: Named) -> Iterator[Entry]:
        query = select(model.id, Line.number.label("line"), *_facts(model)).join(
            Line, model.line_id == Line.id
        )
        for row in session.execute(only(query, Line.number, named)):
            values = _values(row, model)
            name = (row.line, *(str(values.pop(part)) for part in key))
            yield (subject, name), values, {model.__tablename__: row.id}

    return read


_READERS: dict[str, _Reader] = {
    "line": _lines,
    "support": _supports,
    "attachment": _attachments,
    "unit": _units,
    "nameplate": _nameplates,
    "hardware": _hardware,
    "calculation": _calculations,
    "required load": _required_loads,
    "nozzle limit": _nozzle_limits,
    "setting": _settings,
    "reading": _readings,
    "line node": _route(LineNode, "line node", "node"),
    "line element": _route(LineElement, "line element", "from_node", "to_node"),
    "line end": _route(LineEnd, "line end", "node"),
}

_Names = Iterator[tuple[Key, dict[str, int]]]


def _line_names(session: Session, named: Named) -> _Names:
    for number, row_id in session.execute(only(select(Line.number, Line.id), Line.number, named)):
        yield (number,), {"line": row_id}


def _support_names(session: Session, named: Named) -> _Names:
    query = (
        select(SupportTag.tag, SupportTag.point_id, Assembly.id)
        .join(Assembly, Assembly.point_id == SupportTag.point_id)
        .where(SupportTag.valid_to.is_(None))
    )
    for tag, point, assembly in session.execute(only(query, SupportTag.tag, named)):
        yield (tag,), {"support_point": point, "assembly": assembly}


def _unit_names(session: Session, named: Named) -> _Names:
    query = (
        select(SupportTag.tag, UnitPlacement.position, UnitPlacement.unit_id)
        .select_from(UnitPlacement)
        .where(UnitPlacement.until.is_(None), SupportTag.valid_to.is_(None))
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .join(SupportTag, SupportTag.point_id == Assembly.point_id)
    )
    for tag, place, unit in rows_of(session, only(query, SupportTag.tag, named)):
        yield (tag, place), {"unit": unit}


def _calculation_names(session: Session, named: Named) -> _Names:
    query = select(Calculation.number, Calculation.revision, Calculation.id)
    for number, revision, row_id in session.execute(only(query, Calculation.number, named)):
        yield (number, revision), {"calculation": row_id}


_NAMES: dict[str, Callable[[Session, Named], _Names]] = {
    "line": _line_names,
    "support": _support_names,
    "unit": _unit_names,
    "calculation": _calculation_names,
}
