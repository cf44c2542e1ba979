"""What a support of the register does to the pipe; by hand: statics and Hooke's law."""

from __future__ import annotations

from math import inf

import pytest

from supports.calc.line.restraints import Constant, Variable
from supports.rules.line.holding import across, held_by
from supports.snapshots import AttachmentView, PieceView
from supports.vocabulary import PlantState, SupportKind
from tests.rules.line.routes import CONSTANT, NUMBER, VARIABLE, G, constant, hung, point, unit

EAST = (1.0, 0.0, 0.0)
PLATE = {"rate": 80e3, "movement": 0.02, "working_low": 5e3, "working_high": 20e3}


def held(view):
    """Return what a support does on the line of the tests."""
    return held_by(view, view.attachments[0], EAST)


def test_a_constant_pulls_with_its_setting_less_what_hangs_below():
    # What stands before the unit hangs from the steel, not from the unit.
    stack = (hung(100.0, 1), PieceView("A", 2, "unit", mass=90.0), hung(5.0, 3), hung(12.0, 4))
    found = held(constant("C1", 4, 20e3, hardware=stack)).support
    assert isinstance(found, Constant)
    assert found.setting == pytest.approx(20e3 - 17.0 * G)


def test_a_trapeze_pulls_with_both_units_less_its_beam():
    units = (unit(CONSTANT, 12e3), unit(CONSTANT, 8e3, "B"))
    beam = point("C1", CONSTANT, 4, *units, beam_mass=40.0, hardware=(hung(3.0, 1, "all"),))
    found = held(beam).support
    assert isinstance(found, Constant)
    assert found.setting == pytest.approx(20e3 - 43.0 * G)


def test_one_unit_of_a_trapeze_without_setting_leaves_the_point_unknown():
    units = (unit(CONSTANT, 12e3), unit(CONSTANT, None, "B"))
    found = held(point("C1", CONSTANT, 4, *units))
    assert found.support is None
    assert found.missing == "C1: present setting"


def test_two_variables_of_a_trapeze_add_loads_and_rates():
    units = tuple(unit(VARIABLE, 10e3, position, **PLATE) for position in "AB")
    found = held(point("V1", VARIABLE, 4, *units)).support
    assert isinstance(found, Variable)
    assert found.rate == pytest.approx(160e3)
    assert found.setting == pytest.approx(2 * (10e3 + 80e3 * 0.02))
    assert (found.load_low, found.load_high) == pytest.approx((10e3, 40e3))


@pytest.mark.parametrize(
    ("state", "at_level"),
    [
        (PlantState.OPERATING_STEADY, 10e3 + 80e3 * 0.02),  # read hot: the pipe went up 20 mm
        (PlantState.SHUT_DOWN_FULL, 10e3),  # read cold: the pipe stands at its level
    ],
)
def test_a_variable_is_taken_back_to_the_level_of_the_cold_pipe(state, at_level):
    found = held(point("V1", VARIABLE, 4, unit(VARIABLE, 10e3, state=state, **PLATE))).support
    assert isinstance(found, Variable)
    assert found.setting == pytest.approx(at_level)


def test_a_variable_says_what_it_lacks():
    bare = {**PLATE, "rate": None}
    found = held(point("V1", VARIABLE, 4, unit(VARIABLE, 10e3, **bare)))
    assert "V1: spring rate" in found.missing
    unread = held(point("V1", VARIABLE, 4, unit(VARIABLE, 10e3, state=PlantState.UNKNOWN, **PLATE)))
    assert "the plant's state" in unread.missing


def test_unknown_travel_has_no_stop_and_known_travel_has_two():
    free = held(constant("C1", 4, 20e3)).support
    assert isinstance(free, Constant)
    assert (free.travel_down, free.travel_up) == (inf, inf)
    plate = {"total_travel": 0.1, "cold_mark": 0.03, "zero_end": "top"}
    stopped = held(point("C1", CONSTANT, 4, unit(CONSTANT, 20e3, **plate))).support
    assert isinstance(stopped, Constant)
    assert (stopped.travel_down, stopped.travel_up) == pytest.approx((0.07, 0.03))


def test_a_point_of_two_lines_gives_each_its_share():
    places = (AttachmentView(NUMBER, node="4", share=0.25), AttachmentView("L-2", node="9"))
    shared = constant("C1", 4, 20e3, attachments=places)
    found = held_by(shared, places[0], EAST).support
    assert isinstance(found, Constant)
    assert found.setting == pytest.approx(5e3)
    assert held_by(shared, places[1], EAST).missing == "C1: share of line L-2 in its load"


def test_what_holds_nothing_slow_is_left_out_and_said():
    found = held(point("D1", SupportKind.SHOCK_ARRESTOR, 4))
    assert found.support is None
    assert not found.missing
    assert "holds nothing slow" in found.notes[0]


def test_what_nobody_can_say_how_it_holds_is_missing():
    assert "how a unknown holds" in held(point("X1", SupportKind.UNKNOWN, 4)).missing


def test_hanging_pieces_of_unknown_mass_are_told():
    found = held(constant("C1", 4, 20e3, hardware=(hung(None),)))
    assert "mass of 1 hanging pieces not known" in found.notes[0]


@pytest.mark.parametrize(
    ("run", "direction"),
    [(EAST, (0.0, 1.0, 0.0)), ((0.0, 2.0, 0.0), (-1.0, 0.0, 0.0)), ((0, 0, 1), EAST)],
)
def test_across_is_level_and_to_the_left_of_the_run(run, direction):
    assert across(run) == pytest.approx(direction)
