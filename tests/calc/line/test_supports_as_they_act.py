"""One-way supports, gaps, stops, locks and bodies that move freely; statics by hand."""

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from supports.calc.line import contact
from supports.calc.line.influence import band_of_uncertainty
from supports.calc.line.influence_of_line import friction_half_bands, influence_table
from supports.calc.line.line import Line
from supports.calc.line.parts import LumpedMass, Masses, Node, Pipe, RigidPart, Section, Theory
from supports.calc.line.restraints import Anchor, Constant, Guide, Rest, Rod, Support, Variable
from supports.calc.line.results import Standing
from supports.calc.line.solver import factored_line, solve, solve_states
from supports.calc.line.states import (
    State,
    added,
    as_found,
    cold,
    hydrotest,
    operating,
    planned,
    rounds,
)
from supports.errors import BadInput, Mechanism, NoConvergence, NotFound
from tests.calc.line.example import STIFF, G, held, spine, straight

EI = STIFF.modulus * STIFF.second_moment


def cantilever(*supports: Support, w: float = 0.0) -> Line:
    return straight((0, 3, 6), (Anchor("A", "N0"), *supports), newton_per_metre=w)


def pull(newtons: float) -> State:
    return added(cold(), LumpedMass("load", "N6", newtons / G))


TIP = 6.0**3 / (3 * EI)
"""Tip compliance of the cantilever by hand [m/N]."""


def test_rest_with_a_gap() -> None:
    gap = 0.5 * TIP * 1000.0
    line = cantilever(Rest("R", "N6", gap=gap))
    light, heavy = solve(line, [pull(400.0), pull(1000.0)])
    assert light.supports["R"].standing is Standing.LIFTED
    assert light.supports["R"].load == 0.0
    assert heavy.supports["R"].standing is Standing.CARRIES
    assert heavy.supports["R"].load == pytest.approx(500.0, rel=1e-9)
    assert heavy.supports["R"].movement == pytest.approx(-gap, rel=1e-12)


def test_rod_of_finite_stiffness_shares_with_the_pipe() -> None:
    k = 3e7
    result = solve(cantilever(Rod("R", "N6", stiffness=k)), [pull(1000.0)])[0]
    assert result.supports["R"].load == pytest.approx(1000.0 * TIP / (TIP + 1 / k), rel=1e-9)


def test_rod_goes_slack_when_the_nozzle_rises() -> None:
    """A cantilever whose nozzle rises takes its tip along; a rod cannot push it down."""
    line = cantilever(Rod("R", "N6"))
    up = State("nozzle up", movements={"A": (0, 0, 0.01, 0, 0, 0)})
    result = solve(line, [up])[0]
    assert result.supports["R"].standing is Standing.SLACK
    assert result.supports["R"].movement == pytest.approx(0.01, rel=1e-9)


def test_guide_with_a_gap_both_ways() -> None:
    line = cantilever(Guide("G", "N6", (0.0, 2.0, 0.0), gap=0.002))
    for side in (1.0, -1.0):
        pushed = State("pushed", movements={"A": (0, side * 0.005, 0, 0, 0, 0)})
        result = solve(line, [pushed])[0].supports["G"]
        assert result.movement == pytest.approx(side * 0.002, rel=1e-9)
        assert result.load == pytest.approx(-side * 0.003 / TIP, rel=1e-9)
    free = State("free", movements={"A": (0, 0.001, 0, 0, 0, 0)})
    assert solve(line, [free])[0].supports["G"].standing is Standing.FREE


def test_constant_on_its_bottom_and_top_stop() -> None:
    """At 2 mm of sink or rise the constant becomes a rigid support."""
    line = cantilever(Constant("C", "N6", 1000.0, 0.05, travel_down=0.002, travel_up=0.002))
    sunk, level = solve(line, [pull(9e3), pull(1100.0)])
    assert sunk.supports["C"].standing is Standing.BOTTOM
    assert sunk.supports["C"].load == pytest.approx(9e3 - 0.002 / TIP, rel=1e-9)
    assert level.supports["C"].standing is Standing.CARRIES
    assert (level.supports["C"].low, level.supports["C"].high) == pytest.approx((950.0, 1050.0))
    lifted = planned(pull(0.0), {"C": 4000.0})
    top = solve(line, [lifted])[0].supports["C"]
    assert top.standing is Standing.TOP
    assert top.load == pytest.approx(0.002 / TIP, rel=1e-9)
    assert top.movement == 0.002
    assert level.supports["C"].movement == pytest.approx(-100.0 * TIP, rel=1e-9)


