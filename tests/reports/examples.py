"""Contents of an invented line, for the tests of the papers.

Plant, names and numbers are invented; the loads of C-101 follow a worked example of the trade done
by hand (8.4 turns of 0.25 kN from 20.0 to 22.1 kN).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from reports.contents.common import (
    Amount,
    Direction,
    LoadBasis,
    Missing,
    PageSize,
    PaperHead,
    Signature,
    TravelStopState,
    Turns,
)
from reports.contents.load_change_summary import (
    Assumption,
    CaseLoad,
    DataDoubt,
    InBetweenState,
    LoadChangeSummary,
    SupportRow,
    WeightItem,
    WeightTable,
)
from reports.contents.resetting_pack import (
    HoldPoint,
    LoadScale,
    Neighbour,
    NozzlePage,
    NozzleReading,
    PointerGauge,
    ResettingPack,
    TravelStopEntry,
    TurnedPart,
    TurnJob,
    TurnRound,
    UnitSheet,
)
from supports.units import Kind, to_si
from supports.vocabulary import Verdict

LBF = to_si(1.0, "lbf", Kind.LOAD)
BASIS = LoadBasis(
    calculation="LC-0417",
    revision="B",
    method="hand method, lever shares between neighbours",
    sign_convention="load positive where it carries the pipe; movement up positive",
    screening=True,
    cases=("operating, full", "cold, full", "cold, drained"),
)


PAGE = PageSize.A4


def full_head() -> PaperHead:
    """Return a head in which everything stands."""
    return replace(
        head("Paper", "P-1"), approved_by="C. Test", chain_head="0A1B-2C3D-4E5F", copy_number="3"
    )


def head(title: str, number: str) -> PaperHead:
    return PaperHead(
        title=title,
        number=number,
        about="Line 2-HS-0412, change CH-0087: relief valve and silencer added",
        revision="B",
        made=datetime(2026, 3, 14, 9, 20),  # noqa: DTZ001 - papers take the time as given
        fingerprint="7c1e 94ab 20d3",
        valid_until="2026-05-31 or revision C",
        plant="Norrholm works, unit 2",
        prepared_by="A. Example",
        checked_by="B. Sample",
    )


def rounds(start: float, per_turn: float, *parts: tuple[int, int]) -> tuple:
    """Return rounds whose expected readings follow from the turns by hand arithmetic."""
    made, load = [], start
    for number, (whole, flats) in enumerate(parts, 1):
        turns = Turns(whole, flats)
        step = per_turn * turns.total
        load += step
        slack = 0.2 * abs(step)
        made.append(TurnRound(number, turns, load, load - slack, load + slack))
    return tuple(made)


def gauge(unit: str, length: float, zero: str, *marks: float, **last: object) -> PointerGauge:
    """Return a pointer gauge with zero at the 'top' or the 'bottom', marks cold and hot."""
    cold, hot = marks
    return PointerGauge(
        unit, length, zero_at_top=zero == "top", cold_mark=cold, hot_mark=hot, **last
    )


def constant_in_range() -> UnitSheet:
    return UnitSheet(
        order=3, tag="C-101", point_id="PT-000317", serial="K 20114/3", kind="constant hanger",
        place="Floor 4, row C/12, north side, 6.2 m above grating", verdict=Verdict.RE_SET,
        scale=LoadScale("kN", "lbf", 20000.0, 17000.0, 23000.0, 20000.0, 22100.0, 21658.0, 22542.0,
                        used_share=0.70, room_up_turns=3.6, room_down_turns=20.4),
        job=TurnJob(
            TurnedPart.LOAD_BOLT, "top of housing, west end", Direction.INCREASE,
            "CLOCKWISE INCREASES, SEEN FROM ABOVE", Turns(8, 2),
            rounds(20000.0, 250.0, (3, 0), (3, 0), (2, 2)), 250.0,
            "turn with the travel stop OUT", wrench="46 mm", thread_needed=0.0252,
            thread_free=0.040,
        ),
        gauge=gauge("mm", 0.200, "top", 0.040, 0.180, last_cold=0.042, last_cold_date="Apr 2025",
                    last_hot=0.171, last_hot_date="Feb 2026",
                           expected=0.040),
        stored_energy=22100.0 * 0.140, near_nozzle=True, travel_stop_number="L-14",
        travel_stop=TravelStopState.FITTED,
    )  # fmt: skip


def constant_in_pounds() -> UnitSheet:
    return UnitSheet(
        order=4, tag="C-102", point_id="PT-000318", serial="77-4410", kind="constant hanger",
        place="Floor 4, row C/14", verdict=Verdict.RE_SET,
        scale=LoadScale("lbf", "kN", 4500 * LBF, 4050 * LBF, 4950 * LBF, 4500 * LBF, 4830 * LBF,
                        4733 * LBF, 4927 * LBF, hand_mark=4610 * LBF, used_share=330 / 450,
                        room_up_turns=2.2, room_down_turns=14.2),
        job=TurnJob(
            TurnedPart.LOAD_BOLT, "under the housing, both ends", Direction.INCREASE,
            "arrow INC. on the bolt plate", Turns(6),
            rounds(4500 * LBF, 55 * LBF, (2, 0), (2, 0), (2, 0)), 55 * LBF,
            "turn with the travel stop OUT", bolts=2, wrench='1 7/8"',
        ),
        gauge=gauge("in", 8 * 0.0254, "bottom", 6.5 * 0.0254, 2.0 * 0.0254),
        stored_energy=4830 * LBF * 4.5 * 0.0254, travel_stop_number="L-15",
        travel_stop=TravelStopState.OUT,
    )  # fmt: skip


def trapeze(tag: str, other: str, order: int, start: float, q: float, *parts: tuple) -> UnitSheet:
    end = start + 2500.0 if tag.endswith("A") else start + 1500.0
    return UnitSheet(
        order=order, tag=tag, point_id=f"PT-00032{order}", serial=f"S-99{order}",
        kind="constant hanger", place="Floor 5, trapeze at row D/15", verdict=Verdict.RE_SET,
        scale=LoadScale("kN", "lbf", start, 0.85 * start, 1.15 * start, start, end,
                        0.98 * end, 1.02 * end, used_share=(end - start) / (0.15 * start),
                        room_up_turns=(1.15 * start - end) / q,
                        room_down_turns=(end - 0.85 * start) / q),
        job=TurnJob(
            TurnedPart.LOAD_BOLT, "top of housing", Direction.INCREASE, "TURN RIGHT: MORE LOAD",
            Turns(sum(part[0] for part in parts) + sum(part[1] for part in parts) // 6,
                  sum(part[1] for part in parts) % 6),
            rounds(start, q, *parts), q, "turn with the travel stop OUT", wrench="36 mm",
        ),
        gauge=gauge("mm", 0.150, "top", 0.030, 0.110), partners=(other,),
        stored_energy=end * 0.08, travel_stop_number=f"L-2{order}",
        travel_stop=TravelStopState.FITTED,
    )  # fmt: skip


def variable() -> UnitSheet:
    return UnitSheet(
        order=7, tag="V-104", point_id="PT-000331", serial="VS-3318", kind="variable hanger",
        place="Floor 3, row D/18", verdict=Verdict.RE_SET,
        scale=LoadScale("kN", "lbf", 13200.0, 8000.0, 16000.0, 13450.0, 14700.0, 14406.0, 14994.0,
                        used_share=0.54, room_up_turns=2.7, room_down_turns=14.0),
        job=TurnJob(
            TurnedPart.TAKE_UP, "turnbuckle M24, 1.1 m below the unit", Direction.INCREASE,
            "no words on the turnbuckle: shorten the rod", Turns(3, 1),
            rounds(13450.0, 480.0, (1, 0), (1, 0), (1, 1)), 480.0,
            "travel stop OUT: a locked unit shows nothing", wrench="36 mm",
            take_up_words="Turnbuckle as above.", thread_needed=0.019, thread_free=0.055,
        ),
        gauge=gauge("mm", 0.100, "top", 0.055, 0.040),
        stored_energy=14700.0 * 0.015, travel_stop_number="L-17", travel_stop=TravelStopState.OUT,
        notes=("Reading expected in the cold, full state; the hot reading is 13.50 kN.",),
    )  # fmt: skip


def refused() -> UnitSheet:
    return UnitSheet(
        order=8, tag="C-105", point_id="PT-000340", serial="no serial read", kind="constant rest",
        place="Floor 2, row E/02, behind the cable tray", verdict=Verdict.CANNOT_JUDGE,
        scale=LoadScale("kN", "lbf", 31500.0, 28350.0, 34650.0, 31500.0, 33000.0),
        reasons=("Required 33.00 kN lies inside the range, but the unit may not be turned.",),
        missing=(
            Missing("Direction to increase, in the nameplate's words", "inspector, on the unit"),
            Missing("Load per turn", "maker's data sheet, through the engineer"),
            Missing("May the bolt be turned while locked?", "maker's instruction"),
        ),
        gauge=PointerGauge("mm", 0.120, None),
    )  # fmt: skip


def left_alone() -> UnitSheet:
    return UnitSheet(
        order=2, tag="C-100", point_id="PT-000316", serial="K 20114/2", kind="constant hanger",
        place="Floor 4, row C/10", verdict=Verdict.LEAVE,
        scale=LoadScale("kN", "lbf", 18000.0, 15300.0, 20700.0, 18000.0, 18200.0),
        reasons=("Change 1.1 %: within the tolerance.",), stored_energy=18000.0 * 0.1,
    )  # fmt: skip


def units() -> tuple[UnitSheet, ...]:
    return (
        left_alone(),
        constant_in_range(),
        constant_in_pounds(),
        trapeze("T-103A", "T-103B", 5, 23100.0, 200.0, (2, 3), (2, 3), (2, 3), (2, 3), (2, 3)),
        trapeze("T-103B", "T-103A", 6, 14100.0, 150.0, (2, 0), (2, 0), (2, 0), (2, 0), (2, 0)),
        variable(),
        refused(),
    )


def nozzle() -> NozzlePage:
    return NozzlePage(
        "compressor K-201", "N2 discharge",
        (
            NozzleReading("Flange gap, top", Amount(0.0005, "mm", Kind.LENGTH, 2), "site sheet 12"),
            NozzleReading("Flange gap, north", Amount(0.0005, "mm", Kind.LENGTH, 2), "site sheet"),
            NozzleReading("Flange gap, bottom", Amount(0.0005, "mm", Kind.LENGTH, 2), "site sheet"),
            NozzleReading("Flange gap, south", Amount(0.0005, "mm", Kind.LENGTH, 2), "site sheet"),
            NozzleReading("Offset of bolt holes", Amount(0.001, "mm", Kind.LENGTH, 1), ""),
            NozzleReading("Shaft movement while bolting", Amount(None, "mm", Kind.LENGTH), ""),
        ),
        ((0, 0.92), (1, 0.74), (2, 0.55), (3, 0.41), (4, 0.36), (5, 0.33)),
    )  # fmt: skip


def pack() -> ResettingPack:
    stops = (
        TravelStopEntry("L-14", "C-101", TravelStopState.FITTED, "left in since erection",
                        "2026-02-20", "D. Invented"),
        TravelStopEntry("L-25", "T-103A", TravelStopState.FITTED, "locked for the valve's erection",
                        "2026-03-02", "D. Invented"),
        TravelStopEntry("L-26", "T-103B", TravelStopState.FITTED, "locked for the valve's erection",
                        "2026-03-02", "D. Invented"),
        TravelStopEntry("L-15", "C-102", TravelStopState.OUT),
        TravelStopEntry("?", "C-105", TravelStopState.UNKNOWN, "not seen"),
    )  # fmt: skip
    return ResettingPack(
        head=head("Pack for re-setting spring supports", "RP-0087-B"),
        job="WO-26-1180",
        change_number="CH-0087",
        change_revision="2",
        line="2-HS-0412",
        reason="A relief valve with silencer adds 636.5 kg between C-101 and C-102; constants do "
        "not pick it up until their bolts are turned.",
        aim="Pipe back to its level at the compressor; nozzle below half of its allowable.",
        line_state_needed="cold, drained, insulated; compressor flange open",
        start_authority="shift supervisor, operations",
        basis=BASIS,
        units=units(),
        turning_order=("C-101", "C-102", "T-103A", "T-103B", "V-104"),
        neighbours=(
            Neighbour(1, "R-099", "", "rigid rod", "Floor 4, row C/8"),
            Neighbour(9, "C-106", "K 20114/9", "constant hanger", "Floor 2", "kN", "mm", 12000.0),
        ),
        travel_stops=stops,
        permits=("work permit", "scaffold", "isolation of K-201"),
        crew="2 fitters, 1 reader",
        hours="12 (2 × 6)",
        scaffold_group="S1, up from 04 to 09 May",
        hold_points=(
            HoldPoint(1, "as-found outside its window", "engineer"),
            HoldPoint(2, "end of round 1 near the nozzle", "engineer or deputy"),
            HoldPoint(3, "as-left read twice", "inspector"),
            HoldPoint(4, "travel stops drawn", "operations"),
        ),
        site_stop_rules=("Wind above the scaffold's limit.",),
        telephones=(("Engineer in charge", "ext. 4471"), ("Shift supervisor", "ext. 4400")),
        nozzles=(nozzle(),),
        assumptions=("Valve mass as on the drawing; to be weighed before lifting.",),
        signatures=tuple(
            Signature(role)
            for role in ("Technician", "Second reader", "Foreman", "Inspector", "Engineer")
        ),
    )


def weights() -> WeightTable:
    return WeightTable(
        (
            WeightItem("Relief valve", 410.0, "drawing RV-3 rev 1", 14.2),
            WeightItem("Actuator", 120.0, "maker's sheet", 14.2, 0.6),
            WeightItem("Flanges, 2 off", 124.0, "table", 14.2),
            WeightItem("Bolting", 26.0, "table", 14.2),
            WeightItem("Insulation box", 55.0, "estimate", 14.2),
            WeightItem("Pipe cut out, 0.95 m", -0.95 * 79.7, "79.7 kg/m", 14.2),
            WeightItem("Insulation removed, 0.95 m", -0.95 * 24.0, "24.0 kg/m", 14.2),
        )
    )


def rows() -> tuple[SupportRow, ...]:
    return (
        SupportRow(1, "R-099", "rigid rod", Verdict.LEAVE, "kN", "lbf", 9100.0, 9300.0, "010",
                   distance=0.0, weakest_piece="rod M20", weakest_share=0.62),
        SupportRow(2, "C-100", "constant hanger", Verdict.LEAVE, "kN", "lbf", 18000.0, 18200.0,
                   "020", 18000.0, 15300.0, 20700.0, 5.5, used_share=0.07,
                   weakest_piece="rod M24", weakest_share=0.85),
        SupportRow(3, "C-101", "constant hanger", Verdict.HARDWARE_FAILS, "kN", "lbf", 20000.0,
                   22100.0, "030", 20000.0, 17000.0, 23000.0, 11.0,
                   (CaseLoad("operating", 22100.0, governs=True), CaseLoad("cold, full", 21800.0)),
                   0.70, Turns(8, 2), Direction.INCREASE, "168 of 200 mm", "rod M24", 1.031,
                   ("rod-overloaded",), ("Rod M24 at 103 %: replace by M30 first.",)),
        SupportRow(4, "C-102", "constant hanger", Verdict.RE_SET, "lbf", "kN", 4500 * LBF,
                   4830 * LBF, "040", 4500 * LBF, 4050 * LBF, 4950 * LBF, 17.3,
                   used_share=0.733, turns=Turns(6), direction=Direction.INCREASE,
                   weakest_piece="clamp", weakest_share=0.71),
        SupportRow(5, "T-103A", "constant, trapeze", Verdict.CANNOT_BE_SET, "kN", "lbf", 23100.0,
                   25600.0, "050", 23100.0, 20790.0, 25410.0, 23.0, used_share=1.082,
                   rule_codes=("load-outside-range",),
                   reasons=("25.60 kN is above the high limit 25.41 kN.",)),
        SupportRow(6, "T-103B", "constant, trapeze", Verdict.RE_SET, "kN", "lbf", 14100.0, 15600.0,
                   "050", 14100.0, 11985.0, 16215.0, 23.0, used_share=0.709, turns=Turns(10),
                   direction=Direction.INCREASE, weakest_piece="beam", weakest_share=0.55),
        SupportRow(7, "V-104", "variable hanger", Verdict.ENGINEER_DECIDES, "kN", "lbf", 13450.0,
                   14700.0, "060", 13200.0, 8000.0, 16000.0, 29.0, used_share=0.54),
        SupportRow(8, "C-105", "constant rest", Verdict.CANNOT_JUDGE, "kN", "lbf", None, 33000.0,
                   "070", 31500.0, 28350.0, 34650.0, 34.5, rule_codes=("setting-not-known",),
                   missing=("present setting", "direction to increase", "load per turn")),
    )  # fmt: skip


def summary() -> LoadChangeSummary:
    return LoadChangeSummary(
        head=head("Summary of a load change", "LS-0087-B"),
        change_number="CH-0087",
        change_revision="2",
        line="2-HS-0412",
        verdict_sentence="The line may not start with the new valve: one unit cannot be set, one "
        "rod is overloaded, and one unit cannot be judged.",
        weights=weights(),
        rows=rows(),
        basis=BASIS,
        analysis_words="A full analysis is required: a compressor nozzle lies within three "
        "supports of the new weight.",
        doubts=(
            DataDoubt("C-105", "present setting, direction to increase, load per turn",
                      "no re-set can be planned; unit counted as cannot judge"),
            DataDoubt("Insulation box", "mass is an estimate", "weigh before lifting"),
        ),
        in_between=(
            InBetweenState(0, "N2 of K-201", 0.92),
            InBetweenState(1, "N2 of K-201", 0.74),
            InBetweenState(2, "N2 of K-201", None),
        ),
        assumptions=(
            Assumption("Valve weight rests midway between its flanges", "A. Example"),
            Assumption("Pipe and insulation masses as in the class sheet", "B. Sample"),
        ),
        signatures=(Signature("Engineer of the calculation"), Signature("Responsible engineer")),
    )  # fmt: skip
