"""The whole re-set of one constant support. Example 1 and 3 are worked by hand, loads in N."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from supports.calc.constant_support import LoadRange
from supports.calc.turns import LoadPerTurn, LoadPerTurnTable, TurnCount
from supports.calc.unit_re_set import (
    ConstantPlate,
    ReSetLimits,
    Standing,
    TurnCounts,
    plan_re_set,
    standing,
)
from supports.errors import CannotCalculate

PLATE = ConstantPlate(
    adjusting_range=LoadRange(17e3, 20e3, 23e3),
    load_per_turn=LoadPerTurnTable.uniform(250.0),
    increase_words="clockwise seen from below",
    decrease_words="anticlockwise seen from below",
    pitch=0.003,
    free_to_increase=0.030,
    free_to_decrease=0.020,
)


def test_example_1_from_end_to_end() -> None:
    plan = plan_re_set(22100.0, 20000.0, PLATE)
    assert plan.standing is Standing.RE_SET
    assert plan.exact_turns == pytest.approx(8.4, rel=1e-12)
    assert plan.turns_per_bolt == TurnCount(8, 2)
    assert plan.direction == "clockwise seen from below"
    assert plan.load_after_rounding == pytest.approx(22083.3, abs=0.05)
    assert plan.used_share == pytest.approx(0.70, rel=1e-12)
    assert (plan.room_up, plan.room_up_turns) == pytest.approx((900.0, 3.6), rel=1e-12)
    assert (plan.room_down, plan.room_down_turns) == pytest.approx((5100.0, 20.4), rel=1e-12)
    assert (plan.window_low, plan.window_high) == pytest.approx((21658.0, 22542.0), rel=1e-12)
    assert (plan.band_low, plan.band_high) == pytest.approx((20774.0, 23426.0), rel=1e-12)
    assert plan.thread_needed == pytest.approx(0.0252, rel=1e-12)
    assert plan.thread_spare == pytest.approx(0.0048, rel=1e-9)
    assert plan.missing == ()
    assert plan.may_be_turned


def test_decrease_uses_the_other_words_and_the_other_thread() -> None:
    plan = plan_re_set(18500.0, 20000.0, PLATE)
    assert plan.direction == "anticlockwise seen from below"
    assert plan.turns_per_bolt == TurnCount(6, 0)
    assert plan.load_after_rounding == pytest.approx(18500.0, rel=1e-12)
    assert plan.thread_spare == pytest.approx(0.002, rel=1e-9)


def test_example_3_is_outside_though_the_step_looks_small() -> None:
    plan = plan_re_set(23400.0, 21500.0, PLATE)
    assert plan.standing is Standing.CANNOT_BE_SET
    assert plan.exact_turns == pytest.approx(7.6, rel=1e-12)
    assert plan.room_up == pytest.approx(-400.0, rel=1e-12)
    assert plan.room_up_turns is None
    assert not plan.may_be_turned


@pytest.mark.parametrize(
    ("required", "expected"),
    [
        (20400.0, Standing.LEAVE_ALONE),  # exactly 2 %
        (20401.0, Standing.ENGINEER_DECIDES),
        (18800.0, Standing.ENGINEER_DECIDES),  # exactly 6 %
        (18799.0, Standing.RE_SET),
        (23000.0, Standing.RE_SET),  # exactly at the end of the range
        (23001.0, Standing.CANNOT_BE_SET),
    ],
)
def test_standing_at_its_limits(required: float, expected: Standing) -> None:
    assert standing(required, 20e3, ReSetLimits(), PLATE.adjusting_range) is expected


@pytest.mark.parametrize(
    ("field", "name"),
    [
        ("adjusting_range", "adjusting range"),
        ("load_per_turn", "load per turn"),
        ("increase_words", "direction of turning in the nameplate's words"),
        ("pitch", "pitch of the load adjustment bolt"),
        ("free_to_increase", "free thread in the direction of turning"),
    ],
)
def test_what_is_not_known_is_named(field: str, name: str) -> None:
    assert plan_re_set(22.1e3, 20e3, replace(PLATE, **{field: None})).missing == (name,)


@pytest.mark.parametrize("field", ["adjusting_range", "load_per_turn", "increase_words"])
def test_no_turns_without_range_load_per_turn_or_direction(field: str) -> None:
    assert not plan_re_set(22.1e3, 20e3, replace(PLATE, **{field: None})).may_be_turned


def test_a_short_thread_stops_the_turns() -> None:
    plan = plan_re_set(22.1e3, 20e3, replace(PLATE, free_to_increase=0.025))
    assert plan.thread_is_short
    assert not plan.may_be_turned


def test_a_thread_exactly_long_enough_is_enough() -> None:
    plan = plan_re_set(22e3, 20e3, replace(PLATE, free_to_increase=0.024))
    assert not plan.thread_is_short
    assert plan.may_be_turned


def test_a_table_that_ends_too_early_is_missing_data() -> None:
    table = LoadPerTurnTable((LoadPerTurn(17e3, 21e3, 250.0),))
    plan = plan_re_set(22.1e3, 20e3, replace(PLATE, load_per_turn=table))
    assert plan.missing == ("load per turn over the whole change",)
    assert plan.turns_per_bolt is None


def test_rounding_up_past_the_last_band_gives_no_load() -> None:
    table = LoadPerTurnTable((LoadPerTurn(17e3, 20.65e3, 250.0),))  # 2.6 turns, 16 flats = 2.667
    plan = plan_re_set(20.65e3, 20e3, replace(PLATE, load_per_turn=table))
    assert plan.turns_per_bolt == TurnCount(2, 4)
    assert plan.load_after_rounding is None


@pytest.mark.parametrize(
    ("turn_of", "turns"),
    [(TurnCounts.EVERY_BOLT, TurnCount(8, 2)), (TurnCounts.ONE_BOLT, TurnCount(4, 1))],
)
def test_two_bolts_are_turned_each(turn_of: TurnCounts, turns: TurnCount) -> None:
    plan = plan_re_set(22.1e3, 20e3, replace(PLATE, bolts=2, turn_of=turn_of))
    assert plan.turns_per_bolt == turns
    assert plan.load_after_rounding == pytest.approx(22083.3, abs=0.05)


def test_two_bolts_without_the_meaning_of_a_turn_are_asked_about() -> None:
    plan = plan_re_set(22.1e3, 20e3, replace(PLATE, bolts=2))
    assert plan.missing == ("whether the load per turn is for one bolt or for every bolt",)
    assert not plan.may_be_turned


@pytest.mark.parametrize(("required", "present"), [(math.nan, 20e3), (22.1e3, math.nan)])
def test_unknown_loads_are_not_planned(required: float, present: float) -> None:
    with pytest.raises(CannotCalculate, match="needs the required load and the present setting"):
        plan_re_set(required, present, PLATE)
