"""What an engineer is shown: limits, lift-off, stops, comparison, reasons for full analysis."""

from dataclasses import fields, replace

import pytest

from supports.calc.line.comparison import Look, compared
from supports.calc.line.full_analysis import Facts, full_analysis_reasons, unknown_facts
from supports.calc.line.line import Line
from supports.calc.line.restraints import Anchor, Constant, NozzleLimits, Rest
from supports.calc.line.results import METHOD
from supports.calc.line.review import nozzle_uses, review
from supports.calc.line.solver import solve
from supports.calc.line.states import planned
from tests.calc.line.example import two_constants, valve_added


def limited(moment: float | None) -> Line:
    """Give the worked line a moment limit (invented) and a rest at its end."""
    line = two_constants()
    limits = NozzleLimits(moment=moment, source="invented for a test")
    supports = (Anchor("nozzle", "N0", limits=limits), *line.supports[1:-1], Rest("R", "N20"))
    return replace(line, supports=supports)


def codes(line: Line, settings: dict[str, float]) -> dict[str, str]:
    result = solve(line, [planned(valve_added(), settings)])[0]
    return {finding.subject: finding.code for finding in review(result)}


def test_in_between_overload() -> None:
    """Limit 10 kN·m: 21.55 before any turn is over, C1 first (8.04) is not, C2 first (11.57) is."""
    line = limited(10e3)
    assert codes(line, {})["nozzle"] == "nozzle-over-limit"
    assert "nozzle" not in codes(line, {"C1": 4801.0})
    assert codes(line, {"C2": 2854.0})["nozzle"] == "nozzle-over-limit"


def test_uses() -> None:
    result = solve(limited(10e3), [valve_added()])[0]
    use = {u.what: u for u in nozzle_uses(result)}
    assert use["moment"].use == pytest.approx(2.155, abs=0.0005)
    assert use["force"].use is None
    assert use["Fz"].size == pytest.approx(4876.0, abs=0.5)


def test_unknown_limits_cannot_be_judged() -> None:
    assert codes(limited(None), {})["nozzle"] == "nozzle-limits-unknown"


def test_lifted_negative_and_near() -> None:
    line = limited(None)
    assert codes(line, {"C2": 2854.0})["R"] == "support-lifted"
    assert codes(line, {"C1": 4801.0, "C2": 2854.0})["V"] == "negative-load"


def test_near_a_change_of_status() -> None:
    """With C2 at 2.70 kN the rest keeps 0.617 − 2.70 × 0.2203 = 0.022 kN (from rows d and f)."""
    assert codes(limited(None), {"C2": 2700.0})["R"] == "near-change-of-status"
    assert "R" not in codes(limited(None), {})


def test_unit_on_its_stop() -> None:
    line = limited(None)
    short = (line.supports[0], Constant("C1", "N4", 0.0, travel_down=0.001), *line.supports[2:])
    assert codes(replace(line, supports=short), {})["C1"] == "unit-on-stop"


def test_comparison() -> None:
    result = solve(two_constants(), [planned(valve_added(), {"C1": 3000.0, "C2": 3000.0})])[0]
    imported = {"C1": 3100.0, "C2": 2000.0, "R": 150.0, "S9": 1.0}
    looks = {one.support: one.look for one in compared(result, imported)}
    assert looks == {
        "C1": Look.AGREES,
        "C2": Look.LOAD_DIFFERS,
        "V": Look.NOT_THERE,
        "R": Look.SIGN_DIFFERS,
        "S9": Look.NOT_HERE,
    }
    by_name = {one.support: one for one in compared(result, imported)}
    assert by_name["C2"].difference == pytest.approx(1000.0)
    assert by_name["C2"].share == pytest.approx(0.5)
    assert by_name["V"].difference is None
    assert by_name["S9"].share is None


def test_comparison_of_lifted_supports() -> None:
    result = solve(limited(None), [planned(valve_added(), {"C2": 2854.0})])[0]
    looks = {one.support: one.look for one in compared(result, {"R": 500.0, "V": 0.0})}
    assert looks["R"] is Look.LIFTS_HERE
    assert looks["V"] is Look.LIFTS_THERE


HARMLESS = Facts(
    limited_nozzle_in_reach=False,
    creep_or_high_energy=False,
    added_weight=4.9e3,
    line_weight=100e3,
    largest_load_change=0.09,
    required_load_outside_range=False,
    centre_of_gravity_off_axis=False,
    restraint_changed=False,
    temperature_or_contents_changed=False,
    dynamic_loads=False,
    rigid_support_unloading=False,
    constants_in_stretch=1,
    as_found_difference=-0.09,
    calculation_of_known_revision=True,
)
HARM = {
    "limited_nozzle_in_reach": True,
    "creep_or_high_energy": True,
    "added_weight": -5.1e3,
    "line_weight": 90e3,
    "largest_load_change": 0.11,
    "required_load_outside_range": True,
    "centre_of_gravity_off_axis": True,
    "restraint_changed": True,
    "temperature_or_contents_changed": True,
    "dynamic_loads": True,
    "rigid_support_unloading": True,
    "constants_in_stretch": 2,
    "as_found_difference": -0.11,
    "calculation_of_known_revision": False,
}


def test_no_reason_without_harm() -> None:
    need = full_analysis_reasons(HARMLESS)
    assert need.mandatory is False
    assert (need.reasons, need.cannot_judge) == ((), ())


@pytest.mark.parametrize("name", HARM)
def test_each_fact_is_a_reason_by_itself(name: str) -> None:
    need = full_analysis_reasons(replace(HARMLESS, **{name: HARM[name]}))
    assert len(need.reasons) == 1
    assert need.mandatory is True


@pytest.mark.parametrize("name", [field.name for field in fields(Facts)])
def test_an_unknown_fact_is_never_harmless(name: str) -> None:
    facts = replace(HARMLESS, **{name: None})
    need = full_analysis_reasons(facts)
    assert need.mandatory is None
    assert len(need.cannot_judge) == 1
    assert unknown_facts(facts) == (name.replace("_", " "),)


def test_nothing_known() -> None:
    need = full_analysis_reasons(Facts())
    assert len(need.cannot_judge) == 13
    assert METHOD == "screening calculation"
