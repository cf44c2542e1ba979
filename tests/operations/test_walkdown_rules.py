"""The rules of walkdowns against hand-worked figures and independent programs."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from supports.rules.site_settings import limit_of, proposed_settings
from supports.rules.walkdown.compare import Outcome, settled, three_ways
from supports.rules.walkdown.coverage import Seen, add_months, coverage
from supports.rules.walkdown.expectation import expected, movement_share
from supports.rules.walkdown.facts import ItemFacts
from supports.rules.walkdown.judgement import RULES, judge
from supports.rules.walkdown.limits import (
    SETTINGS,
    WalkLimits,
    proposed_walk_limits,
    source_of,
    walk_limits,
)
from supports.rules.walkdown.reading import Found, PointerScale, PointerWritten, pointer_from_zero
from supports.rules.walkdown.route import legs, walking_order
from supports.rules.walkdown.trend import Point, trend_of, trends
from supports.rules.walkdown.words import Grade, Half, StopSeen
from supports.snapshots import (
    NameplateView,
    ReadingView,
    RequiredView,
    SettingView,
    SupportView,
    UnitView,
)
from supports.vocabulary import CaseKind, PlantState, SupportKind

LIMITS = proposed_walk_limits()
HOT, COLD = PlantState.OPERATING_STEADY, PlantState.SHUT_DOWN_DRAINED
PLATE = NameplateView(
    scale_unit="kN", pointer_unit="mm", total_travel=0.2, design_travel=-0.14, cold_mark=0.04,
    hot_mark=0.18, zero_end="top",
)  # fmt: skip
SETTING = SettingView(20e3, date(2021, 5, 5), "scale", "N. N.", COLD)
UNIT = UnitView(1, "A", SupportKind.CONSTANT_HANGER, "S-1", PLATE, SETTING)
SUPPORT = SupportView(1, "C-1", SupportKind.CONSTANT_HANGER, criticality="A", units=(UNIT,))
FOUND = Found(
    read_on=date(2031, 5, 6), plant_state=HOT, walkers=("T1",), load=20e3, pointer=0.178,
    stop=StopSeen.OUT, grade=Grade.GOOD, seen=True, photos="1",
)  # fmt: skip
PAIR = ReadingView(date(2031, 4, 2), COLD, 20e3, 0.042, "T1", "walkdown")
FACTS = ItemFacts("C-1", SUPPORT, UNIT, FOUND, (PAIR,), PAIR, 563.15)


def broken(facts: ItemFacts) -> set[str]:
    return {one.rule for one in judge(facts, LIMITS).failures}


def found(**changes: object) -> ItemFacts:
    return replace(FACTS, found=replace(FOUND, **changes))


def test_a_healthy_unit_is_as_expected():
    judged = judge(FACTS, LIMITS)
    assert (judged.said, broken(FACTS)) == ("as expected", set())
    # 178 - 42 = 136 mm further from the top: down.
    assert judged.moved == pytest.approx(-0.136)


# Common practice, no source: each fault and the rule that names it.
@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"pointer": 0.2}, "on-the-stop"),
        ({"pointer": 0.195}, "room-at-one-end-short"),
        ({"pointer": 0.160}, "pointer-not-as-expected"),
        ({"pointer": 0.260}, "reading-impossible"),
        ({"pointer": 0.045}, "moves-too-little"),
        ({"load": 21.6e3}, "set-without-record"),
        ({"stop": StopSeen.IN}, "lock-in-while-running"),
        ({"stop": StopSeen.SEIZED}, "lock-seized"),
        ({"serial": "S-2"}, "unit-moved"),
        ({"stop": StopSeen.MISSING}, "lock-not-in-holder"),
        ({"rod_angle": 0.06}, "body-leaning"),
        ({"grade": Grade.UNSAFE_NOW}, "condition-graded"),
        ({"pointer": None, "load": None}, "seen-as-ok-without-value"),
        ({"photos": ""}, "critical-without-photo"),
        ({"doubts": {"load": "unit not stated"}}, "value-not-taken"),
        ({"pipe_temperature": 420.0}, "state-not-comparable"),
    ],
)
def test_each_fault_breaks_its_rule(changes, rule):
    assert rule in broken(found(**changes))


def swinging(angle: float, state: PlantState, **support: object) -> set[str]:
    """Return the rules broken by a rod of 1.2 m under a pipe that moves 72 mm east, 54 mm north."""
    operating = RequiredView(
        "L-7", "operating", CaseKind.OPERATING, 20e3, movement_east=0.072, movement_north=0.054
    )
    view = replace(SUPPORT, required=(operating,), rod_length=1.2, **support)
    seen = replace(FOUND, rod_angle=math.radians(angle), plant_state=state)
    return broken(replace(FACTS, support=view, found=seen)) & {"swing-seen-differs", "body-leaning"}


def test_a_rod_leans_as_far_as_the_pipe_takes_it():
    # sqrt(72^2 + 54^2) = 90 mm; asin(90 / 1200) = 4.30 degrees; 2 degrees may it differ.
    assert swinging(4.3, HOT) == swinging(6.2, HOT) == swinging(2.4, HOT) == set()
    assert swinging(6.4, HOT) == swinging(2.2, HOT) == {"swing-seen-differs"}
    # Shut down it hangs plumb; built in 45 mm against the movement, 2.15 degrees either way.
    assert swinging(4.3, COLD) == {"swing-seen-differs"}
    assert swinging(2.15, COLD, rod_offset=0.045) == set()
    assert swinging(4.3, HOT, rod_offset=0.045) == {"swing-seen-differs"}


def test_without_movement_or_rod_length_the_lean_alone_is_looked_at():
    answers = judge(found(rod_angle=math.radians(4.3)), LIMITS).answers
    (swing,) = [one for one in answers if one.rule == "swing-seen-differs"]
    assert swing.cannot_judge
    assert set(swing.missing) == {"rod length", "sideways movement in operation"}
    assert "body-leaning" in broken(found(rod_angle=math.radians(4.3)))


def test_movement_the_other_way_that_fits_the_other_walk_says_so():
    facts = replace(found(pointer=0.042), pair=replace(PAIR, pointer=0.178))
    (answer,) = [one for one in judge(facts, LIMITS).failures if one.rule == "moves-the-wrong-way"]
    assert "exchanged" in answer.text


def test_zero_at_the_bottom_turns_the_sign():
    plate = replace(PLATE, zero_end="bottom", cold_mark=0.18, hot_mark=0.04)
    unit = replace(UNIT, nameplate=plate)
    facts = replace(found(pointer=0.042), unit=unit, pair=replace(PAIR, pointer=0.178))
    assert judge(facts, LIMITS).moved == pytest.approx(-0.136)
    assert "moves-the-wrong-way" not in broken(facts)


def test_the_window_holds_at_its_edge_and_breaks_beyond():
    # 10 % of 140 mm is 14 mm and more than 10 mm: 166 mm is inside, 165.9 mm is not.
    assert "pointer-not-as-expected" not in broken(found(pointer=0.166))
    assert "pointer-not-as-expected" in broken(found(pointer=0.1659))


def test_every_rule_is_silent_or_unsure_where_nothing_is_known():
    support = SupportView(1, "X", SupportKind.UNKNOWN)
    judged = judge(ItemFacts("X", support, None, None), LIMITS)
    assert len(judged.answers) == len(RULES)
    assert not judged.failures
    assert judged.said == "not seen"


def test_a_reading_on_an_unknown_unit_is_never_as_expected():
    unit = UnitView(1, "A", SupportKind.CONSTANT_HANGER)
    facts = ItemFacts("X", replace(SUPPORT, units=(unit,)), unit, FOUND, (PAIR,), PAIR)
    assert judge(facts, LIMITS).said == "cannot judge"


def test_a_variable_is_expected_from_its_setting_by_rate_and_movement():
    # 11.04 kN shut down, 80 N/mm, 18 mm up: 11.04 - 1.44 = 9.60 kN in operation.
    plate = NameplateView(rate=80e3, movement=0.018, hot_load=1.0, cold_load=1.0)
    unit = UnitView(1, "A", SupportKind.VARIABLE_HANGER, "", plate, replace(SETTING, load=11.04e3))
    assert expected(SUPPORT, unit, HOT, LIMITS).load == pytest.approx(9.6e3)
    from_hot = replace(unit, setting=replace(SETTING, load=9.6e3, plant_state=HOT))
    assert expected(SUPPORT, from_hot, COLD, LIMITS).load == pytest.approx(11.04e3)
    unsettled = expected(SUPPORT, replace(unit, setting=None), HOT, LIMITS)
    assert (unsettled.load, "setting" in unsettled.missing) == (None, True)


def test_a_half_warm_line_is_expected_half_way_and_joins_no_trend():
    # 21 °C to 290 °C; at 155.5 °C half of the rise: 40 + 0.5 * 140 = 110 mm.
    wanted = expected(SUPPORT, UNIT, HOT, LIMITS, pipe=428.65, operating=563.15)
    assert wanted.pointer == pytest.approx(0.110)
    assert not wanted.comparable
    assert movement_share(PlantState.OPERATING_PART_LOAD, None, 563.15, LIMITS) == (None, False)
    assert movement_share(PlantState.UNDER_TEST, 300.0, 563.15, LIMITS) == (None, False)


def test_marks_counted_become_a_length_and_the_other_end_is_turned():
    scale = PointerScale("mm", 0.2, "top")
    assert pointer_from_zero(PointerWritten(7.0, "divisions", 10.0), scale) == (
        pytest.approx(0.140), "",
    )  # fmt: skip
    assert pointer_from_zero(PointerWritten(20.0, read_from="bottom"), scale) == (
        pytest.approx(0.180), "",
    )  # fmt: skip
    for unknown in (PointerScale("divisions", None, "top"), PointerScale("", 0.2, "top")):
        length, why = pointer_from_zero(PointerWritten(7.0), unknown)
        assert length is None
        assert why


VALUES = st.dictionaries(st.sampled_from("abcd"), st.floats(-9, 9) | st.text(max_size=3))


@given(VALUES, VALUES)
def test_a_form_that_says_what_it_was_issued_with_changes_nothing(base, now):
    assert {one.outcome for one in three_ways(base, base, now)} <= {Outcome.UNTOUCHED}


@given(VALUES, VALUES)
def test_nothing_known_meanwhile_means_no_conflict(base, form):
    outcomes = {one.outcome for one in three_ways(base, form, base)}
    assert Outcome.CONFLICT not in outcomes


@given(VALUES, VALUES)
def test_both_words_are_kept_until_one_is_chosen(one, other):
    entries = [(1, "T1", one), (2, "T2", other)]
    open_ones = settled(entries, None)
    assert set(open_ones.values) | set(open_ones.conflicts) == set(one) | set(other)
    chosen = settled(entries, 2)
    assert not chosen.conflicts
    assert all(chosen.values[name] == other[name] for name in other)


READINGS = st.lists(
    st.tuples(st.integers(0, 4000), st.floats(-1, 1)), min_size=3, max_size=9,
    unique_by=lambda one: one[0],
)  # fmt: skip


@given(READINGS)
def test_the_trend_is_that_of_numpy(readings):
    # Independent of our own: numpy.polyfit, least squares by singular values.
    first = date(2020, 1, 1)
    held = sorted(readings)
    points = [Point(date.fromordinal(first.toordinal() + n), HOT, v) for n, v in held]
    made = trend_of(HOT, points)
    years = [(n - held[0][0]) / 365.25 for n, _ in held]
    slope, start = np.polyfit(years, [v for _, v in held], 1)
    assert made.slope == pytest.approx(slope, abs=1e-6 * max(1.0, abs(slope)))
    assert made.start == pytest.approx(start, abs=1e-6)


def test_trends_keep_plant_states_apart_and_start_after_a_re_set():
    days = [date(year, 6, 1) for year in (2020, 2021, 2022, 2023)]
    points = [Point(day, HOT, 0.1) for day in days] + [Point(day, COLD, 0.2) for day in days[:2]]
    points += [Point(day, PlantState.UNKNOWN, 0.9) for day in days]
    assert [(one.state, one.count) for one in trends(points, fewest=3)] == [(HOT, 4)]
    assert trends(points, fewest=3, since=date(2022, 1, 1)) == ()


def test_a_drift_beyond_two_millimetres_a_year_is_told():
    earlier = tuple(
        ReadingView(date(year, 5, 6), HOT, 20e3, 0.178 - 0.003 * (2031 - year), "T1", "walkdown")
        for year in (2029, 2030)
    )
    assert "drift-between-walks" in broken(replace(FACTS, earlier=earlier))
    slow = tuple(replace(one, pointer=0.177) for one in earlier)
    assert "drift-between-walks" not in broken(replace(FACTS, earlier=slow))


def place(tag: str, floor: str, grid: str, height: float | None = 1.0) -> SupportView:
    return SupportView(1, tag, SupportKind.REST, floor=floor, grid=grid, height_above_floor=height)


def test_one_walks_along_a_row_and_back_along_the_next():
    held = [
        place("d", "level 2", "row H, bay 1"), place("b", "level 1", "row J, bay 2"),
        place("c", "level 1", "row J, bay 10"), place("x", "", ""),
        place("a", "level 1", "row H, bay 9"), place("e", "level 1", "row H, bay 10"),
    ]  # fmt: skip
    ordered = walking_order(held)
    assert [one.tag for one in ordered] == ["a", "e", "c", "b", "d", "x"]
    walk = legs(ordered, LIMITS)
    assert [(leg.floor, leg.row, len(leg.tags)) for leg in walk] == [
        ("level 1", "row H", 2), ("level 1", "row J", 2), ("level 2", "row H", 1),
        ("floor not known", "row not known", 1),
    ]  # fmt: skip


def test_coverage_counts_never_seen_as_overdue():
    seen = Seen("a", "N", "A", (), date(2030, 6, 1), date(2030, 6, 20), date(2030, 6, 20))
    held = (seen, Seen("b", "N", "A", ()), replace(seen, tag="c", operating=None))
    total = coverage(held, date(2031, 6, 20), LIMITS)
    assert (total.supports, total.seen, total.never, total.overdue, total.unpaired) == (
        3, 2, 1, 1, 1,
    )  # fmt: skip
    assert coverage(held, date(2031, 6, 21), LIMITS).overdue == 3
    assert add_months(date(2030, 12, 31), 2) == date(2031, 2, 28)


def test_every_limit_of_a_walk_is_a_setting_of_the_site_and_follows_it():
    assert set(SETTINGS) == {item.name for item in fields(WalkLimits)}
    assert len(set(SETTINGS.values())) == len(SETTINGS)
    for name, setting in SETTINGS.items():
        moved = replace(proposed_settings(), **{setting: 1.5 * limit_of(setting).si})
        changed = {
            item.name
            for item in fields(WalkLimits)
            if getattr(walk_limits(moved), item.name) != getattr(LIMITS, item.name)
        }
        assert changed == {name}
        assert f"site setting {setting}, proposed" in source_of(name)
        assert limit_of(setting).trust in {"no source", "from memory", "read"}


def test_walks_are_due_by_the_class_of_a_support():
    assert round(LIMITS.interval("A")) == 12  # ASME B31.1 app. V, from memory: once a year
    assert round(LIMITS.interval("B")) == 24
    assert round(LIMITS.interval("C")) == round(LIMITS.interval("")) == 60
    assert Half.OPERATING.other is Half.SHUT_DOWN
