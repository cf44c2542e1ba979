"""What scales show before the first turn, props in as listed: that is when as-found is read.

A prop right beneath a weight that bears all of it leaves the line as it was before (statics).
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from supports.rules.line.screening import ready_line
from supports.rules.reset_planning.again import plan_as_found
from supports.rules.reset_planning.line_states import plan_line
from supports.rules.reset_planning.make import make_plan
from supports.rules.reset_planning.wish import PlanWish
from supports.rules.site_settings import proposed_settings
from supports.vocabulary import PlantState
from tests.rules.planning_lines import KN, judged, valve, worked_line

WISH = PlanWish()


@cache
def planned():
    route = worked_line(reach=0.95)
    assessed = judged(route)
    plan = make_plan(assessed, route, WISH, proposed_settings(), "fp")
    return route, assessed, plan.alternatives[0]


def scale(plan, name: str) -> float:
    return next(one.scale for one in plan.start_readings if one.name == name)


def test_a_prop_beneath_the_weight_leaves_every_scale_as_it_was():
    route, _, plan = planned()
    (prop,) = plan.holds
    assert prop.force == pytest.approx(6 * KN, rel=1e-6)
    assert max(abs(one.moved) for one in plan.start_readings) < 1e-9
    line = plan_line(ready_line(route, (valve(),)), PlantState.SHUT_DOWN_DRAINED, weight_on=True)
    assert scale(plan, "V1") == pytest.approx(line.before.supports["V1"].load)


def test_a_reading_with_the_prop_in_gives_a_line_that_shows_that_reading():
    route, assessed, plan = planned()
    found = {"V1": scale(plan, "V1") + 150.0, "C1": scale(plan, "C1") + 200.0}
    again = plan_as_found(assessed, route, WISH, proposed_settings(), "fp", plan, found)
    assert {one.name for one in again.shifted} == {"V1", "C1"}
    now = replace(plan, start_readings=again.alternatives[0].start_readings)
    # the prop is set to the level of the pipe as it now stands, so both lines differ by little
    assert scale(now, "C1") == pytest.approx(found["C1"])
    assert scale(now, "V1") == pytest.approx(found["V1"], abs=20.0)


def test_after_its_step_a_constant_shows_what_it_shows_till_the_rounds_end():
    # what a constant pulls with changes by its own bolt alone
    _, _, plan = planned()
    for one in plan.rounds:
        after = {reading.name: reading.scale for reading in one.readings}
        for step in one.steps:
            assert step.scale == (pytest.approx(after[step.name]) if step.turns else None)


def test_a_variable_turned_early_is_moved_on_by_the_rest_of_the_round():
    route, assessed, _ = planned()
    wish = replace(WISH, alternatives=True)
    plan = make_plan(assessed, route, wish, proposed_settings(), "fp").named("least nozzle use")
    (first, *_) = plan.rounds
    step = next(step for step in first.steps if step.name == "V1")
    ends = next(reading.scale for reading in first.readings if reading.name == "V1")
    assert step.number < max(one.number for one in first.steps)
    # the rod is let out, so the spring shows less than before: by all of the rate where the pipe
    # is held, by nothing where it follows; two threads of 3 mm, 80 N/mm
    turns = step.turns + step.flats / 6.0
    given = turns * 2.0 * 3e-3 * 80e3
    assert scale(plan, "V1") - given < step.scale < scale(plan, "V1")
    assert abs(step.scale - ends) > 10.0
