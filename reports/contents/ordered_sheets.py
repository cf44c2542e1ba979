"""The pages of units under an order that takes work back: its own turns, no others."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import accumulate

from reports.contents.common import FLATS_IN_A_TURN, Missing
from reports.contents.resetting_pack import TurnedPart, TurnJob, UnitSheet
from reports.contents.turning import ROUNDS, direction_of, locked_words, rounds_of, turns_of
from supports.calc.turns import TurnCount, in_rounds, load_after_turns
from supports.rules.constant_rules import load_per_turn
from supports.rules.work_plan import RE_SET
from supports.snapshots import NameplateView, UnitView, WorkOrderLineView
from supports.vocabulary import Verdict

READ_ONLY = "This order reads it only; what the assessment asked for holds no more."


def ordered_sheet(
    sheet: UnitSheet, unit: UnitView, line: WorkOrderLineView | None, step_tolerance: float
) -> UnitSheet:
    """Return a unit's page with the turns and loads that the order itself gives."""
    if line is None or line.action != RE_SET:
        scale = replace(sheet.scale, required=None)
        return replace(
            sheet, verdict=Verdict.LEAVE, reasons=(READ_ONLY,), missing=(), job=None, scale=scale
        )
    scale = replace(
        sheet.scale,
        present=line.from_load,
        required=line.to_load,
        used_share=None,
        room_up_turns=None,
        room_down_turns=None,
    )
    notes = (line.remark,) if line.remark else ()
    job = _job(unit, line, step_tolerance)
    missing = () if job else (Missing("Turns of the way back", "stress engineer"),)
    return replace(
        sheet,
        verdict=Verdict.RE_SET,
        reasons=(),
        missing=missing,
        scale=scale,
        job=job,
        notes=notes,
    )


def _job(unit: UnitView, line: WorkOrderLineView, step_tolerance: float) -> TurnJob | None:
    plate = unit.nameplate or NameplateView()
    start, end = line.from_load, line.to_load
    if line.turns is None or start is None or end is None or not line.direction:
        return None
    count = TurnCount(line.turns, line.flats or 0)
    parts = in_rounds(count, ROUNDS, step_flats=3)
    done = accumulate(part.in_flats for part in parts)
    after = [_after(unit, plate, (start, end), flats, count) for flats in done]
    if None in after or not count.in_flats:
        return None
    loads = [load for load in after if load is not None]
    variable = unit.kind.is_variable
    return TurnJob(
        part=TurnedPart.TAKE_UP if variable else TurnedPart.LOAD_BOLT,
        where=f"the {plate.take_up} of the rod" if variable else "beneath its lock nut",
        direction=direction_of(end - start),
        nameplate_words=line.direction,
        turns=turns_of(count),
        rounds=rounds_of(parts, start, loads, step_tolerance),
        load_per_turn=abs(loads[-1] - start) / count.in_turns,
        locked_words=locked_words(plate, variable=variable),
        bolts=1 if variable else plate.load_bolts or 1,
        step_tolerance=step_tolerance,
    )


def _after(
    unit: UnitView,
    plate: NameplateView,
    loads: tuple[float, float],
    flats: int,
    count: TurnCount,
) -> float | None:
    """Return the load after so many flats [N]; a constant's by its plate, a variable's in line."""
    start, end = loads
    if unit.kind.is_variable:
        return start + (end - start) * flats / count.in_flats if count.in_flats else start
    table = load_per_turn(plate)
    if table is None:
        return None
    return load_after_turns(start, math.copysign(flats / FLATS_IN_A_TURN, end - start), table)
