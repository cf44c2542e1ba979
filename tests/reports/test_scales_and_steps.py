"""Marks stand where they should, labels keep off each other, steps say what they must."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reports.contents.common import Direction, Turns
from reports.contents.resetting_pack import LoadScale, PointerGauge
from reports.contents.steps import found_window, steps, trial_turn
from reports.contents.written import bare, energy, load, percent, span
from reports.pdf.scales import (
    SCALE_WIDTH,
    Mark,
    load_scale,
    pointer_gauge,
    scale_words,
    without_collisions,
)
from supports.units import Kind
from tests.reports import examples


def test_marks_stand_in_proportion() -> None:
    drawn = load_scale(examples.constant_in_range().scale)
    assert drawn is not None
    required = next(one for one in drawn["above"] if one["shape"] == "required")
    # (22.1 - 17.0) / (23.0 - 17.0) = 0.85 of the way between the limits
    share = (required["x"] - drawn["low"]) / (drawn["high"] - drawn["low"])
    assert share == pytest.approx(0.85, abs=1e-4)


@given(st.lists(st.floats(0.0, SCALE_WIDTH), min_size=1, max_size=8))
def test_labels_never_overlap_on_a_level(places: list[float]) -> None:
    placed = without_collisions([Mark("present", "NAME", "12.34 kN", x) for x in places])
    for level in {one.level for one in placed}:
        row = sorted((one for one in placed if one.level == level), key=lambda one: one.label_x)
        for left, right in pairwise(row):
            assert left.label_x + left.width / 2 < right.label_x - right.width / 2
    for one in placed:
        assert one.width / 2 - 1e-9 <= one.label_x <= SCALE_WIDTH - one.width / 2 + 1e-9


def test_scale_with_one_value_or_none_is_not_drawn() -> None:
    unknown = LoadScale("kN", "lbf", None, None, None, None, None)
    assert load_scale(unknown) is None
    assert load_scale(replace(unknown, nameplate=20000.0, present=20000.0)) is None


def test_required_beyond_the_limit_is_told() -> None:
    scale = replace(examples.constant_in_range().scale, required=23400.0)
    drawn = load_scale(scale)
    assert drawn is not None
    assert "BEYOND limit up 0.40\u00a0kN" in drawn["words"]


def test_gauge_runs_from_the_top_whichever_end_is_zero() -> None:
    top = pointer_gauge(examples.gauge("mm", 0.2, "top", 0.04, 0.18))
    bottom = pointer_gauge(examples.gauge("mm", 0.2, "bottom", 0.16, 0.02))
    assert top is not None
    assert bottom is not None
    assert top["travel"] == pytest.approx(bottom["travel"])
    assert "moves down 140\u00a0mm" in top["words"]
    assert "moves down 140\u00a0mm" in bottom["words"]


def test_gauge_with_unknown_zero_end_tells_no_direction() -> None:
    drawn = pointer_gauge(PointerGauge("mm", 0.2, None, 0.04, 0.18))
    assert drawn is not None
    assert "ZERO END NOT KNOWN" in drawn["words"]
    assert "moves" not in drawn["words"]


def test_gauge_without_length_is_not_drawn() -> None:
    assert pointer_gauge(PointerGauge("mm", 0.0, None)) is None


def test_ten_steps_in_order() -> None:
    unit = examples.constant_in_range()
    assert unit.job is not None
    listed = steps(unit, unit.job)
    assert [int(one.number) for one in listed] == [1, 2, 3, 4, 5, 6, 6, 7, 8, 9, 10]
    holds = [one.hold.split(":")[0] for one in listed if one.hold]
    assert holds == ["HOLD 1", "HOLD 2", "HOLD 3", "HOLD 4"]


def test_a_page_with_one_round_says_that_none_follows() -> None:
    unit = examples.constant_in_range()
    assert unit.job is not None
    listed = steps(unit, replace(unit.job, rounds=unit.job.rounds[:1]))
    assert [int(one.number) for one in listed] == list(range(1, 11))
    assert listed[5].words == "No further round."


def test_hold_after_round_one_is_for_units_near_a_nozzle() -> None:
    unit = replace(examples.constant_in_range(), near_nozzle=False)
    assert unit.job is not None
    assert not any("HOLD 2" in one.hold for one in steps(unit, unit.job))


def test_room_is_told_without_turns_where_these_are_not_known() -> None:
    scale = replace(examples.constant_in_range().scale, room_up_turns=None, room_down_turns=None)
    assert scale_words(scale).startswith(
        "window 21.66 – 22.54\u00a0kN  ·  room up 0.90\u00a0kN  ·  "
    )
    assert "not known" not in scale_words(scale)


def test_found_window_is_as_wide_as_the_as_left_one() -> None:
    # (22 542 - 21 658) / 2 = 442 N to either side of 20 000 N
    assert found_window(examples.constant_in_range()) == pytest.approx((19558.0, 20442.0))
    assert found_window(examples.refused()) is None


def test_trial_is_half_a_turn_or_the_whole_of_a_smaller_round() -> None:
    job = examples.constant_in_range().job
    assert job is not None
    assert trial_turn(job) == Turns(0, 3)
    small = replace(job, rounds=(replace(job.rounds[0], turns=Turns(0, 2)),))
    assert trial_turn(small) == Turns(0, 2)


def test_trial_says_which_way_the_scale_goes() -> None:
    unit = examples.constant_in_range()
    assert unit.job is not None
    down = replace(unit.job, direction=Direction.DECREASE)
    assert "must go up" in steps(unit, unit.job)[3].words
    assert "must go down" in steps(unit, down)[3].words


@pytest.mark.parametrize(
    ("turns", "words", "short"),
    [
        (Turns(8, 2), "8 turns 2 flats", "8 t 2 f"),
        (Turns(1, 1), "1 turn 1 flat", "1 t 1 f"),
        (Turns(0, 3), "3 flats", "3 f"),
        (Turns(6), "6 turns", "6 t"),
        (Turns(0), "0 turns", "0 t"),
    ],
)
def test_turns_in_words(turns: Turns, words: str, short: str) -> None:
    assert str(turns) == words
    assert turns.short == short


def test_unknown_is_written_as_unknown_everywhere() -> None:
    assert load(None, "kN") == bare(None, "kN", Kind.LOAD) == "not known"
    assert span(None, 1.0, "kN") == percent(None) == "not known"
    assert energy(None) == "not known – treat as dangerous"


def test_small_energy_is_compared_by_whole_kilograms() -> None:
    # 220.5 J / 9.80665 = 22.5 kg; 98.1 J = 10.0 kg
    assert energy(98.1).endswith("like 10\u00a0kg falling 1\u00a0m")
