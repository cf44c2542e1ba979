"""The lines of a work order from a chosen plan: turns, order, rounds, what each scale will show."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from supports.calc.turns import TurnCount
from supports.calc.unit_re_set import direction_words
from supports.rules.assessment import AssessmentContent
from supports.rules.constant_rules import constant_plate
from supports.rules.reset_planning.content import PlanAlternative, PlanContent, UnitTurn
from supports.rules.reset_planning.springs import TAKE_UP_TRAVEL
from supports.rules.variable_rules import rod_words
from supports.rules.work_plan import RE_SET, READ_ONLY, PlannedLine
from supports.snapshots import NameplateView, UnitView


@dataclass(frozen=True, slots=True)
class ChosenPlan:
    """A plan with the alternative that was chosen."""

    number: str
    content: PlanContent
    alternative: PlanAlternative


def lines_of_plan(assessed: AssessmentContent, chosen: ChosenPlan) -> Iterator[PlannedLine]:
    """Plan every spring unit of the line: those turned in the order of the plan, then neighbours.

    Loads are what the scales show in the state of the work, weight on.
    """
    units = {unit.id: unit for support in assessed.supports for unit in support.units}
    turned = turned_in_order(chosen.alternative)
    before = _first_word(chosen.alternative)
    for turn in turned:
        yield _turned(units[turn.unit_id], turn, chosen.alternative, before)
        before = f"after {turn.name}"
    done = {turn.unit_id for turn in turned}
    points = {unit.id: support.id for support in assessed.supports for unit in support.units}
    for reading in chosen.alternative.start_readings:
        if reading.unit_id not in done:
            yield PlannedLine(points[reading.unit_id], reading.unit_id, READ_ONLY, reading.scale)


def turned_in_order(alternative: PlanAlternative) -> list[UnitTurn]:
    """Return the units that are turned, in the order of their first turn."""
    by_name = {unit.name: unit for unit in alternative.units}
    order = dict.fromkeys(step.name for step in alternative.steps if step.name in by_name)
    rest = [name for name in by_name if name not in order]
    return [by_name[name] for name in (*order, *rest) if _is_turned(by_name[name])]


def _is_turned(unit: UnitTurn) -> bool:
    return bool(unit.turns or unit.flats)


def _first_word(alternative: PlanAlternative) -> str | None:
    """Return what must be in before the first turn; None where nothing must."""
    named = ", ".join(hold.called for hold in alternative.holds)
    return f"in before the weight is let go: {named}" if named else None


def _turned(
    unit: UnitView, turn: UnitTurn, alternative: PlanAlternative, before: str | None
) -> PlannedLine:
    return PlannedLine(
        point_id=turn.point_id,
        unit_id=turn.unit_id,
        action=RE_SET,
        from_load=turn.scale_before,
        to_load=turn.scale_after,
        window_low=turn.window_low,
        window_high=turn.window_high,
        turns=turn.turns,
        flats=turn.flats,
        direction=way_words(unit, turn),
        remark=rounds_words(turn.name, alternative),
        waits_for=before,
    )


def way_words(unit: UnitView, turn: UnitTurn) -> str:
    """Return which way to turn: in the nameplate's words, or which way the rod goes and how far."""
    plate = unit.nameplate or NameplateView()
    if not turn.variable:
        change = 1.0 if turn.increases else -1.0
        return direction_words(change, constant_plate(plate)) or ""
    turns = turn.turns + turn.flats / 6.0
    length = turns * (plate.thread_pitch or 0.0) * TAKE_UP_TRAVEL.get(plate.take_up, 0.0)
    return rod_words(length if turn.increases else -length)


def rounds_words(name: str, alternative: PlanAlternative) -> str:
    """Return what a unit gets in each round."""
    parts = [
        f"round {one.number}: {TurnCount(step.turns, step.flats)}"
        for one in alternative.rounds
        for step in one.steps
        if step.name == name and (step.turns or step.flats)
    ]
    return "; ".join(parts)