def test_unknown_friction_band_is_not_zero() -> None:
    result = solve(cantilever(Constant("C", "N6", 1000.0)), [cold()])[0].supports["C"]
    assert result.low is None
    assert result.high is None


def test_friction_of_a_constant_reaches_the_nozzle() -> None:
    """A constant at the tip hides ±50 N: the nozzle force may be off by 50 N, the moment by 300."""
    line = cantilever(Constant("C", "N6", 1000.0, 0.05), Variable("V", "N3", 0.0, 1.0))
    system = factored_line(line)
    result = solve_states(system, [pull(1100.0)])[0]
    half, unknown = friction_half_bands(result)
    assert unknown == ()
    band = band_of_uncertainty(influence_table(system, result), half)
    assert band[-6:] == pytest.approx([0, 0, 50.0, 0, 300.0, 0], rel=1e-4, abs=1e-6)
    silent = cantilever(Constant("C", "N6", 1000.0), Variable("V", "N3", 0.0, 1.0))
    half, unknown = friction_half_bands(solve(silent, [cold()])[0])
    assert unknown == ("C",)
    assert np.isnan(half[0])


def test_variable_between_and_on_its_stops() -> None:
    k = 80e3
    line = cantilever(Variable("V", "N6", 1000.0, k, load_low=500.0, load_high=1400.0))
    inside, bottom = solve(line, [pull(1100.0), pull(9e3)])
    sink = (1100.0 - 1000.0) / (k + 1 / TIP)
    assert inside.supports["V"].movement == pytest.approx(-sink, rel=1e-9)
    assert inside.supports["V"].load == pytest.approx(1000.0 + k * sink, rel=1e-9)
    at_stop = 400.0 / k
    assert bottom.supports["V"].standing is Standing.BOTTOM
    assert bottom.supports["V"].movement == pytest.approx(-at_stop, rel=1e-9)
    assert bottom.supports["V"].load == pytest.approx(9e3 - at_stop / TIP, rel=1e-9)


def test_hydrotest_locks_every_spring() -> None:
    """Locked at the level of the model, a spring is a rigid support: 3/8 w L of water too."""
    masses = Masses(0.0, 0.0, {"water": 100.0})
    line = cantilever(Constant("C", "N6", 50.0), Variable("V", "N3", 10.0, 1e4))
    line = replace(line, parts=tuple(replace(p, masses=masses) for p in line.parts))
    free, locked = solve(line, [cold("water"), hydrotest(line, "water")])
    assert free.supports["C"].load == 50.0
    assert locked.supports["C"].standing is Standing.LOCKED
    assert locked.supports["C"].movement == 0.0
    unlocked = as_found(cold("water"), {"C": 60.0}, {"V": 0.0})
    mixed = solve(line, [unlocked])[0]
    assert mixed.supports["C"].load == 60.0
    assert mixed.supports["V"].standing is Standing.LOCKED
    assert abs(locked.closure or 0.0) < 1e-12


def test_rounds_of_a_re_set_add_up() -> None:
    line = cantilever(Constant("C", "N6", 0.0), Constant("D", "N3", 0.0))
    steps = rounds(pull(900.0), ({"C": 300.0}, {"D": 200.0}, {"C": 600.0}))
    results = solve(line, steps)
    assert [r.state.name for r in results] == [f"after round {i}" for i in (1, 2, 3)]
    loads = [(r.supports["C"].load, r.supports["D"].load) for r in results]
    assert loads == [(300.0, 0.0), (300.0, 200.0), (600.0, 200.0)]
    assert results[-1].pointer("C", results[0]) > 0.0


