"""Rows for what is new, subject by subject."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

from sqlalchemy import select

from supports.model import (
    Assembly,
    Attachment,
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
from supports.operations.store import Store
from supports.proposals import Record
from supports.tags import matching_key
from supports.vocabulary import Arrangement, InService, PlantState, SupportKind

Rows = dict[str, int]


def _create_line(store: Store, record: Record, source: int) -> Rows:
    values = dict(record.values)
    row = {**values, "number": record.key[0], "area_id": store.area(values, source)}
    return {"line": store.buffer.insert(Line, row, source)}


def _create_support(store: Store, record: Record, source: int) -> Rows:
    values: dict[str, Any] = {
        "kind": SupportKind.UNKNOWN.value,
        "in_service": InService.IN_PLACE.value,
        "arrangement": Arrangement.SINGLE.value,
        **record.values,
    }
    point = store.buffer.insert(
        SupportPoint, {**values, "area_id": store.area(values, source)}, source
    )
    _name(store, point, record.key[0], source, renamed=bool(values.get("former_tag")))
    assembly = store.buffer.insert(Assembly, {**values, "point_id": point}, source)
    ids = {"support_point": point, "assembly": assembly}
    if former := values.get("former_tag"):
        former_name(store, point, str(former), source)
    if values.get("line"):
        ids["attachment"] = attach(store, point, values, record, source)
        place = ("attachment", (record.key[0], str(values["line"])))
        store.today.put(place, _place_of(values), {"attachment": ids["attachment"]})
    return ids


def _place_of(values: dict[str, Any]) -> dict[str, Any]:
    return {name: values.get(name) for name in ("order_along", "distance_along", "node")}


def _name(store: Store, point: int, tag: str, source: int, *, renamed: bool) -> None:
    """Name a point; since when is known only where it, or another, bore a tag before."""
    row = {"point_id": point, "tag": tag, "matching_key": matching_key(tag)}
    since = store.day if renamed or tag in store.former_tags() else None
    store.buffer.insert(SupportTag, {**row, "valid_from": since}, source)


def former_name(store: Store, point: int, tag: str, source: int) -> None:
    """Enter a name that the point bore until the day before."""
    row = {"point_id": point, "tag": tag, "matching_key": matching_key(tag)}
    last = store.day - timedelta(days=1)
    ended = {"valid_to": last, "source": "former tag in the sheet"}
    store.buffer.insert(SupportTag, {**row, **ended}, source)


def attach(store: Store, point: int, values: dict[str, Any], record: Record, source: int) -> int:
    """Hang a support point on the line named."""
    line = store.need("line", (str(values["line"]),), "line", record)
    return store.buffer.insert(Attachment, {**values, "point_id": point, "line_id": line}, source)


def _create_attachment(store: Store, record: Record, source: int) -> Rows:
    tag, number = record.key
    point = store.need("support", (tag,), "support_point", record)
    values = {**record.values, "line": number}
    return {"attachment": attach(store, point, values, record, source)}


def _create_unit(store: Store, record: Record, source: int) -> Rows:
    tag, position = record.key
    assembly = store.need("support", (tag,), "assembly", record)
    unit = store.buffer.insert(Unit, dict(record.values), source)
    hung = {"unit_id": unit, "assembly_id": assembly, "position": position}
    store.buffer.insert(UnitPlacement, hung, source)
    return {"unit": unit}


def _create_nameplate(store: Store, record: Record, source: int) -> Rows:
    unit = store.need("unit", record.key, "unit", record)
    row = {**record.values, "unit_id": unit}
    return {"nameplate": store.buffer.insert(Nameplate, row, source)}


def _create_hardware(store: Store, record: Record, source: int) -> Rows:
    tag, branch, position = record.key
    assembly = store.need("support", (tag,), "assembly", record)
    row = {
        **record.values,
        "assembly_id": assembly,
        "branch": branch,
        "position": int(position),
    }
    return {"hardware_piece": store.buffer.insert(HardwarePiece, row, source)}


def _create_calculation(store: Store, record: Record, source: int) -> Rows:
    number, revision = record.key
    row = {**record.values, "number": number, "revision": revision}
    return {"calculation": store.buffer.insert(Calculation, row, source)}


def _create_required_load(store: Store, record: Record, source: int) -> Rows:
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


def _case(store: Store, line_id: int, name: str, record: Record, source: int) -> int:
    if not store.cases:
        query = select(DesignCase.line_id, DesignCase.name, DesignCase.id)
        store.cases = {(r[0], r[1]): r[2] for r in store.buffer.trail.session.execute(query)}
    if (line_id, name) not in store.cases:
        row = {"line_id": line_id, "name": name, "kind": record.values.get("case_kind")}
        store.cases[line_id, name] = store.buffer.insert(DesignCase, row, source)
    return store.cases[line_id, name]


def _create_nozzle_limit(store: Store, record: Record, source: int) -> Rows:
    line, nozzle = record.key
    row = {
        **record.values,
        "line_id": store.need("line", (line,), "line", record),
        "nozzle": nozzle,
    }
    return {"nozzle_limit": store.buffer.insert(NozzleLimit, row, source)}


def _create_setting(store: Store, record: Record, source: int) -> Rows:
    unit = store.need("unit", record.key[:2], "unit", record)
    row = {"plant_state": PlantState.UNKNOWN.value, **record.values, "unit_id": unit}
    return {"setting_event": store.buffer.insert(SettingEvent, row, source)}


def _create_reading(store: Store, record: Record, source: int) -> Rows:
    unit = store.need("unit", record.key[:2], "unit", record)
    defaults = {"plant_state": PlantState.UNKNOWN.value, "method": "scale", "occasion": "other"}
    row = {**defaults, **record.values, "unit_id": unit}
    return {"reading": store.buffer.insert(Reading, row, source)}


def _create_line_node(store: Store, record: Record, source: int) -> Rows:
    line, node = record.key
    row = {**record.values, "line_id": _line_id(store, line, record), "node": node}
    return {"line_node": store.buffer.insert(LineNode, row, source)}


def _create_line_element(store: Store, record: Record, source: int) -> Rows:
    line, start, end = record.key
    ends = {"from_node": start, "to_node": end}
    row = {**record.values, **ends, "line_id": _line_id(store, line, record)}
    return {"line_element": store.buffer.insert(LineElement, row, source)}


def _create_line_end(store: Store, record: Record, source: int) -> Rows:
    line, node = record.key
    row = {**record.values, "line_id": _line_id(store, line, record), "node": node}
    return {"line_end": store.buffer.insert(LineEnd, row, source)}


def _line_id(store: Store, number: str, record: Record) -> int:
    return store.need("line", (number,), "line", record)


CREATE: dict[str, Callable[[Store, Record, int], Rows]] = {
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
    "line node": _create_line_node,
    "line element": _create_line_element,
    "line end": _create_line_end,
}
