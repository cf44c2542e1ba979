"""A weight of 6 kN added to a line with two constants, row by row.

Rows (c) to (h), the influence figures and the three aims were worked out with an independent plane
beam script and are held to the digits printed there; (a) and (b) are by hand (lever, three-moment
equation). The moment counts as it is printed: positive where the nozzle holds the pipe up.
"""

import pytest

from supports.calc.closure import lever_shares
from supports.calc.line.aims import Aim
from supports.calc.line.influence import InfluenceTable, what_if
from supports.calc.line.influence_of_line import influence_table
from supports.calc.line.required_loads import Wish, required_loads
from supports.calc.line.results import LineResult, Standing
from supports.calc.line.solver import factored_line, solve, solve_states
from supports.calc.line.states import cold, planned
from supports.errors import BadInput
from tests.calc.line.example import held, spine, straight, two_constants, valve_added


def row(result: LineResult) -> tuple[float, ...]:
    """Nozzle kN, kN·m; variable, rigid kN; y C1, y C2 mm."""
    six = result.nozzles["nozzle"]
    s = result.supports
    loads = (six[2], -six[4], s["V"].load, s["R"].load)
    return (*(v / 1e3 for v in loads), s["C1"].movement * 1e3, s["C2"].movement * 1e3)


ROWS = {
    "d fixed, nothing re-set": ({}, (4.876, 21.55, 0.507, 0.617, -4.8, -11.7)),
    "e only C1": ({"C1": 4801.0}, (0.393, 8.04, 0.343, 0.464, -2.4, -7.6)),
    "f only C2": ({"C2": 2854.0}, (3.025, 11.57, 0.134, -0.012, -2.4, -4.0)),
    "g half of both": ({"C1": 2400.5, "C2": 1427.0}, (1.709, 9.80, 0.238, 0.226, -2.4, -5.8)),
    "h both": ({"C1": 4801.0, "C2": 2854.0}, (-1.458, -1.94, -0.031, -0.165, 0.0, 0.0)),
    "lever": ({"C1": 3000.0, "C2": 3000.0}, (0.128, 2.61, 0.012, -0.140, -0.8, -1.1)),
}
# half a unit of the last digit printed; the settings themselves are printed to 1 N, which moves the
# nozzle by up to 1 N and 6 N·m more
PRINTED = (0.0011, 0.0075, 0.0006, 0.0006, 0.06, 0.06)


@pytest.mark.parametrize("name", ROWS)
def test_rows_with_a_fixed_nozzle(name: str) -> None:
    settings, printed = ROWS[name]
    found = row(solve(two_constants(), [planned(valve_added(), settings)])[0])
    for ours, theirs, tolerance in zip(found, printed, PRINTED, strict=True):
        assert ours == pytest.approx(theirs, abs=tolerance)


def test_row_with_a_pinned_nozzle() -> None:
    found = row(solve(two_constants(pinned=True), [valve_added()])[0])
    assert found[0] == pytest.approx(3.654, abs=0.0005)
    assert found[2:] == pytest.approx((1.232, 1.115, -19.9, -30.5), abs=0.05)
    assert found[2:4] == pytest.approx((1.232, 1.115), abs=0.0005)


def test_lever_and_rigid_points_by_hand() -> None:
    """(a) the lever; (b) the three-moment equation with all points rigid and ends pinned."""
    assert lever_shares(6000.0, 3.0, 3.0) == pytest.approx((3000.0, 3000.0))
    places = (0, 4, 7, 10, 16, 20)
    rigid = tuple(held(f"S{x}", f"N{x}") for x in (0, 4, 10, 16, 20))
    found = solve(straight(places, (spine("N0"), *rigid)), [valve_added()])[0].supports
    loads = [found[f"S{x}"].load / 1e3 for x in (0, 4, 10, 16, 20)]
    assert loads == pytest.approx([-0.804, 3.877, 3.529, -0.811, 0.208], abs=0.0006)
    assert sum(loads) == pytest.approx(6.0, abs=1e-9)


@pytest.fixture(scope="module")
def table() -> InfluenceTable:
    system = factored_line(two_constants())
    return influence_table(system, solve_states(system, [valve_added()])[0])


def test_influence_figures(table: InfluenceTable) -> None:
    """+1 kN at C1: nozzle −0.9339 kN, −2.8142 kN·m; at C2: −0.6487, −3.4984."""
    c1, c2 = table.units.index("C1"), table.units.index("C2")
    force, moment = table.nozzle_effect[0, 2], -table.nozzle_effect[0, 4]
    assert (force[c1], moment[c1]) == pytest.approx((-0.9339, -2.8142), abs=0.00005)
    assert (force[c2], moment[c2]) == pytest.approx((-0.6487, -3.4984), abs=0.00006)


