"""Apply a plan of proposals: one transaction, one audit batch, all or nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from sqlalchemy import select

from supports.database import Register, Writing
from supports.errors import InputHasFaults, NotFound
from supports.findings import any_forbids
from supports.model import (
    Area,
    Assembly,
    Attachment,
    Base,
    Calculation,
    DesignCase,
    HardwarePiece,
    ImportRun,
    Line,
    Nameplate,
    NozzleLimit,
    Reading,
    RequiredLoad,
    SettingEvent,
    SourceRow,
    SupportPoint,
    SupportTag,
    Unit,
    UnitPlacement,
)
from supports.operations.buffer import Buffer
from supports.proposals import Key, Plan, Proposal, Record, SourceLine, Value, Verb
from supports.queries.existing import Today, plain_columns, today
from supports.tags import matching_key
from supports.vocabulary import Arrangement, InService, PlantState, SupportKind


@dataclass(frozen=True, slots=True)
class SourceFile:
    """The file that a plan was read from."""

    name: str
    digest: str


def apply_plan(
    register: Register, plan: Plan, source: SourceFile, *, actor: str, reason: str, now: datetime
) -> None:
    """Store what a plan proposes.

    Raises
    ------
    InputHasFaults
        A finding forbids storing.
    NotFound
        A record speaks of a support, line or calculation that is neither stored nor in the plan.
    """
    if any_forbids(plan.findings):
        raise InputHasFaults("nothing was stored: the input has faults", plan.findings)
    if plan.changes_nothing:
        return
    with register.writing(actor, reason, now, action="import") as writing:
        store_plan(writing, plan, source)


def store_plan(writing: Writing, plan: Plan, source: SourceFile) -> None:
    """Store a plan within a write that is already open."""
    buffer = Buffer(writing.trail)
    run = buffer.insert(
        ImportRun,
        {
            "file_name": source.name,
            "file_hash": source.digest,
            "read_at": writing.now,
            "read_by": writing.actor,
        },
    )
    areas = {code: key for code, key in writing.session.execute(select(Area.code, Area.id))}  # noqa: C416
    store = _Store(buffer, today(writing.session), run, writing.now, areas)
    for proposal in plan.proposals:
        if proposal.verb is not Verb.SAME:
            store.take(proposal)
    buffer.write()


@dataclass(slots=True)
class _Store:
    """Turns proposals into rows, subject by subject."""

    buffer: Buffer
    today: Today
    run: int
    now: datetime
    areas: dict[str, int]
    cases: dict[tuple[int, str], int] = field(default_factory=dict)
    sources: dict[tuple[str, int], int] = field(default_factory=dict)

    def take(self, proposal: Proposal) -> None:
        """Buffer the rows of one proposal."""
        record = proposal.record
        source = self._source(record.source)
        name = (record.subject, record.key)
        changed = {c.field: c.after for c in proposal.changes}
        if proposal.verb is Verb.CREATE and name not in self.today.ids:
            ids = _CREATE[record.subject](self, record, source)
            self.today.put(name, dict(record.values), ids)
        else:
            _CHANGE.get(record.subject, _change_facts)(self, record, changed, source)
            self.today.values[name].update(changed)

    def need(self, subject: str, key: Key, table: str, record: Record) -> int:
        """Return the id of what a record speaks of."""
        found = self.today.id_of(subject, key, table)
        if found is None:
            raise NotFound(
                f"{subject} {' '.join(key)} is not in the register",
                where=str(record.source.place("tag")),
                remedy=f"Bring the {subject} in first, or in the same file",
            )
        return found

    def area(self, values: dict[str, Any], source: int) -> int | None:
        """Return the id of the area named, which is made if it is new."""
        code = values.get("area")
        if not code:
            return None
        if code not in self.areas:
            self.areas[code] = self.buffer.insert(Area, {"code": code}, source)
        return self.areas[code]

    def _source(self, line: SourceLine) -> int:
        key = (line.sheet, line.row)
        if key not in self.sources:
            cells = {name: [c.column, c.text, c.unit] for name, c in line.cells.items()}
            row = {"import_run_id": self.run, "sheet": line.sheet, "row": line.row, "cells": cells}
            self.sources[key] = self.buffer.insert(SourceRow, row)
        return self.sources[key]


_Rows = dict[str, int]


def _create_line(store: _Store, record: Record, source: int) -> _Rows:
    values = dict(record.values)
    row = {**values, "number": record.key[0], "area_id": store.area(values, source)}
    return {"line": store.buffer.insert(Line, row, source)}


def _create_support(store: _Store, record: Record, source: int) -> _Rows:
    values: dict[str, Any] = {
        "kind": SupportKind.UNKNOWN.value,
        "in_service": InService.IN_PLACE.value,
        "arrangement": Arrangement.SINGLE.value,
        **record.values,
    }
    point = store.buffer.insert(
        SupportPoint, {**values, "area_id": store.area(values, source)}, source
    )
    _name(store, point, record.key[0], source)
    assembly = store.buffer.insert(Assembly, {**values, "point_id": point}, source)
    ids = {"support_point": point, "assembly": assembly}
    if former := values.get("former_tag"):
        _former_name(store, point, str(former), source)
    if values.get("line"):
        ids["attachment"] = _attach(store, point, values, record, source)
        place = ("attachment", (record.key[0], str(values["line"])))
        store.today.put(place, _place_of(values), {"attachment": ids["attachment"]})
    return ids


def _place_of(values: dict[str, Any]) -> dict[str, Any]:
    return {name: values.get(name) for name in ("order_along", "distance_along", "node")}


def _name(store: _Store, point: int, tag: str, source: int) -> None:
    row = {"point_id": point, "tag": tag, "matching_key": matching_key(tag)}
    store.buffer.insert(SupportTag, {**row, "valid_from": None}, source)


def _former_name(store: _Store, point: int, tag: str, source: int) -> None:
    row = {"point_id": point, "tag": tag, "matching_key": matching_key(tag)}
    ended = {"valid_to": store.now.date(), "source": "former tag in the sheet"}
    store.buffer.insert(SupportTag, {**row, **ended}, source)


def _attach(store: _Store, point: int, values: dict[str, Any], record: Record, source: int) -> int:
    line = store.need("line", (str(values["line"]),), "line", record)
    return store.buffer.insert(Attachment, {**values, "point_id": point, "line_id": line}, source)


def _create_attachment(store: _Store, record: Record, source: int) -> _Rows:
    tag, number = record.key
    point = store.need("support", (tag,), "support_point", record)
    values = {**record.values, "line": number}
    return {"attachment": _attach(store, point, values, record, source)}


def _create_unit(store: _Store, record: Record, source: int) -> _Rows:
    tag, position = record.key
    assembly = store.need("support", (tag,), "assembly", record)
    unit = store.buffer.insert(Unit, dict(record.values), source)
    hung = {"unit_id": unit, "assembly_id": assembly, "position": position}
    store.buffer.insert(UnitPlacement, hung, source)
    return {"unit": unit}


def _create_nameplate(store: _Store, record: Record, source: int) -> _Rows:
    unit = store.need("unit", record.key, "unit", record)
    row = {**record.values, "unit_id": unit}
    return {"nameplate": store.buffer.insert(Nameplate, row, source)}


def _create_hardware(store: _Store, record: Record, source: int) -> _Rows:
    tag, branch, position = record.key
    assembly = store.need("support", (tag,), "assembly", record)
    row = {
        **record.values,
        "assembly_id": assembly,
        "branch": branch,
        "position": int(position),
    }
    return {"hardware_piece": store.buffer.insert(HardwarePiece, row, source)}


def _create_calculation(store: _Store, record: Record, source: int) -> _Rows:
    number, revision = record.key
    row = {**record.values, "number": number, "revision": revision}
    return {"calculation": store.buffer.insert(Calculation, row, source)}


def _create_required_load(store: _Store, record: Record, source: int) -> _Rows:
    number, revision, tag, line, case = record.key
    line_id = store.need("line", (line,), "line", record)
    row = {
        **record.values,
        "calculation_id": store.need("calculation", (number, revision), "calculation", record),
        "point_id": store.need("support", (tag,), "support_point", record),
        "line_id": line_id,
        "case_id": _case(store, line_id, case, record, source),
    }
    return {"required_load": store.buffer.insert(RequiredLoad, row, source)}


def _case(store: _Store, line_id: int, name: str, record: Record, source: int) -> int:
    if not store.cases:
        query = select(DesignCase.line_id, DesignCase.name, DesignCase.id)
        store.cases = {(r[0], r[1]): r[2] for r in store.buffer.trail.session.execute(query)}
    if (line_id, name) not in store.cases:
        row = {"line_id": line_id, "name": name, "kind": record.values.get("case_kind")}
        store.cases[line_id, name] = store.buffer.insert(DesignCase, row, source)
    return store.cases[line_id, name]


def _create_nozzle_limit(store: _Store, record: Record, source: int) -> _Rows:
    line, nozzle = record.key
    row = {
        **record.values,
        "line_id": store.need("line", (line,), "line", record),
        "nozzle": nozzle,
    }
    return {"nozzle_limit": store.buffer.insert(NozzleLimit, row, source)}


def _create_setting(store: _Store, record: Record, source: int) -> _Rows:
    unit = store.need("unit", record.key[:2], "unit", record)
    row = {"plant_state": PlantState.UNKNOWN.value, **record.values, "unit_id": unit}
    return {"setting_event": store.buffer.insert(SettingEvent, row, source)}


def _create_reading(store: _Store, record: Record, source: int) -> _Rows:
    unit = store.need("unit", record.key[:2], "unit", record)
    defaults = {"plant_state": PlantState.UNKNOWN.value, "method": "scale", "occasion": "other"}
    row = {**defaults, **record.values, "unit_id": unit}
    return {"reading": store.buffer.insert(Reading, row, source)}


_Changed = dict[str, Value]


def _change_facts(store: _Store, record: Record, changed: _Changed, source: int) -> None:
    """Change the plain columns of the one table behind a subject."""
    model = _TABLE[record.subject]
    _update(store, record, model, changed, source)
    if "area" in changed:
        area = {"area_id": store.area(dict(changed), source)}
        _update(store, record, model, area, source, also=("area_id",))


def _change_support(store: _Store, record: Record, changed: _Changed, source: int) -> None:
    for model in (SupportPoint, Assembly):
        _update(store, record, model, changed, source)
    point = store.need("support", record.key, "support_point", record)
    if "area" in changed:
        area = {"area_id": store.area(dict(changed), source)}
        _update(store, record, SupportPoint, area, source, also=("area_id",))
    if former := changed.get("former_tag"):
        _former_name(store, point, str(former), source)
    _change_place(store, record, changed, point, source)


def _change_place(
    store: _Store, record: Record, changed: _Changed, point: int, source: int
) -> None:
    """Move a support's place along its line, or hang it on the line now named."""
    known = store.today.id_of("support", record.key, "attachment")
    values = {**store.today.values["support", record.key], **changed}
    if known is None and values.get("line"):
        _attach(store, point, values, record, source)
    elif known is not None:
        if "line" in changed:
            line = store.need("line", (str(changed["line"]),), "line", record)
            _update(store, record, Attachment, {"line_id": line}, source, also=("line_id",))
        _update(store, record, Attachment, changed, source)


