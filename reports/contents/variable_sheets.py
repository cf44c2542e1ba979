"""The page of a variable spring: its loads are those where the pipe stands while work is done."""

from __future__ import annotations

import math
from itertools import accumulate

from reports.contents.resetting_pack import LoadScale, TurnedPart, TurnJob
from reports.contents.turning import (
    ROUNDS,
    direction_of,
    locked_words,
    other_unit,
    rounds_of,
    turns_of,
)
from reports.languages import IN_ENGLISH, Texts
from supports.calc.turns import TurnCount, in_rounds
from supports.rules.judgement import UnitJudgement
from supports.rules.variable_rules import (
    Position,
    carried_over,
    load_wanted,
    movement_of,
    position_of,
    present_in,
    rod_turns,
    rod_way,
    rod_words,
)
from supports.snapshots import NameplateView, UnitView
from supports.units import Kind, shown


def variable_scale(unit: UnitView, judged: UnitJudgement, line_state: str) -> LoadScale:
    """Return the load scale as it is drawn; present and required load are where the pipe stands."""
    plate = unit.nameplate or NameplateView()
    symbol = plate.scale_unit or "kN"
    position = position_of(line_state)
    movement = movement_of(plate, judged.demand)
    return LoadScale(
        load_unit=symbol,
        other_unit=other_unit(symbol),
        nameplate=_plate_load(plate, position),
        low=plate.working_low,
        high=plate.working_high,
        present=present_in(unit, movement, position),
        required=_from_operating(judged.demand.governing, plate, movement, position),
    )


def _plate_load(plate: NameplateView, position: Position | None) -> float | None:
    if position is Position.SHUT_DOWN and plate.cold_load is not None:
        return plate.cold_load
    return _from_operating(plate.hot_load, plate, plate.movement, position)


def _from_operating(
    load: float | None, plate: NameplateView, movement: float | None, position: Position | None
) -> float | None:
    return carried_over(load, plate, movement, stands=Position.OPERATING, wanted=position)


_OTHER = {Position.OPERATING: Position.SHUT_DOWN, Position.SHUT_DOWN: Position.OPERATING}
_BEFORE = {
    Position.OPERATING: "Operating, it reads {before} before the re-set.",
    Position.SHUT_DOWN: "Shut down, it reads {before} before the re-set.",
}
_AFTER = {
    Position.OPERATING: "Operating, it reads {after} after the re-set.",
    Position.SHUT_DOWN: "Shut down, it reads {after} after the re-set.",
}
_BOTH = {
    Position.OPERATING: "Operating, it reads {before} before and {after} after the re-set.",
    Position.SHUT_DOWN: "Shut down, it reads {before} before and {after} after the re-set.",
}
WORDS = (*_BEFORE.values(), *_AFTER.values(), *_BOTH.values())
"""What is said of the other position, for those who write it in another language."""


def position_words(
    unit: UnitView, judged: UnitJudgement, line_state: str, say: Texts = IN_ENGLISH
) -> str:
    """Return in which position the page speaks, and what the scale shows in the other."""
    position = position_of(line_state)
    if position is None:
        return say(
            "What this scale reads with the line '{state}' is not known.",
            state=say.word(line_state),
        )
    plate = unit.nameplate or NameplateView()
    movement = movement_of(plate, judged.demand)
    other = _OTHER[position]
    here = say("Loads on this page are those {position}.", position=say.word(position))
    before = present_in(unit, movement, other)
    after = _from_operating(judged.demand.governing, plate, movement, other)
    if judged.take_up is None or after is None:
        return f"{here} {_elsewhere(before, unit, other, say)}".strip()
    if before is None:
        told = say(_AFTER[other], after=_in_scale(after, unit))
    else:
        told = say(_BOTH[other], before=_in_scale(before, unit), after=_in_scale(after, unit))
    return f"{here} {told}"


def _elsewhere(before: float | None, unit: UnitView, other: Position, say: Texts) -> str:
    return "" if before is None else say(_BEFORE[other], before=_in_scale(before, unit))


def _in_scale(load: float, unit: UnitView) -> str:
    symbol = (unit.nameplate.scale_unit if unit.nameplate else "") or "kN"
    return shown(load, symbol, Kind.LOAD)


def rod_job(
    unit: UnitView, judged: UnitJudgement, line_state: str, step_tolerance: float
) -> TurnJob | None:
    """Return what is turned at the rod; None where that cannot be said."""
    plate, take_up = unit.nameplate or NameplateView(), judged.take_up
    position = position_of(line_state)
    turns = rod_turns(plate, take_up.take_up) if take_up else None
    present = present_in(unit, movement_of(plate, judged.demand), position)
    if take_up is None or turns is None or present is None or position is None:
        return None
    count = TurnCount.nearest(abs(turns))
    parts = in_rounds(count, ROUNDS, step_flats=3)
    per_turn = abs(load_wanted(take_up, position) - present) / abs(turns)
    sign = math.copysign(1.0, take_up.take_up)
    done = accumulate(part.in_turns for part in parts)
    after = [present + sign * per_turn * n for n in done]
    way = direction_of(sign)
    return TurnJob(
        part=TurnedPart.TAKE_UP,
        where=f"the {plate.take_up} of the rod",
        direction=way,
        nameplate_words=f"{rod_way(sign)} the rod",
        turns=turns_of(count),
        rounds=rounds_of(parts, present, after, step_tolerance),
        load_per_turn=per_turn,
        locked_words=locked_words(plate, variable=True),
        take_up_words=f"{rod_words(take_up.take_up).capitalize()} in all.",
        step_tolerance=step_tolerance,
    )
