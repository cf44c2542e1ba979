"""An invented plant of sound supports into which faults are planted, each with what it must raise.

It has arithmetic of its own and uses no code of the rules; `planted_rows` writes it to the tables.
A sound support carries 6.0 m of pipe of 103.7 kg/m, 6.10 kN, and everything about it agrees. Every
fault says by hand which rules must find it there; figures are invented.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

TODAY = date(2031, 5, 6)
PER_LINE = 20
LOAD = 6_100.0
KINDS = ("constant hanger", "variable hanger", "rest")
Row = dict[str, Any]
Found = set[tuple[str, str]]


def ago(days: int) -> date:
    return TODAY - timedelta(days=days)


@dataclass
class Support:
    """One support point with the rows of all its tables."""

    number: int
    kind: str
    point: Row
    tag: Row
    assembly: Row
    attachment: Row | None
    loads: list[Row]
    unit: Row | None = None
    plate: Row | None = None
    settings: list[Row] = field(default_factory=list)
    readings: list[Row] = field(default_factory=list)
    pieces: list[Row] = field(default_factory=list)
    stops: list[Row] = field(default_factory=list)
    former: list[Row] = field(default_factory=list)

    @property
    def name(self) -> str:
        return self.tag["tag"]

    @property
    def line(self) -> int:
        return (self.number - 1) // PER_LINE + 1

    def load(self, **changes: Any) -> None:
        for row in self.loads:
            row.update(changes)

    def piece(self, kind: str, **changes: Any) -> None:
        next(p for p in self.pieces if p["kind"] == kind).update(changes)

    def set_to(self, load: float, hot: float | None = None) -> None:
        """Set the unit to a load and let every scale agree with it."""
        self.settings[-1]["load"] = load
        for row in self.readings:
            row["scale_load"] = load
        if hot is not None:
            self.readings[-1]["scale_load"] = hot

    def pointers(self, cold: float | None, hot: float | None) -> None:
        self.readings[0]["pointer"], self.readings[1]["pointer"] = cold, hot


def sound(number: int) -> Support:
    """Return a support about which everything agrees."""
    place = (number - 1) % PER_LINE
    kind = KINDS[place % 3]
    line = (number - 1) // PER_LINE + 1
    common = {"calculation_id": line, "point_id": number, "line_id": line}
    up = {"constant hanger": -0.100, "variable hanger": 0.015, "rest": 0.0}[kind]
    case = {**common, "load": LOAD, "includes_hardware": "yes", "row_version": 1}
    moves = {"movement_up": up, "movement_east": 0.010, "movement_north": 0.0}
    support = Support(
        number=number,
        kind=kind,
        point={"id": number, "kind": kind, "in_service": "in place", "criticality": "C"},
        tag={"point_id": number, "tag": f"PS-{number:05}", "matching_key": f"PS{number:05}"},
        assembly={"id": number, "point_id": number, "arrangement": "single", "rod_length": 1.2},
        attachment={
            "point_id": number, "line_id": line, "order_along": place + 1,
            "distance_along": 6.0 * place, "node": f"N{number}",
        },
        loads=[
            {**case, **moves, "case_id": 3 * line - 2},
            {**case, **moves, "case_id": 3 * line - 1},
        ],
    )  # fmt: skip
    if kind != "rest":
        _hang(support)
    return support


def _hang(support: Support) -> None:
    """Give the support a unit, its plate, its history and its hardware."""
    number, constant = support.number, support.kind == "constant hanger"
    support.unit = {"id": number, "kind": support.kind, "serial": f"S{number:05}"}
    support.plate = {"unit_id": number, "source": "plate", "scale_unit": "kN"}
    support.plate |= _constant_plate() if constant else _variable_plate()
    cold = LOAD if constant else LOAD + 40_000.0 * 0.015
    event = {"unit_id": number, "method": "scale", "set_by": "A. Person"}
    support.settings = [
        {**event, "happened_on": ago(3000), "load": cold, "plant_state": "shut down, drained"}
    ]
    read = {"unit_id": number, "read_by": "B. Person", "method": "scale", "occasion": "walkdown"}
    support.readings = [
        {**read, "read_on": ago(100), "plant_state": "shut down, drained", "scale_load": cold},
        {**read, "read_on": ago(90), "plant_state": "operating, steady", "scale_load": LOAD},
    ]
    if constant:
        support.pointers(0.050, 0.150)
    stack = (
        ("lug", "", 20_000.0, 1.0), ("unit", "", 15_000.0, 60.0), ("rod", "M20", 10_000.0, 3.0),
        ("turnbuckle", "M20", 10_000.0, 2.0), ("clamp", "DN 300", 10_000.0, 9.0),
    )  # fmt: skip
    support.pieces = [
        {
            "assembly_id": number, "branch": "A", "position": place, "kind": kind, "size": size,
            "rated_load": rated, "mass": mass, "rating_temperature": 800.0,
        }
        for place, (kind, size, rated, mass) in enumerate(stack, start=1)
    ]  # fmt: skip


def _constant_plate() -> Row:
    return {
        "nameplate_load": LOAD, "range_low": 0.85 * LOAD, "range_high": 1.15 * LOAD,
        "load_per_turn": 80.0, "load_bolts": 1, "bolt_pitch": 0.003, "free_to_increase": 0.1,
        "free_to_decrease": 0.1, "total_travel": 0.2, "design_travel": -0.1, "cold_mark": 0.05,
        "hot_mark": 0.15, "zero_end": "top", "setting_changes_travel": "no",
        "stop_rating": 2.0 * LOAD,
    }  # fmt: skip


def _variable_plate() -> Row:
    return {
        "rate": 40_000.0, "working_low": 4_000.0, "working_high": 8_200.0, "hot_load": LOAD,
        "cold_load": LOAD + 600.0, "movement": 0.015, "stop_rating": 3.0 * LOAD,
    }  # fmt: skip


Fault = Callable[[Support], set[str]]
"""Plants itself in a support; returns the rules that must find it there."""


def _plate(*rules: str, **changes: Any) -> Fault:
    def plant(s: Support) -> set[str]:
        s.plate.update(changes)
        return set(rules)

    return plant


def _set(load: float, *rules: str, **plate: Any) -> Fault:
    def plant(s: Support) -> set[str]:
        s.set_to(load)
        s.plate.update(plate)
        return set(rules)

    return plant


def _pointer(cold: float | None, hot: float | None, *rules: str, **plate: Any) -> Fault:
    def plant(s: Support) -> set[str]:
        s.pointers(cold, hot)
        s.plate.update(plate)
        return set(rules)

    return plant


def _piece(kind: str, *rules: str, **changes: Any) -> Fault:
    def plant(s: Support) -> set[str]:
        s.piece(kind, **changes)
        return set(rules)

    return plant


def _last(*rules: str, **changes: Any) -> Fault:
    def plant(s: Support) -> set[str]:
        s.readings[-1].update(changes)
        return set(rules)

    return plant


def _stiff(s: Support) -> set[str]:
    # 120 N/mm over 15 mm is 1.8 kN of 6.1 kN: 29.5 %
    s.plate.update(rate=120_000.0, cold_load=LOAD + 1_800.0)
    s.set_to(LOAD + 1_800.0, hot=LOAD)
    return {"variability-high"}


def _off_setting(s: Support) -> set[str]:
    # cold 7.1 kN is hot 6.5 kN, 6.2 % above the required load
    s.set_to(LOAD + 1_000.0, hot=LOAD + 400.0)
    return {"variable-needs-re-set"}


def _stop_in(s: Support) -> set[str]:
    s.stops = [{
        "unit_id": s.number, "pin_number": f"P{s.number}", "direction": "in",
        "happened_at": datetime.combine(ago(95), datetime.min.time()), "done_by": "C. Person",
        "reason": "test",
    }]  # fmt: skip
    return {"lock-in-while-running"}


def _weak_stop(s: Support) -> set[str]:
    # 6.1 kN set and 7.0 kN of water against 12.2 kN
    s.loads.append({**s.loads[0], "case_id": 3 * s.line, "load": LOAD + 7_000.0})
    return {"lock-rating-short"}


def _re_set_often(s: Support) -> set[str]:
    s.settings += [{**s.settings[0], "happened_on": ago(days)} for days in (2000, 1000, 500)]
    return {"many-re-sets"}


def _unseen(s: Support) -> set[str]:
    s.readings = []
    return {"never-seen"}


def _half_seen(s: Support) -> set[str]:
    s.readings = s.readings[:1]
    return {"no-hot-cold-pair"}


def _long_ago(s: Support) -> set[str]:
    s.readings[0]["read_on"], s.readings[1]["read_on"] = ago(2000), ago(1990)
    return {"walk-overdue"}


def _future(s: Support) -> set[str]:
    s.settings[-1]["happened_on"] = TODAY + timedelta(days=10)
    return {"date-not-possible"}


def _moved(s: Support) -> set[str]:
    elsewhere = s.number + 1
    s.former = [{"unit_id": s.number, "assembly_id": elsewhere, "position": "Z", "until": ago(900)}]
    return {"unit-moved"}


def _swings(s: Support) -> set[str]:
    s.load(movement_east=0.1)  # 0.1 m on 1.2 m is 4.78°
    return {"rod-swing-large"}


def _lifted(s: Support) -> set[str]:
    s.loads[0]["load"] = 100.0
    return {"rigid-unloaded"}


def _pulled(s: Support) -> set[str]:
    s.loads[0]["load"] = -500.0
    return {"pull-needed-downwards", "rigid-unloaded"}


def _in_pounds(s: Support) -> set[str]:
    s.load(load=LOAD * 224.8)
    return {"unit-size-suspicious"}


def _no_line(s: Support) -> set[str]:
    s.attachment, s.loads = None, []
    return {"point-without-line"}


def _no_node(s: Support) -> set[str]:
    s.attachment["node"] = None
    return {"tag-without-node"}


STEEL = "steel-not-checked"
CONSTANT_FAULTS: tuple[Fault, ...] = (
    _plate("load-outside-field-range", nameplate_load=5_900.0, range_low=5_500.0,
           range_high=6_000.0),
    _plate("load-close-to-range-end", nameplate_load=5_800.0, range_high=6_150.0),
    _set(5_650.0, "constant-needs-re-set", STEEL),
    _set(5_900.0, "difference-inside-band"),
    _set(6_040.0, "difference-inside-tolerance"),
    _set(5_650.0, "constant-needs-re-set", "no-load-per-turn", STEEL, load_per_turn=None),
    _set(5_650.0, "constant-needs-re-set", "load-bolt-thread-short", STEEL,
         free_to_increase=0.01),
    _set(5_650.0, "constant-needs-re-set", "adjustment-changes-travel", STEEL,
         setting_changes_travel="yes"),
    _set(9_999.0, "zero-or-nines", "constant-needs-re-set", load_per_turn=800.0),
    _last("band-too-wide", cell_lowering=6_500.0, cell_raising=5_700.0),
    _last("set-without-record", scale_load=6_500.0),
    _last("set-without-record", "reading-impossible", scale_load=20_000.0),
    _last("state-not-comparable", pipe_temperature=600.0),
    _last("swing-seen-differs", rod_angle=0.1),
    _pointer(None, None, "travel-more-than-unit", total_travel=0.08, cold_mark=0.02,
             hot_mark=0.06),
    _pointer(None, None, "travel-reserve-short", total_travel=0.11, cold_mark=0.02,
             hot_mark=0.09),
    _pointer(0.005, 0.105, "room-at-one-end-short", cold_mark=0.005, hot_mark=0.105),
    _pointer(0.050, 0.200, "on-the-stop", "pointer-not-as-expected"),
    _pointer(0.050, 0.170, "pointer-not-as-expected"),
    _pointer(0.150, 0.050, "pointer-not-as-expected", "moves-the-wrong-way"),
    _pointer(0.115, 0.150, "moves-too-little"),
    _piece("rod", "rod-over-rating", rated_load=6_000.0),
    # 14 kg hang below the unit: the pipe itself pulls 5.96 kN
    _piece("clamp", "clamp-over-rating-hot", rated_load=5_900.0),
    _piece("lug", "weld-or-lug-over", rated_load=5_000.0),
    _piece("rod", "derated-by-condition", derating=0.5),
    _piece("rod", "weakest-piece-unknown", rated_load=None),
    _piece("turnbuckle", "mixed-sizes-in-stack", size="M24"),
    _plate("plate-not-readable", provisional="yes"),
    _plate("range-upside-down", range_low=1.15 * LOAD, range_high=0.85 * LOAD),
    _plate("type-and-data-disagree", rate=40_000.0),
    _re_set_often, _stop_in, _weak_stop, _unseen, _half_seen, _long_ago, _future, _moved, _swings,
    _no_line, _no_node,
)  # fmt: skip
VARIABLE_FAULTS: tuple[Fault, ...] = (
    _plate("variable-outside-working-range", working_high=6_500.0),
    _plate("hot-cold-swapped", movement=-0.015),
    _plate("rate-does-not-fit", cold_load=7_000.0),
    _stiff, _off_setting, _unseen, _half_seen, _stop_in,
)  # fmt: skip
REST_FAULTS: tuple[Fault, ...] = (_lifted, _pulled, _in_pounds, _no_line, _no_node)
FAULTS = dict(zip(KINDS, (CONSTANT_FAULTS, VARIABLE_FAULTS, REST_FAULTS), strict=True))


def plant(size: int, every: int) -> tuple[list[Support], Found]:
    """Return supports with a fault in about every n-th, and all (rule, name) to be found.

    Faulty supports are never the ends of a line, where half the spans are not known.
    """
    supports = [sound(number) for number in range(1, size + 1)]
    wanted: Found = set()
    turn = dict.fromkeys(KINDS, 0)
    for support in supports[every::every]:
        if not 2 <= (support.number - 1) % PER_LINE <= PER_LINE - 3:
            continue
        faults = FAULTS[support.kind]
        rules = faults[turn[support.kind] % len(faults)](support)
        turn[support.kind] += 1
        wanted |= {(rule, where(support, rule)) for rule in rules}
    return supports, wanted


PIECES = {
    "rod-over-rating": 3, "clamp-over-rating-hot": 5, "weld-or-lug-over": 1,
    "derated-by-condition": 3,
}  # fmt: skip


def where(support: Support, rule: str) -> str:
    """Return the name under which a rule must report."""
    if rule in PIECES:
        return f"{support.name} branch A piece {PIECES[rule]}"
    return support.name