def _update(
    store: _Store,
    record: Record,
    model: type[Base],
    changed: dict[str, Any],
    source: int,
    also: tuple[str, ...] = (),
) -> None:
    wanted = {*plain_columns(model), *also}
    after = {name: value for name, value in changed.items() if name in wanted}
    was = store.today.values[record.subject, record.key]
    row_id = store.today.ids[record.subject, record.key][model.__tablename__]
    before = {"id": row_id, **{name: was.get(name) for name in after}}
    store.buffer.change(model, before, after, source)


def _event_differs(_: _Store, record: Record, __: _Changed, ___: int) -> None:
    raise InputHasFaults(
        f"{record.subject} {' '.join(record.key)} is stored with other values; "
        f"an event is never changed ({record.source.place('')})",
        (),
        remedy="If it is another event, give it its own day or reader",
    )


_TABLE: dict[str, type[Base]] = {
    "line": Line,
    "attachment": Attachment,
    "unit": Unit,
    "nameplate": Nameplate,
    "hardware": HardwarePiece,
    "calculation": Calculation,
    "required load": RequiredLoad,
    "nozzle limit": NozzleLimit,
}

_CREATE: dict[str, Callable[[_Store, Record, int], _Rows]] = {
    "line": _create_line,
    "support": _create_support,
    "attachment": _create_attachment,
    "unit": _create_unit,
    "nameplate": _create_nameplate,
    "hardware": _create_hardware,
    "calculation": _create_calculation,
    "required load": _create_required_load,
    "nozzle limit": _create_nozzle_limit,
    "setting": _create_setting,
    "reading": _create_reading,
}

_CHANGE: dict[str, Callable[[_Store, Record, _Changed, int], None]] = {
    "support": _change_support,
    "setting": _event_differs,
    "reading": _event_differs,
}