def test_line_on_rests_alone_settles_when_everything_starts_apart() -> None:
    """Five rests and a load that lifts some: the active set ends, the conditions are proved."""
    rests = tuple(Rest(f"R{x}", f"N{x}") for x in (0, 4, 8, 12, 16))
    line = straight((0, 4, 6, 8, 12, 16), (spine("N0"), *rests), newton_per_metre=100.0)
    result = solve(line, [added(cold(), LumpedMass("valve", "N6", 3000.0))])[0]
    assert result.complementarity < 1e-9
    assert any(s.standing is Standing.LIFTED for s in result.supports.values())
    assert sum(s.load for s in result.supports.values()) == pytest.approx(result.weight)
    assert all(s.load >= 0.0 for s in result.supports.values())


@pytest.mark.parametrize("seed", range(8))
def test_single_changes_find_the_same(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """The slower way that must end gives the same answer as the quick one, and says so."""
    rng = np.random.default_rng(seed)
    places = tuple(float(x) for x in range(0, 42, 3))
    rests = tuple(
        Rest(f"R{x:g}", f"N{x:g}", gap=float(rng.choice([0.0, 0.001]))) for x in places[1:]
    )
    loads = [LumpedMass(f"m{x}", f"N{x:g}", float(rng.uniform(0, 4000))) for x in places[1::2]]
    line = straight(places, (Anchor("A", "N0"), *rests), newton_per_metre=300.0)
    quick = solve(line, [added(cold(), *loads)])[0]
    monkeypatch.setattr(contact, "TOGETHER", 0)
    monkeypatch.setattr("supports.calc.line.results.TOGETHER", 0)
    slow = solve(line, [added(cold(), *loads)])[0]
    assert slow.settled_singly
    for name, support in quick.supports.items():
        assert slow.supports[name].load == pytest.approx(support.load, abs=1e-6)


@pytest.mark.parametrize("seed", range(60))
def test_lines_on_rests_alone_are_no_mechanisms(seed: int) -> None:
    """Weight between rests is always carried, though the search may pass through loose choices.

    Proof, not opinion: balance and the one-way conditions together have only one answer.
    """
    rng = np.random.default_rng(seed)
    count = int(rng.integers(3, 12))
    steps = np.round(rng.uniform(0.5, 6.0, count - 1), 3)
    places = tuple(np.round(np.concatenate([[0.0], np.cumsum(steps)]), 3))
    gaps = rng.choice([0.0, 0.002, 0.02], count)
    rests = tuple(
        Rest(f"R{i}", f"N{x:g}", gap=float(g))
        for i, (x, g) in enumerate(zip(places, gaps, strict=True))
    )
    lift = Constant("C", f"N{places[count // 2]:g}", float(rng.uniform(0, 300)))
    line = straight(places, (spine("N0"), *rests, lift), newton_per_metre=300.0)
    valve = LumpedMass("valve", f"N{places[1]:g}", float(rng.uniform(0, 3000)))
    result = solve(line, [added(cold(), valve)])[0]
    assert result.complementarity < 1e-9
    assert result.equilibrium < 1e-7
    assert abs(result.closure or 0.0) < 1e-9
    for rest in rests:
        found = result.supports[rest.name]
        assert found.load >= 0.0
        assert found.movement >= -rest.gap - 1e-9


def test_no_end_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(contact, "TOGETHER", 0)
    monkeypatch.setattr(contact, "_SINGLY", 0)
    with pytest.raises(NoConvergence, match="did not settle"):
        solve(cantilever(Rest("R", "N6")), [pull(100.0)])


@pytest.mark.parametrize(
    ("supports", "words"),
    [
        ((held("S", "N0"), held("T", "N6")), "moves along"),
        ((Guide("G", "N0", (1, 0, 0)),), "the line as a whole"),
        (
            (Anchor("A", "N0", (inf, inf, 0.0, inf, inf, inf)), Constant("C", "N6", 1e3)),
            "up and down",
        ),
        ((Anchor("A", "N0", (inf, inf, inf, 0.0, inf, inf)),), "turns about x"),
    ],
)
def test_mechanisms_are_named(supports: tuple[Support, ...], words: str) -> None:
    with pytest.raises(Mechanism, match=words):
        solve(straight((0, 3, 6), supports, newton_per_metre=10.0), [cold()])


def test_riser_on_one_constant_is_a_mechanism() -> None:
    """It passes the pivots, because a ground spring stands at the constant."""
    nodes = tuple(Node(f"N{i}", 0.0, 0.0, 3.0 * i) for i in range(4))
    parts = tuple(Pipe(f"P{i}", f"N{i}", f"N{i + 1}", STIFF, Masses(50.0)) for i in range(3))
    guided = Anchor("G", "N0", (inf, inf, 0.0, inf, inf, inf))
    line = Line("riser", nodes, parts, (guided, Constant("C", "N3", 4413.0)))
    with pytest.raises(Mechanism, match=r"up and down.*N"):
        solve(line, [cold()])
    held_up = replace(line, supports=(guided, Variable("V", "N3", 4413.0, 1e5)))
    assert solve(held_up, [cold()])[0].supports["V"].load == pytest.approx(450 * G, rel=1e-9)


def test_valve_as_a_rigid_part() -> None:
    """A rigid part bends nothing: the cantilever beyond it is as stiff as its own length says."""
    nodes = tuple(Node(n, x, 0.0, 0.0) for n, x in (("N0", 0), ("N1", 2), ("N2", 3), ("N3", 5)))
    pipes = (
        Pipe("a", "N0", "N1", STIFF, Masses(0.0)),
        RigidPart("valve", "N1", "N2", 0.0, expansion=1e-5),
        Pipe("b", "N2", "N3", STIFF, Masses(0.0)),
    )
    line = Line("valve", nodes, pipes, (Anchor("A", "N0"),), theory=Theory.EULER)
    p = 1000.0
    result = solve(line, [added(cold(), LumpedMass("load", "N3", p / G))])[0]
    # first pipe: tip and turn under P and P·3 m; then 3 m of lever, then the second pipe
    turn = p * 2**2 / (2 * EI) + 3 * p * 2 / EI
    drop = p * 2**3 / (3 * EI) + 3 * p * 2**2 / (2 * EI)
    assert -result.movement("N3")[2] == pytest.approx(drop + 3 * turn + p * 8 / (3 * EI), rel=1e-9)
    hot = State("hot", temperature=line.installed_at + 100.0)
    assert solve(line, [hot])[0].movement("N3")[0] == pytest.approx(1e-5 * 100.0, rel=1e-9)


def test_centre_of_gravity_off_the_axis_twists() -> None:
    """120 kg at 0.6 m beside the axis: 706 N·m of twist at the anchor (by hand)."""
    line = cantilever(held("R", "N6"))
    actuator = LumpedMass("actuator", "N3", 120.0, (0.0, 0.6, 0.0))
    result = solve(line, [added(cold(), actuator)])[0]
    assert abs(result.nozzles["A"][3]) == pytest.approx(706.1, abs=0.05)


def test_states_name_what_the_line_has() -> None:
    line = cantilever(Constant("C", "N6", 1.0), Rest("R", "N3"))
    with pytest.raises(NotFound, match="X9"):
        solve(line, [planned(cold(), {"X9": 1.0})])
    with pytest.raises(NotFound, match="R"):
        solve(line, [planned(cold(), {"R": 1.0})])
    with pytest.raises(BadInput, match="'oil' is not known"):
        solve(line, [cold("oil")])


def test_part_temperatures() -> None:
    warm = Section(STIFF.area, STIFF.second_moment, STIFF.modulus, expansion=1e-5)
    line = straight((0, 3, 6), (Anchor("A", "N0"),), section=warm)
    base = line.installed_at
    state = replace(operating("empty", base + 100.0), part_temperatures={"P1": base + 300.0})
    assert solve(line, [state])[0].movement("N6")[0] == pytest.approx(3e-3 + 9e-3, rel=1e-9)


def test_many_spans_keep_their_digits() -> None:
    """Four hundred equal spans: far from the ends each rigid support carries w L to 1e-9."""
    places = tuple(6.0 * i for i in range(401))
    supports = tuple(held(f"S{i}", f"N{x:g}") for i, x in enumerate(places))
    line = straight(places, (spine("N0"), *supports), newton_per_metre=1000.0)
    result = solve(line, [cold()])[0]
    middle = [result.supports[f"S{i}"].load for i in range(100, 301)]
    assert middle == pytest.approx([6000.0] * 201, rel=1e-9)
    assert result.equilibrium < 1e-8
