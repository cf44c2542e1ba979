"""Two constants on one beam: always both, alternately, each by its share.

Worked by hand (trade notes): spacing 1,600 mm, pipe 600 mm from A, beam 1.2 kN; 36.0 kN gives
23.1 and 14.1 kN; 4.0 kN more gives 25.6 and 15.6 kN, 12.5 turns at 0.20 kN and 10.0 at 0.15 kN,
in five rounds of 2.5 and 2.0 turns.
"""

from __future__ import annotations

import pytest

from supports.calc.reset_plan.plan import plan_to
from supports.errors import NotReady
from supports.rules.reset_planning.build import planning_of
from supports.rules.reset_planning.make import alternative, checked_end, make_plan
from supports.rules.reset_planning.wish import PlanWish
from supports.rules.site_settings import proposed_settings
from supports.vocabulary import PlantState
from tests.rules.planning_lines import KN, beam_line, judged, valve, with_support

WISH = PlanWish(work_state=PlantState.SHUT_DOWN_DRAINED)
SETTINGS = proposed_settings()
WEIGHT = valve(6.0, 4 * KN)


def line(reach: float):
    """Return the beam's line; its variable is read only."""
    return with_support(beam_line(reach), "V1", required=())


@pytest.fixture(scope="module")
def by_hand():
    route = line(0.15)
    planning = planning_of(judged(route, WEIGHT), route, WISH, SETTINGS)
    wanted = {"T1/A": 25.6 * KN, "T1/B": 15.6 * KN}
    return alternative(
        planning, "by hand", checked_end(planning, plan_to(planning.problem, wanted))
    )


def test_turns_and_rounds_are_those_worked_by_hand(by_hand):
    a, b = by_hand.units
    assert (a.turns, a.flats, b.turns, b.flats) == (12, 3, 10, 0)
    assert (a.setting_after, b.setting_after) == pytest.approx((25_600.0, 15_600.0))
    assert len(by_hand.rounds) == 5
    for one in by_hand.rounds:
        assert [step.name for step in one.steps] == ["T1/A", "T1/B"]
        first, second = one.steps
        # 2.5 turns and 2.0 turns, to the nearest flat
        assert first.turns + first.flats / 6.0 == pytest.approx(2.5, abs=1 / 6)
        assert second.turns + second.flats / 6.0 == pytest.approx(2.0, abs=1 / 6)


def test_between_steps_neither_unit_runs_ahead_of_the_other(by_hand):
    # share by moments: A carries 1000/1600 of the pipe and half the beam
    a, b = 23.1 * KN, 14.1 * KN
    for step in by_hand.steps:
        given = step.turns + step.flats / 6.0
        a, b = (a + 200.0 * given, b) if step.name == "T1/A" else (a, b + 150.0 * given)
        on_pipe = a + b - 1.2 * KN
        assert a == pytest.approx(on_pipe * 1000 / 1600 + 600.0, rel=0.05)
        assert b == pytest.approx(on_pipe * 600 / 1600 + 600.0, rel=0.05)


def test_the_plan_itself_turns_both_and_keeps_the_shares():
    route = line(0.15)
    plan = make_plan(judged(route, WEIGHT), route, WISH, SETTINGS, "mark").alternatives[0]
    assert [unit.name for unit in plan.units] == ["T1/A", "T1/B"]
    assert plan.safe
    loads = [unit.setting_after for unit in plan.units]
    assert loads[0] == pytest.approx(25.6 * KN, rel=0.011)
    assert loads[1] == pytest.approx(15.6 * KN, rel=0.011)


def test_where_one_unit_is_out_of_range_neither_is_turned():
    # 23.1 kN + 10 % = 25.41 kN < 25.6 kN, although the sum of both would fit
    route = line(0.10)
    with pytest.raises(NotReady, match="no unit of the line may be turned") as told:
        make_plan(judged(route, WEIGHT), route, WISH, SETTINGS, "mark")
    assert "T1/A: cannot be set" in str(told.value)
    assert "T1/B: " in str(told.value)


def test_a_beam_without_arms_is_asked_about():
    route = with_support(line(0.15), "T1", arm_a=None)
    with pytest.raises(NotReady, match="arm"):
        make_plan(judged(route, WEIGHT), route, WISH, SETTINGS, "mark")


def test_a_beam_is_offered_no_single_travel_stop(by_hand):
    route = line(0.15)
    planning = planning_of(judged(route, WEIGHT), route, WISH, SETTINGS)
    assert not [hold for hold in planning.holds if hold.name.startswith("T1")]
    assert all("T1" not in hold.name for hold in by_hand.holds)
