"""A line as it would be: against hand values, superposition and equilibrium.

Beam values: reactions of continuous beams as any handbook tabulates them (as fractions), as in
`tests/reference/test_beam_tables.py`; mass of insulation and contents worked out by hand beside it.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest

from supports.calc.line.aims import Aim
from supports.calc.line.results import Standing
from supports.errors import BadInput, Mechanism, NotFound, NotReady
from supports.rules.line.screening import ready_line, screen
from supports.rules.line.what_if import Supposed, what_if
from supports.snapshots import RouteElementView, RouteEndView, RouteNodeView, WeightItemView
from supports.vocabulary import EndKind, RoutePiece, SupportKind
from tests.rules.line.routes import G, constant, line, point, straight_route
from tests.rules.planning_lines import NUMBER, worked_line

DIAMETER, WALL = 0.3239, 0.00953
BORE = (DIAMETER - 2.0 * WALL) ** 2 * pi / 4.0
SPAN = 6.0
ROD = SupportKind.RIGID_ROD


def changes(answer):
    """Return the change of each support's load [N]."""
    return {one.tag: (one.after or 0.0) - one.before for one in answer.supports}


def rooms(answer):
    return {one.tag: one.rooms[0] for one in answer.supports if one.rooms}


def on_rods(spans, **changed):
    """Return a level pipe on rods at equal spans; its ends hold it only against falling over."""
    at = [n * SPAN for n in range(spans + 1)]
    ends = (RouteEndView("0", EndKind.NOZZLE, "N1", stiffness=1e-3, rotational_stiffness=1e-3),)
    rods = tuple(point(f"R{n}", ROD, x) for n, x in enumerate(at))
    return straight_route(*at, supports=rods, ends=ends, **changed)


@pytest.mark.parametrize(
    ("spans", "reactions"),
    [(2, ("3/8", "5/4", "3/8")), (3, ("2/5", "11/10", "11/10", "2/5"))],
)
def test_other_contents_go_into_the_rods_as_into_a_continuous_beam(spans, reactions):
    """R = c w L, handbook; w = g (bore × 1000 kg/m³ − 20 kg/m).

    The handbook's beam does not shear as our pipe does, which shifts a little: 2 %.
    """
    answer = what_if(on_rods(spans), Supposed(contents=1000.0))
    w = G * (BORE * 1000.0 - 20.0)
    assert answer.added == pytest.approx(w * spans * SPAN)
    found = list(changes(answer).values())
    assert found == pytest.approx([float(Fraction(c)) * w * SPAN for c in reactions], rel=0.02)


def test_a_middle_rod_taken_out_leaves_half_the_weight_to_each_of_the_others():
    """By statics of the beam on two supports, whatever its stiffness."""
    answer = what_if(on_rods(2), Supposed(taken_out="R1"))
    found = {one.tag: one for one in answer.supports}
    assert found["R1"].after is None
    for tag in ("R0", "R2"):
        assert found[tag].after == pytest.approx(100.0 * G * SPAN, rel=1e-6)
    assert sum(changes(answer).values()) == pytest.approx(0.0, abs=1e-3)


def test_insulation_is_weighed_by_its_ring_on_its_stretch_only():
    """π (D + t) t ρ a metre; pieces that are cut are still the same line."""
    answer = what_if(on_rods(2), Supposed(thickness=0.08, density=120.0, first=1.5, last=7.0))
    a_metre = pi * (DIAMETER + 0.08) * 0.08 * 120.0
    assert answer.added == pytest.approx(G * a_metre * 5.5)
    assert (answer.first, answer.last) == pytest.approx((1.5, 7.0))
    assert sum(piece.mass for piece in answer.pieces) == pytest.approx(a_metre * 5.5)
    assert all(1.5 <= piece.first < piece.last <= 7.0 for piece in answer.pieces)


def test_taking_the_insulation_off_takes_its_cladding_off():
    clad = on_rods(
        1, insulation="wool", insulation_thickness=0.05, insulation_density=100.0,
        cladding_mass_per_length=6.0,
    )  # fmt: skip
    a_metre = pi * (DIAMETER + 0.05) * 0.05 * 100.0 + 6.0
    answer = what_if(clad, Supposed(thickness=0.0))
    assert answer.added == pytest.approx(-G * a_metre * SPAN)


@pytest.mark.parametrize(
    "supposed",
    [
        Supposed(thickness=0.08, density=120.0, first=2.0, last=8.0),
        Supposed(contents=900.0, first=5.0),
        Supposed(taken_out="V1"),
        Supposed(taken_out="C2", contents=400.0),
        Supposed(held="C1", contents=400.0, last=12.5),
    ],
)
def test_the_changes_of_all_that_carries_add_up_to_the_weight_that_comes_on(supposed):
    """By equilibrium."""
    answer = what_if(worked_line(reach=0.95), supposed)
    ends = answer.ends[1] - answer.ends[0]
    assert sum(changes(answer).values()) + ends == pytest.approx(answer.added, abs=1e-3)


def test_two_suppositions_at_once_are_the_sum_of_each_while_nothing_lifts():
    """By superposition; a full solve each."""
    route = worked_line(reach=0.95)
    lagged = Supposed(thickness=0.05, density=100.0, first=1.0, last=9.0)
    filled = Supposed(contents=100.0, first=1.0, last=9.0)
    both = replace(lagged, contents=100.0)
    one, other, together = (what_if(route, each) for each in (lagged, filled, both))
    assert not any(found.changed for found in together.supports)
    for tag, more in changes(together).items():
        assert more == pytest.approx(changes(one)[tag] + changes(other)[tag], abs=1e-3)