def test_units_affect_each_other(table: InfluenceTable) -> None:
    """+1 kN at C2 lifts C1 0.84 mm, C2 2.67 mm, the variable 1.64 mm and takes 0.131 kN off it."""
    c2 = table.units.index("C2")
    lift = [table.pointer_effect[table.pointers.index(u), c2] * 1e6 for u in ("C1", "C2", "V")]
    assert lift == pytest.approx([0.84, 2.67, 1.64], abs=0.005)
    assert table.load_effect[table.supports.index("V"), c2] == pytest.approx(-0.131, abs=0.0005)


def test_what_if_is_what_a_fresh_solution_says(table: InfluenceTable) -> None:
    predicted = what_if(table, table.changes({"C1": 4801.0, "C2": 2854.0, "V": -250.0}))
    after = planned(valve_added(), {"C1": 4801.0, "C2": 2854.0, "V": -250.0})
    solved = solve(two_constants(), [after])[0]
    assert predicted.nozzles[0] == pytest.approx(solved.nozzles["nozzle"], abs=1e-6)
    loads = [solved.supports[name].load for name in ("C1", "C2", "V")]
    assert predicted.loads == pytest.approx(loads, abs=1e-6)


AIMS = {
    Aim.LEVEL: (4.801, 2.854),
    Aim.NOZZLE_FREE: (2.136, 4.441),
    Aim.KEEP: (0.0, 0.0),
}


@pytest.mark.parametrize("aim", AIMS)
def test_aims(aim: Aim) -> None:
    system = factored_line(two_constants())
    wish = Wish(aim, ("C1", "C2"), components=(2, 4))
    found = required_loads(system, valve_added(), wish)
    pair = (found.settings["C1"] / 1e3, found.settings["C2"] / 1e3)
    assert pair == pytest.approx(AIMS[aim], abs=0.0006)
    assert found.missed == pytest.approx(0.0, abs=1e-6)


def test_nozzle_free_lifts_c2_by_two_millimetres() -> None:
    system = factored_line(two_constants())
    found = required_loads(system, valve_added(), Wish(Aim.NOZZLE_FREE, ("C1", "C2")))
    assert found.result.supports["C2"].movement * 1e3 == pytest.approx(2.0, abs=0.05)
    assert found.result.nozzles["nozzle"] == pytest.approx((0.0,) * 6, abs=1e-6)


def test_least_change_to_the_nozzle() -> None:
    """Before the weight this nozzle carries nothing, so least change is the nozzle-free pair."""
    system = factored_line(two_constants())
    before = solve_states(system, [cold()])[0]
    wish = Wish(Aim.LEAST_NOZZLE_CHANGE, ("C1", "C2"))
    found = required_loads(system, valve_added(), wish, before)
    assert found.settings["C1"] == pytest.approx(2136.0, abs=0.6)
    assert found.settings["C2"] == pytest.approx(4441.0, abs=0.6)
    one = required_loads(system, valve_added(), Wish(Aim.LEAST_NOZZLE_CHANGE, ("C1",)), before)
    by_hand = (0.93386 * 4876.0 + 2.81422 * 21548.4) / (0.93386**2 + 2.81422**2)
    assert one.settings["C1"] == pytest.approx(by_hand, rel=1e-4)
    assert one.missed > 1000.0


def test_aims_refuse_what_they_cannot_use() -> None:
    system = factored_line(two_constants())
    with pytest.raises(BadInput, match="R"):
        required_loads(system, valve_added(), Wish(Aim.LEVEL, ("R",)))
    with pytest.raises(BadInput, match="least change"):
        required_loads(system, valve_added(), Wish(Aim.LEAST_NOZZLE_CHANGE, ("C1",)))


def test_rigid_at_20_m_would_lift_if_it_were_a_rest() -> None:
    """Row f prints −0.012 kN at the rigid: a support that can only push up lifts instead."""
    from dataclasses import replace

    from supports.calc.line.restraints import Rest

    line = two_constants()
    resting = replace(line, supports=(*line.supports[:-1], Rest("R", "N20")))
    found = solve(resting, [planned(valve_added(), {"C2": 2854.0})])[0]
    assert found.supports["R"].standing is Standing.LIFTED
    assert found.supports["R"].load == 0.0
    assert found.supports["R"].movement > 0.0
    assert found.complementarity == 0.0
