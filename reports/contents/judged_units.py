"""From a judged support to what its page says: scale, gauge, place, rounds of turning."""

from __future__ import annotations

import math
from itertools import accumulate

from reports.contents.common import (
    FLATS_IN_A_TURN,
    Direction,
    Missing,
    TravelStopState,
    Turns,
)
from reports.contents.resetting_pack import (
    LoadScale,
    PointerGauge,
    TurnedPart,
    TurnJob,
    TurnRound,
    UnitSheet,
)
from reports.languages import IN_ENGLISH, Texts
from supports.calc.constant_support import stored_energy
from supports.calc.turns import TurnCount, in_rounds, load_after_turns
from supports.calc.variable_spring import TakeUp
from supports.rules.constant_rules import adjusting_range, load_per_turn
from supports.rules.judgement import SupportJudgement, UnitJudgement
from supports.rules.variable_rules import movement_of, present_hot
from supports.rules.work_plan import take_up_turns
from supports.snapshots import NameplateView, SupportView, UnitView
from supports.units import Kind, shown
from supports.vocabulary import Arrangement, Known, SettingMethod, Verdict

ROUNDS, ROUNDS_ON_A_TRAPEZE = 3, 5
"""Thirds for a single unit, smaller steps where a beam must stay level (common practice)."""

_SUPPLIERS = {
    "nameplate": "inspector, from the nameplate or the certificate",
    "load per turn": "inspector, from the certificate, or a load cell on site",
    "adjusting range": "inspector, from the nameplate or the certificate",
    "direction": "inspector, from the nameplate",
    "travel stop": "responsible engineer, from the unit's own instruction",
    "setting": "inspector, by reading the scale",
    "rating": "inspector, by a survey of the hardware",
    "hardware": "inspector, by a survey of the hardware",
    "required load": "stress engineer",
}


def other_unit(symbol: str) -> str:
    """Return the unit for the brackets: kN beside any other, lbf beside kN."""
    return "lbf" if symbol == "kN" else "kN"


def unit_tag(support: SupportView, unit: UnitView) -> str:
    """Return the tag with the position where a support has more than one unit."""
    return support.tag if len(support.units) == 1 else f"{support.tag}/{unit.position}"


def place_words(support: SupportView, say: Texts = IN_ENGLISH) -> str:
    """Return where a support is, for somebody who has to find it."""
    named = "area" in support.area.lower()
    area = support.area if named else say("area {area}", area=support.area)
    parts = [support.area and area, support.floor, support.grid]
    if support.height_above_floor is not None:
        height = f"{support.height_above_floor:.1f}"
        parts.append(say("{height} m above floor", height=height))
    return ", ".join(part for part in parts if part)


def unit_sheet(
    order: int,
    support: SupportView,
    judgement: SupportJudgement,
    unit: UnitView,
    *,
    near_nozzle: bool,
    step_tolerance: float,
) -> UnitSheet:
    """Return the page of one unit."""
    judged = next(u for u in judgement.units if u.unit_id == unit.id)
    plate = unit.nameplate or NameplateView()
    verdict = judged.verdict
    return UnitSheet(
        order=order,
        tag=unit_tag(support, unit),
        point_id=support.public_id,
        serial=unit.serial or "not known",
        kind=str(unit.kind),
        place=place_words(support),
        verdict=verdict,
        scale=load_scale(unit, plate, judged),
        reasons=tuple(answer.text for answer in judged.failures),
        missing=tuple(Missing(what, _supplier(what)) for what in judged.missing),
        job=_job(support, unit, plate, judged, step_tolerance),
        gauge=pointer_gauge(unit, plate),
        partners=_partners(support, unit),
        stored_energy=_energy(plate, unit),
        near_nozzle=near_nozzle,
        travel_stop_number=", ".join(unit.stops_in),
        travel_stop=TravelStopState.FITTED if unit.stops_in else TravelStopState.UNKNOWN,
        notes=_notes(unit, judged),
    )


def _notes(unit: UnitView, judged: UnitJudgement) -> tuple[str, ...]:
    notes = list(judged.demand.notes)
    if unit.setting is not None and unit.setting.method == SettingMethod.PAPER_MARK:
        notes.append("The setting was taken from a mark; no record of it was found.")
    if judged.take_up is not None:
        notes.append(_position_words(unit, judged, judged.take_up))
    return tuple(notes)


