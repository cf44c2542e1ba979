"""What the rules ask of the register, read table by table into columns; never row by row."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from supports.model import (
    Area,
    Assembly,
    Attachment,
    AuditBatch,
    DesignCase,
    HardwarePiece,
    Line,
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
from supports.queries.holding import holding_calculations
from supports.queries.narrowing import only
from supports.queries.plant_days import day_at
from supports.queries.unit_history import stops_in
from supports.queries.walkdowns.gaps import gaps_seen
from supports.queries.walkdowns.stops import stops_seen
from supports.rules.facts import (
    ANSWERS,
    CASES,
    KINDS,
    PLATE_NUMBERS,
    PLATE_WORDS,
    STATES,
    Facts,
    Table,
    whole,
)
from supports.rules.frame import IntColumn, day_number, numbers, texts
from supports.rules.place_columns import CALCULATED_WITH, PLACE_NUMBERS
from supports.vocabulary import Known

Points = Collection[int] | None
"""Ids of support points; None means the whole plant."""

_KIND = {str(kind): number for number, kind in enumerate(KINDS)}
_CASE = {str(kind): number for number, kind in enumerate(CASES)}
_STATE = {str(state): number for number, state in enumerate(STATES)}
_ANSWER = {str(answer): number for number, answer in enumerate(ANSWERS)}


def columns(session: Session, query: Select[*tuple[Any, ...]]) -> dict[str, list[Any]]:
    """Return the rows of a query as one list a column."""
    result = session.connection().execute(query)
    names = list(result.keys())
    rows = result.all()
    return dict(zip(names, map(list, zip(*rows, strict=True)), strict=True)) if rows else {
        name: [] for name in names
    }  # fmt: skip


@dataclass(frozen=True, slots=True)
class Places:
    """Where each id stands in its table of facts."""

    ids: IntColumn

    def of(self, ids: Iterable[int]) -> IntColumn:
        """Return the place of each id; -1 for one that is not there."""
        wanted = whole(ids)
        if len(self.ids) == 0:
            return np.full(len(wanted), -1)
        order = np.argsort(self.ids, kind="stable")
        found = np.minimum(np.searchsorted(self.ids[order], wanted), len(self.ids) - 1)
        return np.where(self.ids[order][found] == wanted, order[found], -1)


def register_facts(session: Session, today: date, points: Points = None) -> Facts:
    """Return what the register holds of some supports, or of all."""
    point_table = _points(session, points)
    places = Places(point_table["id"])
    held = None if points is None else _lines_held(session, points)
    lines = _lines(session, held)
    line_places = Places(lines["id"])
    units = _units(session, points, places)
    unit_places = Places(units["id"])
    wanted = None if points is None else units["id"].tolist()
    calculations = holding_calculations(session, held)
    required, cases = _required(session, points, places, (line_places, calculations))
    return Facts(
        points=point_table,
        lines=lines,
        attachments=_attachments(session, points, places, line_places),
        units=units,
        settings=_settings(session, wanted, unit_places),
        readings=_readings(session, wanted, unit_places),
        pieces=_pieces(session, points, places),
        required=required,
        case_names=cases,
        today=day_number(today),
    )


def _points(session: Session, points: Points) -> Table:
    query = (
        select(
            SupportPoint.id,
            SupportTag.tag,
            SupportTag.matching_key,
            SupportPoint.kind,
            SupportPoint.criticality,
            SupportPoint.in_service,
            Area.code.label("area"),
            Assembly.arrangement,
            Assembly.id.label("assembly"),
            Assembly.arm_a,
            Assembly.arm_b,
            Assembly.beam_mass,
            Assembly.rod_length,
            Assembly.rod_offset,
            Assembly.designed_for_fill,
            *(getattr(Assembly, name) for name in PLACE_NUMBERS),
        )
        .join(SupportTag, (SupportTag.point_id == SupportPoint.id) & SupportTag.valid_to.is_(None))
        .join(Assembly, Assembly.point_id == SupportPoint.id)
        .outerjoin(Area, SupportPoint.area_id == Area.id)
        .order_by(SupportPoint.id)
    )
    found = columns(session, only(query, SupportPoint.id, points))
    plain = ("arm_a", "arm_b", "beam_mass", "rod_length", "rod_offset", *PLACE_NUMBERS)
    words = (
        "tag", "matching_key", "criticality", "in_service", "area", "arrangement",
        "designed_for_fill",
    )  # fmt: skip
    gaps = gaps_seen(session)
    return {
        "id": whole(found["id"]),
        "gap_seen": numbers(gaps.get(point) for point in found["id"]),
        "assembly": whole(found["assembly"]),
        "kind": whole(_KIND[kind] for kind in found["kind"]),
        **{name: numbers(found[name]) for name in plain},
        **{name: texts(found[name]) for name in words},
    }


def _lines_held(session: Session, points: Points) -> list[int]:
    query = select(Attachment.line_id).distinct()
    return list(session.scalars(only(query, Attachment.point_id, points)))


def _lines(session: Session, held: Collection[int] | None) -> Table:
    query = select(
        Line.id,
        Line.number,
        Line.criticality,
        Line.operating_temperature,
        Line.creep_or_high_energy,
        Line.pipe_mass_per_length,
        Line.insulation_mass_per_length,
        Line.content_mass_per_length,
    ).order_by(Line.id)
    found = columns(session, only(query, Line.id, held))
    ends = select(NozzleLimit.line_id, NozzleLimit.machine)
    limited = columns(session, only(ends, NozzleLimit.line_id, held))
    nozzles = set(limited["line_id"])
    machines = {
        line
        for line, machine in zip(limited["line_id"], limited["machine"], strict=True)
        if machine == Known.YES
    }
    masses = [
        numbers(found[f"{what}_mass_per_length"]) for what in ("pipe", "insulation", "content")
    ]
    said = {Known.YES: 1.0, Known.NO: 0.0}
    return {
        "id": whole(found["id"]),
        "number": texts(found["number"]),
        "criticality": texts(found["criticality"]),
        "operating_temperature": numbers(found["operating_temperature"]),
        "creep_or_high_energy": numbers(said.get(a) for a in found["creep_or_high_energy"]),
        "mass_per_length": sum(masses[1:], start=masses[0]),
        "insulation_mass": masses[1],
        "content_mass": masses[2],
        "near_nozzle": numbers(float(line in nozzles) for line in found["id"]),
        "near_machine": numbers(float(line in machines) for line in found["id"]),
    }


def _attachments(session: Session, points: Points, places: Places, line_places: Places) -> Table:
    query = select(
        Attachment.point_id,
        Attachment.line_id,
        Attachment.order_along,
        Attachment.distance_along,
        Attachment.arm,
        Attachment.node,
    ).order_by(Attachment.id)
    found = columns(session, only(query, Attachment.point_id, points))
    return {
        "point": places.of(found["point_id"]),
        "line": line_places.of(found["line_id"]),
        "order_along": numbers(found["order_along"]),
        "distance_along": numbers(found["distance_along"]),
        "arm": numbers(found["arm"]),
        "has_node": numbers(float(bool(node)) for node in found["node"]),
    }


def _units(session: Session, points: Points, places: Places) -> Table:
    plate = [getattr(Nameplate, name) for name in (*PLATE_NUMBERS, *PLATE_WORDS)]
    query = (
        select(
            Unit.id,
            Unit.kind,
            Unit.serial,
            Unit.series,
            Unit.year_built,
            Assembly.point_id,
            UnitPlacement.assembly_id,
            UnitPlacement.position,
            Nameplate.id.label("plate"),
            Nameplate.provisional,
            Nameplate.load_per_turn_table,
            Nameplate.body_temperature_limit,
            *plate,
        )
        .select_from(UnitPlacement)
        .where(UnitPlacement.until.is_(None))
        .join(Unit, UnitPlacement.unit_id == Unit.id)
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .outerjoin(Nameplate, Nameplate.unit_id == Unit.id)
        .order_by(Assembly.point_id, UnitPlacement.position)
    )
    found = columns(session, only(query, Assembly.point_id, points))
    stops = stops_in(session, None if points is None else found["id"])
    seen = stops_seen(session)
    return {
        "id": whole(found["id"]),
        "point": places.of(found["point_id"]),
        "assembly": whole(found["assembly_id"]),
        "position": texts(found["position"]),
        "kind": whole(_KIND[kind] for kind in found["kind"]),
        "serial": texts(found["serial"]),
        "series": texts(found["series"]),
        "built_day": numbers(_first_of(year) for year in found["year_built"]),
        "has_plate": numbers(float(plate is not None) for plate in found["plate"]),
        "provisional": numbers(float(p == Known.YES) for p in found["provisional"]),
        "load_per_turn_table": texts(found["load_per_turn_table"]),
        "stops_in": numbers(float(len(stops.get(unit, ()))) for unit in found["id"]),
        "stop_seen": texts(seen.get(unit, "") for unit in found["id"]),
        **{name: numbers(found[name]) for name in PLATE_NUMBERS},
        **{name: texts(found[name]) for name in PLATE_WORDS},
        "body_temperature_limit": numbers(found["body_temperature_limit"]),
    }


def _first_of(year: int | None) -> float | None:
    return None if year is None else day_number(date(year, 1, 1))


def _settings(session: Session, units: Points, places: Places) -> Table:
    query = select(
        SettingEvent.unit_id,
        SettingEvent.happened_on,
        SettingEvent.load,
        SettingEvent.plant_state,
        SettingEvent.turns_given,
        SettingEvent.set_by,
        SettingEvent.work_order_line_id,
    ).order_by(SettingEvent.happened_on, SettingEvent.id)
    found = columns(session, only(query, SettingEvent.unit_id, units))
    founded = session.scalar(select(func.min(AuditBatch.written_at)))
    days = numbers(day_number(day) for day in found["happened_on"])
    kept = founded is not None and days >= day_number(day_at(session, founded))
    return _in_place(
        {
            "unit": places.of(found["unit_id"]),
            "day": days,
            "live": np.broadcast_to(np.asarray(kept, dtype=float), days.shape),
            "load": numbers(found["load"]),
            "state": whole(_STATE[state] for state in found["plant_state"]),
            "turns_given": numbers(found["turns_given"]),
            "set_by": texts(found["set_by"]),
            "ordered": numbers(float(line is not None) for line in found["work_order_line_id"]),
        }
    )


def _in_place(table: dict[str, Any]) -> Table:
    """Return the events of units that hang somewhere now."""
    kept = table["unit"] >= 0
    return {name: column[kept] for name, column in table.items()}


_READ = (
    "pipe_temperature", "body_temperature", "scale_load", "pointer", "cell_raising",
    "cell_lowering", "rod_angle",
)  # fmt: skip


def _readings(session: Session, units: Points, places: Places) -> Table:
    read = [getattr(Reading, name) for name in _READ]
    query = select(Reading.unit_id, Reading.read_on, Reading.plant_state, *read).order_by(
        Reading.read_on, Reading.id
    )
    found = columns(session, only(query, Reading.unit_id, units))
    return _in_place(
        {
            "unit": places.of(found["unit_id"]),
            "day": numbers(day_number(day) for day in found["read_on"]),
            "state": whole(_STATE[state] for state in found["plant_state"]),
            **{name: numbers(found[name]) for name in _READ},
        }
    )


def _pieces(session: Session, points: Points, places: Places) -> Table:
    plain = ("rated_load", "rating_temperature", "mass", "derating", "adjustment_left")
    words = ("branch", "kind", "size", "thread_in_sight")
    piece = [getattr(HardwarePiece, name) for name in (*plain, *words)]
    query = (
        select(HardwarePiece.id, Assembly.point_id, HardwarePiece.position, *piece)
        .join(Assembly, HardwarePiece.assembly_id == Assembly.id)
        .order_by(HardwarePiece.assembly_id, HardwarePiece.branch, HardwarePiece.position)
    )
    found = columns(session, only(query, Assembly.point_id, points))
    return {
        "id": whole(found["id"]),
        "point": places.of(found["point_id"]),
        "position": whole(found["position"]),
        **{name: numbers(found[name]) for name in plain},
        **{name: texts(found[name]) for name in words},
    }


def _required(
    session: Session,
    points: Points,
    places: Places,
    lines: tuple[Places, Mapping[int, int]],
) -> tuple[Table, tuple[str, ...]]:
    """Return the loads of the calculation that holds for each line."""
    line_places, calculations = lines
    query = (
        select(
            RequiredLoad.point_id,
            RequiredLoad.line_id,
            RequiredLoad.calculation_id,
            DesignCase.name,
            DesignCase.kind,
            RequiredLoad.load,
            RequiredLoad.includes_hardware,
            RequiredLoad.movement_up,
            RequiredLoad.movement_east,
            RequiredLoad.movement_north,
            *(getattr(RequiredLoad, name) for name in CALCULATED_WITH),
        )
        .join(DesignCase, RequiredLoad.case_id == DesignCase.id)
        .where(RequiredLoad.calculation_id.in_(set(calculations.values())))
        .order_by(RequiredLoad.id)
    )
    found = columns(session, only(query, RequiredLoad.point_id, points))
    names = list(dict.fromkeys(found["name"]))
    numbered = {name: place for place, name in enumerate(names)}
    pairs = zip(found["line_id"], found["calculation_id"], strict=True)
    held = np.array([calculations.get(line) == one for line, one in pairs], dtype=bool)
    east, north = numbers(found["movement_east"]), numbers(found["movement_north"])
    table = {
        "point": places.of(found["point_id"]),
        "line": line_places.of(found["line_id"]),
        "case": whole(numbered[name] for name in found["name"]),
        "kind": whole(_CASE[kind] for kind in found["kind"]),
        "load": numbers(found["load"]),
        "includes": whole(_ANSWER[a or Known.UNKNOWN] for a in found["includes_hardware"]),
        "up": numbers(found["movement_up"]),
        "side": np.hypot(east, north),
        "east": east,
        "north": north,
        **{name: numbers(found[name]) for name in CALCULATED_WITH},
    }
    return {name: column[held] for name, column in table.items()}, tuple(names)


def doubles(values: Iterable[Any]) -> list[float]:
    """Return for each value how often it occurs; '' and None are not counted."""
    listed = list(values)
    count = Counter(value for value in listed if value)
    return [float(count.get(value, 0)) for value in listed]
