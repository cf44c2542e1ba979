"""The pages of units under a chosen plan: its turns, its readings, where the crew goes next."""

from __future__ import annotations

from dataclasses import replace

from reports.contents.common import Direction, Missing
from reports.contents.planned_rounds import Cell, PlannedRounds, UnitRow, turns_of
from reports.contents.resetting_pack import (
    HoldPoint,
    TurnedPart,
    TurnJob,
    TurnRound,
    UnitSheet,
)
from reports.contents.turning import locked_words
from supports.rules.reset_planning.content import UnitTurn
from supports.rules.reset_planning.order_lines import way_words
from supports.snapshots import NameplateView, UnitView
from supports.units import Kind, shown
from supports.vocabulary import Verdict

LEFT_ALONE = "The plan leaves this unit as it is: read after each round, never turned."
_READS_PLATE = "inspector, from the nameplate"
_SETTLED = frozenset({Verdict.RE_SET, Verdict.LEAVE, Verdict.ENGINEER_DECIDES})
"""Verdicts of the assessment that a plan may leave without a STOP page."""


def planned_sheet(
    sheet: UnitSheet, unit: UnitView, rounds: PlannedRounds, step_tolerance: float, *, back: bool
) -> UnitSheet:
    """Return a unit's page under a plan; one on a line that the plan does not know stays as is.

    Parameters
    ----------
    back
        Whether the plan is a way back: what the assessment asked for holds no more.
    """
    row = rounds.row_of(unit.id)
    if row is None:
        return sheet
    if row.turned is None:
        return _left_alone(sheet, row, back=back)
    turned = row.turned
    start = turned.scale_before if row.start is None else row.start.expected
    job = planned_job(row, turned, unit, step_tolerance)
    if not job.nameplate_words:
        missing = Missing(f"Direction to {job.direction}, in the nameplate's words", _READS_PLATE)
        return replace(sheet, verdict=Verdict.CANNOT_JUDGE, missing=(missing,), job=None)
    job = replace(job, locked_words=f"{job.locked_words} Loads: {rounds.work_state}.")
    scale = replace(
        sheet.scale,
        present=start,
        required=_target(turned),
        window_low=turned.window_low,
        window_high=turned.window_high,
        used_share=turned.range_use,
        room_up_turns=_turns_left(sheet.scale.high, turned.scale_after, job.load_per_turn),
        room_down_turns=_turns_left(turned.scale_after, sheet.scale.low, job.load_per_turn),
    )
    return replace(
        sheet,
        verdict=Verdict.RE_SET,
        reasons=(),
        missing=(),
        scale=scale,
        job=job,
        notes=(),
    )


def _target(turned: UnitTurn) -> float:
    """Return the load that a unit goes to [N]: what is required, where whole flats lead near it."""
    wanted = turned.required
    if turned.variable or wanted is None:
        return turned.scale_after
    return wanted if turned.window_low <= wanted <= turned.window_high else turned.scale_after


def _turns_left(high: float | None, low: float | None, per_turn: float) -> float | None:
    """Return the turns between two loads [N]."""
    return (high - low) / per_turn if high is not None and low is not None and per_turn else None


def _left_alone(sheet: UnitSheet, row: UnitRow, *, back: bool) -> UnitSheet:
    """Return the line of a unit that is only read; what must not be touched keeps its STOP."""
    if not back and (sheet.verdict not in _SETTLED or sheet.missing):
        return replace(sheet, job=None)
    start = sheet.scale.present if row.start is None else row.start.expected
    return replace(
        sheet,
        verdict=Verdict.LEAVE,
        reasons=(LEFT_ALONE,),
        missing=(),
        job=None,
        scale=replace(sheet.scale, present=start, required=None if back else sheet.scale.required),
    )


def planned_job(row: UnitRow, turned: UnitTurn, unit: UnitView, step_tolerance: float) -> TurnJob:
    """Return what is done at one unit in the rounds of a plan."""
    plate = unit.nameplate or NameplateView()
    turns = turns_of(turned)
    change = turned.setting_after - turned.setting_before
    common = TurnJob(
        part=TurnedPart.TAKE_UP if turned.variable else TurnedPart.LOAD_BOLT,
        where=f"the {plate.take_up} of the rod" if turned.variable else "beneath its lock nut",
        direction=Direction.INCREASE if turned.increases else Direction.DECREASE,
        nameplate_words=way_words(unit, turned),
        turns=turns,
        rounds=tuple(
            _round(cell, number)
            for number, cell in enumerate(row.cells, start=1)
            if cell is not None and cell.turns is not None
        ),
        load_per_turn=abs(change) / turns.total if turns.total else 0.0,
        reached=turned.scale_after,
        locked_words=locked_words(plate, variable=turned.variable),
        step_tolerance=step_tolerance,
    )
    if turned.variable:
        return replace(common, take_up_words="Rod as told above, nothing more.")
    pitch = plate.bolt_pitch
    free = plate.free_to_increase if turned.increases else plate.free_to_decrease
    return replace(
        common,
        bolts=plate.load_bolts or 1,
        thread_needed=None if pitch is None else turns.total * pitch,
        thread_free=free,
    )


def _round(cell: Cell, number: int) -> TurnRound:
    if cell.turns is None or cell.at_step is None:
        raise ValueError(cell)
    return TurnRound(number, cell.turns, *cell.at_step, step=cell.step, then=cell.then)


def hold_points(rounds: PlannedRounds, first: int) -> tuple[HoldPoint, ...]:
    """Return a hold point for each prop or travel stop that is put in or taken out."""
    held = [step for step in rounds.steps if not step.is_turn]
    forces = {hold.name: hold.force for hold in rounds.holds}
    return tuple(
        HoldPoint(number, _hold_words(step.number, step.words, step.place, forces), "engineer")
        for number, step in enumerate(held, start=first)
    )


def _hold_words(number: int, words: str, place: str, forces: dict[str, float]) -> str:
    force = next((force for name, force in forces.items() if name in place), None)
    if words != "put in" or force is None:
        return f"Step {number}: {words} {place}, scales read"
    load = shown(force, "kN", Kind.LOAD)
    return f"Step {number}: {words} {place}, good for {load}, before the weight is let go"