def _position_words(unit: UnitView, judged: UnitJudgement, take_up: TakeUp) -> str:
    """Return what a variable spring's scale shows shut down, where its page speaks of operating."""
    after = f"{_in_scale(take_up.cold, unit)} once the pipe is back at its cold level"
    plate = unit.nameplate or NameplateView()
    present = present_hot(unit, movement_of(plate, judged.demand))
    higher = take_up.cold - take_up.hot
    before = "" if present is None else f"{_in_scale(present + higher, unit)} before and "
    way = "higher" if higher >= 0.0 else "lower"
    return (
        "Loads on this page are those in the operating position. Shut down, the scale reads "
        f"{before}{after}: every load {_in_scale(abs(higher), unit)} {way}."
    )


def _in_scale(load: float, unit: UnitView) -> str:
    symbol = (unit.nameplate.scale_unit if unit.nameplate else "") or "kN"
    return shown(load, symbol, Kind.LOAD)


def load_scale(unit: UnitView, plate: NameplateView, judged: UnitJudgement) -> LoadScale:
    """Return the load scale as it is drawn, limits counted from the nameplate."""
    symbol = plate.scale_unit or "kN"
    re_set = judged.re_set
    if unit.kind.is_variable:
        return _variable_scale(unit, plate, judged, symbol)
    limited = adjusting_range(plate)
    marked = unit.setting is not None and unit.setting.method == SettingMethod.PAPER_MARK
    return LoadScale(
        load_unit=symbol,
        other_unit=other_unit(symbol),
        nameplate=plate.nameplate_load,
        low=limited.low if limited else None,
        high=limited.high if limited else None,
        present=judged.present,
        required=judged.demand.governing,
        window_low=re_set.window_low if re_set else None,
        window_high=re_set.window_high if re_set else None,
        hand_mark=judged.present if marked else None,
        used_share=re_set.used_share if re_set else None,
        room_up_turns=re_set.room_up_turns if re_set else None,
        room_down_turns=re_set.room_down_turns if re_set else None,
    )


def _variable_scale(
    unit: UnitView, plate: NameplateView, judged: UnitJudgement, symbol: str
) -> LoadScale:
    return LoadScale(
        load_unit=symbol,
        other_unit=other_unit(symbol),
        nameplate=plate.hot_load,
        low=plate.working_low,
        high=plate.working_high,
        present=present_hot(unit, movement_of(plate, judged.demand)),
        required=judged.demand.governing,
    )


def pointer_gauge(unit: UnitView, plate: NameplateView) -> PointerGauge | None:
    """Return the travel scale as it is drawn; None where its length is not known."""
    if plate.total_travel is None:
        return None
    last = unit.last_reading
    pointer = last.pointer if last else None
    hot = last is not None and last.plant_state.startswith("operating")
    day = last.read_on.isoformat() if last else ""
    ends = {"top": True, "bottom": False}
    return PointerGauge(
        length_unit=plate.pointer_unit or "mm",
        scale_length=plate.total_travel,
        zero_at_top=ends.get(plate.zero_end),
        cold_mark=plate.cold_mark,
        hot_mark=plate.hot_mark,
        last_cold=None if hot else pointer,
        last_cold_date="" if hot else day,
        last_hot=pointer if hot else None,
        last_hot_date=day if hot else "",
    )


def _job(
    support: SupportView,
    unit: UnitView,
    plate: NameplateView,
    judged: UnitJudgement,
    step_tolerance: float,
) -> TurnJob | None:
    if judged.verdict != Verdict.RE_SET:
        return None
    if judged.re_set is not None:
        return _bolt_job(support, plate, judged, step_tolerance)
    return _rod_job(unit, plate, judged, step_tolerance)