def test_a_spread_weight_is_the_limit_of_many_hung_ones():
    """By superposition of single weights in the screening: 24 a metre against the spread load."""
    route = worked_line(reach=0.95)
    answer = what_if(route, Supposed(contents=100.0, first=4.0, last=10.0))
    count = 144
    hung = [
        WeightItemView(NUMBER, f"{n}", answer.added / G / count, 4.0 + 6.0 * (n + 0.5) / count)
        for n in range(count)
    ]
    screened = {one.tag: one for one in screen(ready_line(route, hung), Aim.KEEP).supports}
    for tag, more in changes(answer).items():
        assert more == pytest.approx(screened[tag].added - screened[tag].before, abs=1.0)


def test_a_constant_keeps_its_load_and_says_what_it_would_have_to_be_set_to():
    """By definition of a constant; weight over it alone asks for all of that weight."""
    route = straight_route(0, 4, 10, supports=(constant("C1", 4, 3000.0), point("R1", ROD, 10)))
    answer = what_if(route, Supposed(contents=300.0, first=3.9, last=4.1))
    (found,) = (one for one in answer.supports if one.tag == "C1")
    assert found.after == pytest.approx(found.before) == pytest.approx(3000.0)
    (room,) = found.rooms
    assert room.wanted - room.present == pytest.approx(answer.added, rel=0.01)
    assert room.fits is None
    assert room.missing == ("adjusting range",)


@pytest.mark.parametrize(("contents", "fits"), [(100.0, True), (1000.0, False)])
def test_a_unit_is_held_against_its_adjusting_range(contents, fits):
    """C2 is set to 3.2 kN and reaches 6.3 kN; water all along asks for more (by our own solve)."""
    room = rooms(what_if(worked_line(reach=0.95), Supposed(contents=contents)))["C2"]
    assert room.fits is fits
    assert (room.low <= room.wanted <= room.high) is fits


def test_what_is_held_takes_what_comes_on_over_it():
    """A locked support is rigid: it carries what hangs at it, and the pipe does not sink there."""
    route = worked_line(reach=0.95)
    answer = what_if(route, Supposed(contents=500.0, first=3.9, last=4.1, held="C1"))
    found = {one.tag: one for one in answer.supports}["C1"]
    assert found.sinks == pytest.approx(0.0, abs=1e-9)
    assert found.standing is Standing.LOCKED
    assert found.after - found.before == pytest.approx(answer.added, rel=0.02)
    assert found.rooms == ()


@pytest.mark.parametrize(
    ("supposed", "missing"),
    [
        (Supposed(thickness=0.08), "density of the insulation"),
        (Supposed(density=120.0), "thickness of the insulation"),
    ],
)
def test_half_an_insulation_cannot_be_judged(supposed, missing):
    with pytest.raises(NotReady, match=rf"cannot judge \(missing: {missing}\)"):
        what_if(on_rods(1), supposed)


def test_an_unknown_of_the_line_as_it_stands_is_named():
    with pytest.raises(NotReady, match="missing: content"):
        what_if(on_rods(1, line=line(content_mass_per_length=None)), Supposed(taken_out="R1"))


@pytest.mark.parametrize(
    "supposed",
    [Supposed(), Supposed(contents=-1.0), Supposed(contents=1.0, first=5.0, last=5.0),
     Supposed(contents=1.0, first=5.0, last=2.0)],
)  # fmt: skip
def test_what_supposes_nothing_or_nonsense_is_refused(supposed):
    with pytest.raises(BadInput):
        what_if(on_rods(1), supposed)


@pytest.mark.parametrize("supposed", [Supposed(taken_out="X9"), Supposed(held="R1")])
def test_a_support_that_is_not_there_or_cannot_be_held_is_named(supposed):
    with pytest.raises(NotFound):
        what_if(on_rods(1), supposed)


def test_a_line_that_nothing_holds_without_the_support_is_told():
    ends = (RouteEndView("0", EndKind.NOZZLE, "N1", stiffness=0.0, rotational_stiffness=0.0),)
    hung = straight_route(0, 6, supports=(point("A1", SupportKind.ANCHOR, 6),), ends=ends)
    with pytest.raises(Mechanism):
        what_if(hung, Supposed(taken_out="A1"))


def test_a_bend_is_taken_whole_or_not_at_all():
    """Up 4 m and over 6 m by a bend of 1 m: a stretch that ends inside goes to its nearer end."""
    nodes = (("a", 0, 0), ("b", 0, 3), ("c", 1, 4), ("d", 6, 4))
    pieces = (("a", "b", RoutePiece.PIPE), ("b", "c", RoutePiece.BEND), ("c", "d", RoutePiece.PIPE))
    elbow = straight_route(
        0, 1,
        nodes=tuple(RouteNodeView(n, float(x), 0.0, float(z)) for n, x, z in nodes),
        elements=tuple(RouteElementView(a, b, what, bend_radius=1.0) for a, b, what in pieces),
        ends=(RouteEndView("a", EndKind.NOZZLE, "N1"), RouteEndView("d", EndKind.ANCHOR)),
    )  # fmt: skip
    arc = pi / 2.0
    short = what_if(elbow, Supposed(contents=1000.0, last=3.0 + 0.2 * arc))
    long = what_if(elbow, Supposed(contents=1000.0, last=3.0 + 0.8 * arc))
    assert short.last == pytest.approx(3.0)
    assert long.last == pytest.approx(3.0 + arc)
    a_metre = G * (BORE * 1000.0 - 20.0)
    assert long.added - short.added == pytest.approx(a_metre * arc)
