"""A line through a change: aims, reasons for a full analysis, what stands out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from supports.calc.line.aims import Aim
from supports.calc.line.comparison import Look
from supports.rules.line.screening import beside_record, calculated_loads, ready_line, screen
from supports.rules.line.words import analysis_words, details, to_confirm, verdict_words
from supports.snapshots import RequiredView
from supports.vocabulary import CaseKind, Known, SupportKind
from tests.rules.line.routes import G, constant, hung, limits, point, straight_route, weight

ADDED = 200.0 * G


def route(**changed):
    """Return a cantilever on one constant, with a rod near its end."""
    held = (constant("C1", 4, 3000.0), point("R1", SupportKind.RIGID_ROD, 10))
    return straight_route(0, 4, 10, **{"supports": held, "nozzles": (limits(),), **changed})


def screened(aim=Aim.LEVEL, **changed):
    """Screen it with 200 kg put on over the constant."""
    return screen(ready_line(route(**changed), [weight(200.0, 4.0)]), aim)


def test_weight_over_a_constant_is_taken_by_that_constant_when_the_pipe_comes_back():
    found = {row.tag: row for row in screened().supports}
    assert found["C1"].setting_change == pytest.approx(ADDED, rel=1e-6)
    assert found["C1"].added == pytest.approx(3000.0)
    assert found["C1"].planned_rise == pytest.approx(0.0, abs=1e-9)
    assert found["R1"].planned == pytest.approx(found["R1"].before, rel=1e-6)


def test_keeping_settings_changes_none():
    found = {row.tag: row for row in screened(Aim.KEEP).supports}
    assert found["C1"].setting_change == pytest.approx(0.0)
    assert found["C1"].planned == pytest.approx(found["C1"].added)


def test_a_constant_leaves_the_added_weight_to_nozzle_and_rod():
    one = screened()
    before, after = one.results["before"], one.results["added, nothing re-set"]
    nozzle = after.nozzles["N1"][2] - before.nozzles["N1"][2]
    rod = after.supports["R1"].load - before.supports["R1"].load
    assert nozzle + rod == pytest.approx(ADDED, rel=1e-9)


def test_a_nozzle_over_its_limit_is_named_with_state_number_and_source():
    # Over 3 kN by statics of the propped cantilever: the nozzle alone carries over a third.
    one = screened(nozzles=(limits(forces=(None, None, 2000.0), moments=(None,) * 3),))
    assert "nozzle N1 over limits" in verdict_words(one)
    assert any("Nozzle N1, Fz" in words and "(data sheet)" in words for words in details(one))


def test_a_nozzle_without_limits_cannot_be_judged():
    assert "N1 cannot be judged (missing: limits)" in verdict_words(screened(nozzles=()))


def test_reasons_and_unknowns_of_a_full_analysis():
    heavy = screened().need
    assert "the net added weight is a large share of the line's weight" in heavy.reasons
    assert any("dynamic" in w or "hammer" in w for w in heavy.cannot_judge)
    assert any("centre of gravity" in words for words in heavy.cannot_judge)  # offsets are blank
    assert analysis_words(heavy) == "A full analysis is mandatory."


def test_a_machine_nozzle_asks_for_a_full_analysis():
    machine = (replace(limits(), machine=Known.YES),)
    assert any("machine" in reason for reason in screened(nozzles=machine).need.reasons)


def with_record(load, included=Known.NO, mass=0.0):
    """Return the constant with a load on record [N], and so much hanging below it [kg]."""
    needed = RequiredView("L-1", "operating", CaseKind.OPERATING, load, included)
    stack = (hung(mass),) if mass else ()
    return constant("C1", 4, 3000.0 + mass * G, required=(needed,), hardware=stack)


def test_a_load_on_record_loses_the_hardware_that_it_includes():
    plain = route(supports=(with_record(3000.0),))
    heavier = route(supports=(with_record(3000.0 + 50.0 * G, Known.YES, 50.0),))
    assert calculated_loads(plain)["C1"] == pytest.approx(3000.0)
    assert calculated_loads(heavier)["C1"] == pytest.approx(3000.0)


def test_what_differs_from_the_record_would_have_to_be_confirmed():
    near, far = with_record(3050.0), with_record(4000.0)
    assert "C1" not in {one.support for one in to_confirm(screened(supports=(near,)))}
    found = {one.support: one.look for one in to_confirm(screened(supports=(far,)))}
    assert found["C1"] is Look.LOAD_DIFFERS


def test_guides_are_not_held_against_the_record():
    held = (constant("C1", 4, 3000.0), point("G1", SupportKind.GUIDE, 10))
    one = screened(supports=held)
    beside = beside_record(one.results["before"], route(supports=held))
    assert [found.support for found in beside] == ["C1"]