def _bolt_job(
    support: SupportView, plate: NameplateView, judged: UnitJudgement, step_tolerance: float
) -> TurnJob | None:
    re_set, table = judged.re_set, load_per_turn(plate)
    if re_set is None or re_set.turns_per_bolt is None or table is None:
        return None
    rounds = ROUNDS_ON_A_TRAPEZE if support.arrangement is Arrangement.TRAPEZE else ROUNDS
    parts = in_rounds(re_set.turns_per_bolt, rounds, step_flats=3)
    sign = math.copysign(1.0, re_set.change)
    after = [
        load_after_turns(re_set.present, sign * done.in_turns, table)
        for done in accumulate(parts, lambda a, b: TurnCount.of_flats(a.in_flats + b.in_flats))
    ]
    locked = plate.may_turn_locked is Known.YES
    return TurnJob(
        part=TurnedPart.LOAD_BOLT,
        where="beneath its lock nut",
        direction=_direction(re_set.change),
        nameplate_words=re_set.direction or "",
        turns=_turns(re_set.turns_per_bolt),
        rounds=_rounds(parts, re_set.present, after, step_tolerance),
        load_per_turn=abs(re_set.change) / re_set.exact_turns if re_set.exact_turns else 0.0,
        locked_words="Turn with the travel stop in or out, as the unit's instruction allows."
        if locked
        else "Turn with the travel stop OUT only, the weight on.",
        bolts=plate.load_bolts or 1,
        thread_needed=re_set.thread_needed,
        thread_free=plate.free_to_increase if sign > 0 else plate.free_to_decrease,
        step_tolerance=step_tolerance,
    )


def _rod_job(
    unit: UnitView, plate: NameplateView, judged: UnitJudgement, step_tolerance: float
) -> TurnJob | None:
    take_up = judged.take_up
    turns = take_up_turns(plate, take_up) if take_up else None
    present = present_hot(unit, movement_of(plate, judged.demand))
    if take_up is None or turns is None or present is None or plate.rate is None:
        return None
    count = TurnCount.nearest(abs(turns))
    parts = in_rounds(count, ROUNDS, step_flats=3)
    per_turn = abs(take_up.hot - present) / abs(turns)
    sign = math.copysign(1.0, take_up.take_up)
    done = accumulate(part.in_turns for part in parts)
    after = [present + sign * per_turn * n for n in done]
    verb = "shorten" if sign > 0 else "lengthen"
    by = f"{abs(take_up.take_up) * 1000.0:.1f}"
    return TurnJob(
        part=TurnedPart.TAKE_UP,
        where=f"the {plate.take_up} of the rod",
        direction=_direction(sign),
        nameplate_words=f"{verb} the rod",
        turns=_turns(count),
        rounds=_rounds(parts, present, after, step_tolerance),
        load_per_turn=per_turn,
        locked_words="Turn with the travel stop OUT, the weight on.",
        take_up_words=f"{verb.capitalize()} the rod by {by} mm in all.",
        step_tolerance=step_tolerance,
    )


def _rounds(
    parts: tuple[TurnCount, ...], start: float, after: list[float], tolerance: float
) -> tuple[TurnRound, ...]:
    rounds = []
    for number, (part, load, before) in enumerate(
        zip(parts, after, [start, *after[:-1]], strict=True), start=1
    ):
        slack = tolerance * abs(load - before)
        if part.in_flats:
            rounds.append(TurnRound(number, _turns(part), load, load - slack, load + slack))
    return tuple(rounds)


def _turns(count: TurnCount) -> Turns:
    return Turns(*divmod(count.in_flats, FLATS_IN_A_TURN))


def _direction(change: float) -> Direction:
    return Direction.INCREASE if change >= 0 else Direction.DECREASE


def _partners(support: SupportView, unit: UnitView) -> tuple[str, ...]:
    if support.arrangement is Arrangement.SINGLE:
        return ()
    return tuple(unit_tag(support, other) for other in support.units if other.id != unit.id)


def _energy(plate: NameplateView, unit: UnitView) -> float | None:
    if unit.setting is None:
        return None
    travel = plate.total_travel if unit.kind.is_constant else None
    if travel is not None and plate.design_travel is not None:
        return stored_energy(unit.setting.load, abs(plate.design_travel))
    return None


def _supplier(what: str) -> str:
    return next((who for words, who in _SUPPLIERS.items() if words in what), "responsible engineer")
