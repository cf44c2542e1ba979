"""What a travel stop may take besides the set load, and where friction counts."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from supports.calc.reset_plan.judge import final_judge
from supports.calc.reset_plan.rows import RowKind
from supports.rules.reset_planning.build import planning_of, stop_room
from supports.rules.reset_planning.wish import PlanWish
from supports.rules.site_settings import proposed_settings
from supports.snapshots import PieceView
from supports.vocabulary import PlantState
from tests.rules.planning_lines import KN, balanced, judged, with_support, worked_line

WISH = PlanWish(work_state=PlantState.SHUT_DOWN_DRAINED)
SETTINGS = proposed_settings()


def planned(**plates):
    route = worked_line(reach=0.95, **plates)
    return planning_of(judged(route), route, WISH, SETTINGS)


def room(stop, rod):
    route = worked_line(reach=0.95, stop_rating=stop)
    pieces = (
        PieceView("A", 1, "unit", "", 100 * KN, "", 0.0),
        PieceView("A", 2, "rod", "", rod, "", 0.0),
    )
    route = with_support(route, "C1", hardware=pieces)
    planning = planning_of(judged(route), route, WISH, SETTINGS)
    return stop_room(planning.units["C1"])


def test_stop_and_stack_carry_the_set_load_and_what_the_stop_takes():
    set_to = balanced()[0]  # about 8.69 kN
    assert room(12 * KN, 50 * KN) == pytest.approx(12 * KN - set_to)
    assert room(50 * KN, 11 * KN) == pytest.approx(11 * KN - set_to)
    # pushed up by all of its set load, the hanger hangs slack
    assert room(50 * KN, 50 * KN) == pytest.approx(set_to)


def test_a_stop_without_a_rating_is_not_offered():
    assert room(None, 50 * KN) == 0.0
    assert room(50 * KN, None) == 0.0
    assert {hold.name for hold in planned().holds} == {"prop at 7.00 m"}


def test_a_stack_that_is_full_leaves_the_stop_nothing():
    route = worked_line(reach=0.95, stop_rating=50 * KN)
    full = (PieceView("A", 1, "rod", "", balanced()[0], "", 0.0),)
    planning = planning_of(
        judged(with_support(route, "C1", hardware=full)), with_support(route, "C1", hardware=full),
        WISH, SETTINGS,
    )  # fmt: skip
    assert "C1" not in {hold.name for hold in planning.holds}
    assert "C2" in {hold.name for hold in planning.holds}


def test_friction_counts_at_nozzles_and_supports_and_holds_pointers_back():
    # Coulomb: friction acts against movement and moves nothing by itself.
    free, banded = planned(deviation=0.0), planned(deviation=0.02)
    nothing = np.zeros(len(free.problem.columns))
    worse = {}
    for kind in (RowKind.NOZZLE, RowKind.SUPPORT, RowKind.POINTER):
        uses = [
            np.array([use for use, label in zip(judge.uses(nothing), judge.labels, strict=True)
                      if label.kind is kind])
            for judge in (final_judge(free.problem), final_judge(banded.problem))
        ]  # fmt: skip
        worse[kind] = float(np.max(uses[1] - uses[0]))
    assert worse[RowKind.NOZZLE] > 0.01
    assert worse[RowKind.SUPPORT] > 0.0
    assert worse[RowKind.POINTER] == 0.0


def test_the_part_of_the_band_asked_for_scales_what_friction_adds():
    route = worked_line(reach=0.95, deviation=0.02)
    assessed = judged(route)
    moments = {}
    for share in (0.0, 0.5, 1.0):
        planning = planning_of(assessed, route, replace(WISH, friction_share=share), SETTINGS)
        judge = final_judge(planning.problem)
        uses = judge.uses(np.zeros(len(planning.problem.columns)))
        moments[share] = max(
            use for use, label in zip(uses, judge.labels, strict=True)
            if label.kind is RowKind.NOZZLE and label.quantity == "My"
        )  # fmt: skip
    assert moments[0.5] - moments[0.0] == pytest.approx(moments[1.0] - moments[0.5])
    # half bands 2 % of 8.69 and 3.23 kN; the example's influence: 2.814 and 3.498 kN·m per kN
    c1, c2 = balanced()
    by_hand = 0.02 * (2.814 * c1 + 3.498 * c2) / (10 * KN)
    assert moments[1.0] - moments[0.0] == pytest.approx(by_hand, rel=5e-3)
