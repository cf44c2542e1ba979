"""From a judged support to what its page says: scale, gauge, place, rounds of turning."""

from __future__ import annotations

import math
from itertools import accumulate

from reports.contents.common import (
    Missing,
    TravelStopState,
)
from reports.contents.resetting_pack import (
    LoadScale,
    PointerGauge,
    TurnedPart,
    TurnJob,
    UnitSheet,
)
from reports.contents.turning import (
    ROUNDS,
    direction_of,
    locked_words,
    other_unit,
    rounds_of,
    turns_of,
)
from reports.contents.variable_sheets import position_words, rod_job, variable_scale
from reports.languages import IN_ENGLISH, Texts
from supports.calc.constant_support import stored_energy
from supports.calc.turns import TurnCount, in_rounds, load_after_turns
from supports.rules.constant_rules import adjusting_range, load_per_turn
from supports.rules.judgement import SupportJudgement, UnitJudgement
from supports.snapshots import NameplateView, SupportView, UnitView
from supports.vocabulary import Arrangement, SettingMethod, Verdict

ROUNDS_ON_A_TRAPEZE = 5
"""Smaller steps than for a single unit, as a beam must stay level (common practice)."""

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
    line_state: str,
    near_nozzle: bool,
    step_tolerance: float,
    say: Texts = IN_ENGLISH,
) -> UnitSheet:
    """Return the page of one unit; its loads are those of the line state of the work."""
    judged = next(u for u in judgement.units if u.unit_id == unit.id)
    plate = unit.nameplate or NameplateView()
    verdict = judged.verdict
    return UnitSheet(
        order=order,
        tag=unit_tag(support, unit),
        point_id=support.public_id,
        serial=unit.serial or "not known",
        kind=str(unit.kind),
        place=place_words(support, say),
        verdict=verdict,
        scale=load_scale(unit, plate, judged, line_state),
        reasons=tuple(answer.text for answer in judged.failures),
        missing=tuple(Missing(what, _supplier(what)) for what in judged.missing),
        job=_job(support, unit, judged, line_state, step_tolerance),
        gauge=pointer_gauge(unit, plate),
        partners=_partners(support, unit),
        stored_energy=_energy(plate, unit),
        near_nozzle=near_nozzle,
        travel_stop_number=", ".join(unit.stops_in),
        travel_stop=TravelStopState.FITTED if unit.stops_in else TravelStopState.UNKNOWN,
        notes=_notes(unit, judged, line_state, say),
    )


def _notes(unit: UnitView, judged: UnitJudgement, line_state: str, say: Texts) -> tuple[str, ...]:
    notes = [say.sentence(note) for note in judged.demand.notes]
    if unit.setting is not None and unit.setting.method == SettingMethod.PAPER_MARK:
        notes.append(say("The setting was taken from a mark; no record of it was found."))
    if unit.kind.is_variable:
        notes.append(position_words(unit, judged, line_state, say))
    return tuple(notes)


def load_scale(
    unit: UnitView, plate: NameplateView, judged: UnitJudgement, line_state: str
) -> LoadScale:
    """Return the load scale as it is drawn, limits counted from the nameplate."""
    symbol = plate.scale_unit or "kN"
    re_set = judged.re_set
    if unit.kind.is_variable:
        return variable_scale(unit, judged, line_state)
    limited = adjusting_range(plate)
    turned = judged.verdict is Verdict.RE_SET
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
        room_up_turns=re_set.room_up_turns if re_set and turned else None,
        room_down_turns=re_set.room_down_turns if re_set and turned else None,
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
    judged: UnitJudgement,
    line_state: str,
    step_tolerance: float,
) -> TurnJob | None:
    if judged.verdict != Verdict.RE_SET:
        return None
    if judged.re_set is not None:
        return _bolt_job(support, unit.nameplate or NameplateView(), judged, step_tolerance)
    return rod_job(unit, judged, line_state, step_tolerance)


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
    return TurnJob(
        part=TurnedPart.LOAD_BOLT,
        where="beneath its lock nut",
        direction=direction_of(re_set.change),
        nameplate_words=re_set.direction or "",
        turns=turns_of(re_set.turns_per_bolt),
        rounds=rounds_of(parts, re_set.present, after, step_tolerance),
        load_per_turn=abs(re_set.change) / re_set.exact_turns if re_set.exact_turns else 0.0,
        locked_words=locked_words(plate, variable=False),
        bolts=plate.load_bolts or 1,
        thread_needed=re_set.thread_needed,
        thread_free=plate.free_to_increase if sign > 0 else plate.free_to_decrease,
        step_tolerance=step_tolerance,
    )


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
