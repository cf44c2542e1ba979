"""What the register knows of some supports, as plain tables of columns.

The tables are filled from frozen views (`facts_of_views`) or straight from the database; frames
for the rules are made from them in one way only. Rows point at each other by their place in the
other table, -1 for none.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np

from supports.rules.frame import Column, day_number, numbers, texts
from supports.snapshots import NameplateView, ReadingView, SettingView, SupportView, UnitView
from supports.vocabulary import CaseKind, Known, PlantState, SupportKind

Table = Mapping[str, Any]
"""Columns of one length: numpy arrays of numbers, whole numbers or words."""

KINDS = tuple(SupportKind)
CASES = tuple(CaseKind)
STATES = tuple(PlantState)
ANSWERS = tuple(Known)

PLATE_NUMBERS = (
    "nameplate_load", "range_low", "range_high", "load_per_turn", "load_bolts", "bolt_pitch",
    "free_to_increase", "free_to_decrease", "total_travel", "design_travel", "cold_mark",
    "hot_mark", "deviation", "stop_rating", "rate", "working_low", "working_high", "hot_load",
    "cold_load", "movement", "thread_pitch",
)  # fmt: skip
PLATE_WORDS = (
    "source", "scale_unit", "pointer_unit", "turn_counts", "zero_end", "setting_changes_travel",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Facts:
    """Tables about some supports.

    Parameters
    ----------
    points
        id, tag, kind (number in `KINDS`), arrangement, criticality, area, in_service, arm_a,
        arm_b, beam_mass, rod_length, rod_offset, gap_seen (on the last walk), and what else is
        on record of the place.
    lines
        id, number, near_nozzle, near_machine, and what else is known of each line.
    attachments
        point, line, order_along, distance_along, arm, has_node.
    units
        id, point, position, kind, serial, the nameplate's columns, load_per_turn_table,
        provisional, has_plate, stops_in, stop_seen (on the last walk).
    settings, readings
        unit and the event's columns, oldest first.
    pieces
        point, branch, position, kind, size, rated_load, rating_temperature, mass, derating,
        adjustment_left; in the order of the stack.
    required
        point, line, case, kind (number in `CASES`), load, includes (number in `ANSWERS`), up, side,
        east, north, and what the calculation took from the nameplate.
    """

    points: Table
    lines: Table
    attachments: Table
    units: Table
    settings: Table
    readings: Table
    pieces: Table
    required: Table
    case_names: Sequence[str] = ()
    today: float = 0.0


def whole(values: Iterable[int]) -> Any:
    """Return whole numbers as a column."""
    return np.array(list(values), dtype=np.int64)


def facts_of_views(
    supports: Sequence[SupportView],
    *,
    near_nozzle: Collection[str] = (),
    near_machine: Collection[str] = (),
    today: date | None = None,
) -> Facts:
    """Return the facts that frozen views hold.

    Parameters
    ----------
    near_nozzle, near_machine
        Numbers of lines with load-limited nozzles, and with nozzles of machines.
    """
    lines = {n: i for i, n in enumerate(dict.fromkeys(n for s in supports for n in _lines(s)))}
    units = [(i, unit) for i, s in enumerate(supports) for unit in s.units]
    cases = {
        n: i for i, n in enumerate(dict.fromkeys(r.case for s in supports for r in s.required))
    }
    return Facts(
        points=_points(supports),
        lines={
            "id": whole(lines.values()),
            "number": texts(lines),
            "near_nozzle": numbers(float(n in near_nozzle) for n in lines),
            "near_machine": numbers(float(n in near_machine) for n in lines),
        },
        attachments=_attachments(supports, lines),
        units=_units(units),
        settings=_settings([(i, u.setting) for i, (_, u) in enumerate(units) if u.setting]),
        readings=_readings(
            [(i, u.last_reading) for i, (_, u) in enumerate(units) if u.last_reading]
        ),
        pieces=_pieces(supports),
        required=_required(supports, lines, cases),
        case_names=tuple(cases),
        today=0.0 if today is None else day_number(today),
    )


def _lines(support: SupportView) -> list[str]:
    return [*support.lines, *(r.line for r in support.required)]


def _points(supports: Sequence[SupportView]) -> Table:
    plain = ("arm_a", "arm_b", "beam_mass", "rod_length", "rod_offset")
    words = ("tag", "criticality", "area", "arrangement", "in_service")
    return {
        "id": whole(s.id for s in supports),
        "gap_seen": numbers(None for _ in supports),
        "kind": whole(KINDS.index(s.kind) for s in supports),
        **{name: numbers(getattr(s, name) for s in supports) for name in plain},
        **{name: texts(str(getattr(s, name)) for s in supports) for name in words},
    }


def _attachments(supports: Sequence[SupportView], lines: Mapping[str, int]) -> Table:
    rows = [(i, a) for i, s in enumerate(supports) for a in s.attachments]
    return {
        "point": whole(i for i, _ in rows),
        "line": whole(lines[a.line] for _, a in rows),
        "order_along": numbers(a.order_along for _, a in rows),
        "distance_along": numbers(a.distance_along for _, a in rows),
        "arm": numbers(a.arm for _, a in rows),
        "has_node": numbers(float(bool(a.node)) for _, a in rows),
    }


def _units(units: Sequence[tuple[int, UnitView]]) -> Table:
    plates = [u.nameplate or NameplateView() for _, u in units]
    return {
        "id": whole(u.id for _, u in units),
        "point": whole(i for i, _ in units),
        "position": texts(u.position for _, u in units),
        "kind": whole(KINDS.index(u.kind) for _, u in units),
        "serial": texts(u.serial for _, u in units),
        "has_plate": numbers(float(u.nameplate is not None) for _, u in units),
        "provisional": numbers(float(p.provisional) for p in plates),
        "load_per_turn_table": texts(p.load_per_turn_table or None for p in plates),
        "stops_in": numbers(float(len(u.stops_in)) for _, u in units),
        "stop_seen": texts([""] * len(units)),
        **{name: numbers(getattr(p, name) for p in plates) for name in PLATE_NUMBERS},
        **{name: texts(str(getattr(p, name)) for p in plates) for name in PLATE_WORDS},
    }


def _settings(rows: Sequence[tuple[int, SettingView]]) -> Table:
    return {
        "unit": whole(i for i, _ in rows),
        "day": numbers(day_number(s.happened_on) for _, s in rows),
        "load": numbers(s.load for _, s in rows),
        "state": whole(STATES.index(s.plant_state) for _, s in rows),
        "turns_given": numbers(None for _ in rows),
        "set_by": texts(s.set_by for _, s in rows),
    }


def _readings(rows: Sequence[tuple[int, ReadingView]]) -> Table:
    unread = ("pipe_temperature", "cell_lowering", "cell_raising", "rod_angle")
    empty: Column = numbers(None for _ in rows)
    return {
        "unit": whole(i for i, _ in rows),
        "day": numbers(day_number(r.read_on) for _, r in rows),
        "state": whole(STATES.index(PlantState(r.plant_state)) for _, r in rows),
        "scale_load": numbers(r.scale_load for _, r in rows),
        "pointer": numbers(r.pointer for _, r in rows),
        **dict.fromkeys(unread, empty),
    }


def _pieces(supports: Sequence[SupportView]) -> Table:
    rows = [(i, p) for i, s in enumerate(supports) for p in s.hardware]
    plain = ("rated_load", "mass", "derating", "adjustment_left")
    return {
        "point": whole(i for i, _ in rows),
        "branch": texts(p.branch for _, p in rows),
        "position": whole(p.position for _, p in rows),
        "kind": texts(p.kind for _, p in rows),
        "size": texts(p.size for _, p in rows),
        "rating_temperature": numbers(None for _ in rows),
        **{name: numbers(getattr(p, name) for _, p in rows) for name in plain},
    }


def _required(
    supports: Sequence[SupportView], lines: Mapping[str, int], cases: Mapping[str, int]
) -> Table:
    rows = [(i, r) for i, s in enumerate(supports) for r in s.required]
    side = [
        None if r.movement_east is None or r.movement_north is None
        else (r.movement_east**2 + r.movement_north**2) ** 0.5
        for _, r in rows
    ]  # fmt: skip
    return {
        "point": whole(i for i, _ in rows),
        "line": whole(lines[r.line] for _, r in rows),
        "case": whole(cases[r.case] for _, r in rows),
        "kind": whole(CASES.index(r.case_kind) for _, r in rows),
        "load": numbers(r.load for _, r in rows),
        "includes": whole(ANSWERS.index(r.includes_hardware) for _, r in rows),
        "up": numbers(r.movement_up for _, r in rows),
        "side": numbers(side),
        "east": numbers(r.movement_east for _, r in rows),
        "north": numbers(r.movement_north for _, r in rows),
    }
