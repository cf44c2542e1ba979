"""What must hold for every spring, whatever its numbers: found by search, not by example."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from supports.calc.closure import lever_shares
from supports.calc.constant_support import LoadRange, relative_difference, used_share, window
from supports.calc.site_measurement import measured_band
from supports.calc.trapeze import BeamLoad, shares, shares_of_several
from supports.calc.travel import distance_from_top, pointer_after, room_at_ends, travel_needed
from supports.calc.turns import (
    FLATS_PER_TURN,
    LoadPerTurn,
    LoadPerTurnTable,
    TurnCount,
    in_rounds,
    load_after_turns,
    turns_between,
    turns_for_change,
)
from supports.calc.unit_re_set import ConstantPlate, plan_re_set
from supports.calc.variable_spring import (
    cold_load,
    hot_load,
    movement_room,
    scale_rise,
    sink,
    take_up_pipe_following,
    take_up_pipe_held,
)
from supports.units import Kind, spellings, to_si

LOADS = st.floats(100.0, 1e6)
PER_TURN = st.floats(10.0, 5e3)
LENGTHS = st.floats(0.01, 20.0)
RATES = st.floats(1e3, 1e7)
SHARES = st.floats(0.01, 0.5)
FLATS = st.integers(0, 2000)
SIGNED = st.floats(-0.3, 0.3)


@given(LOADS, st.floats(-0.3, 0.3), PER_TURN)
def test_rounding_misses_by_half_a_flat_at_most(load: float, share: float, per_turn: float) -> None:
    wanted = load * (1.0 + share)
    plan = plan_re_set(
        wanted, load, ConstantPlate(load_per_turn=LoadPerTurnTable.uniform(per_turn))
    )
    half_a_flat = per_turn / FLATS_PER_TURN / 2.0
    if plan.load_after_rounding is None:  # rounded down past a load of zero
        assert wanted < half_a_flat
    else:
        assert abs(plan.load_after_rounding - wanted) <= half_a_flat * (1 + 1e-6) + wanted * 1e-12


@given(st.floats(0.0, 1e4))
def test_a_count_is_the_nearest_flat(turns: float) -> None:
    count = TurnCount.nearest(turns)
    assert 0 <= count.flats < FLATS_PER_TURN
    assert count.in_turns == pytest.approx(turns, abs=0.5 / FLATS_PER_TURN + 1e-9)


@given(FLATS, st.integers(1, 9), st.integers(1, 12))
def test_rounds_add_up_and_never_grow(flats: int, rounds: int, step: int) -> None:
    parts = in_rounds(TurnCount.of_flats(flats), rounds, step)
    given_flats = [part.in_flats for part in parts]
    assert len(parts) == rounds
    assert sum(given_flats) == flats
    assert given_flats == sorted(given_flats, reverse=True)


@given(LOADS, PER_TURN, PER_TURN, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_turns_and_load_are_inverse(
    load: float, below: float, above: float, start: float, end: float
) -> None:
    table = LoadPerTurnTable((LoadPerTurn(0.0, load, below), LoadPerTurn(load, 2.0 * load, above)))
    first, last = 2.0 * load * start, 2.0 * load * end
    turns = math.copysign(turns_between(first, last, table), last - first)
    assert load_after_turns(first, turns, table) == pytest.approx(last, abs=load * 1e-6)


@given(LOADS, LOADS, LOADS, PER_TURN)
def test_turns_add_up_along_the_way(a: float, b: float, c: float, per_turn: float) -> None:
    low, mid, high = sorted((a, b, c))
    table = LoadPerTurnTable(
        (LoadPerTurn(0.0, 5e5, per_turn), LoadPerTurn(5e5, 2e6, per_turn * 1.1))
    )
    parts = turns_between(low, mid, table) + turns_between(mid, high, table)
    assert parts == pytest.approx(turns_between(low, high, table), rel=1e-9, abs=1e-9)


@given(LOADS, SHARES, SHARES)
def test_used_share_is_one_exactly_at_both_ends(plate: float, minus: float, plus: float) -> None:
    limits = LoadRange.from_shares(plate, minus, plus)
    assert limits.used_share(limits.high) == 1.0
    assert limits.used_share(limits.low) == 1.0
    assert limits.used_share(plate) == 0.0
    assert limits.contains(limits.high)
    assert limits.contains(limits.low)


@given(LOADS, SHARES, SHARES, st.floats(0.3, 1.7))
def test_used_share_above_one_is_outside(
    plate: float, minus: float, plus: float, times: float
) -> None:
    limits = LoadRange.from_shares(plate, minus, plus)
    share = limits.used_share(plate * times)
    if abs(share - 1.0) > 1e-6:
        assert limits.contains(plate * times) is (share < 1.0)


@given(
    st.floats(100.0, 1e5),
    SHARES,
    st.floats(0.5, 1.5),
    st.sampled_from(sorted(set(spellings(Kind.LOAD).values()))),
)
def test_shares_do_not_depend_on_the_unit(
    plate: float, side: float, times: float, symbol: str
) -> None:
    as_read = (plate * times, plate, plate * (1.0 - side), plate * (1.0 + side))
    in_si = tuple(to_si(value, symbol, Kind.LOAD) for value in as_read)
    assert used_share(*in_si) == pytest.approx(used_share(*as_read), rel=1e-9, abs=1e-9)
    assert relative_difference(in_si[0], in_si[1]) == pytest.approx(times - 1.0, abs=1e-9)


@given(st.floats(-1e5, 1e5), st.floats(1.0, 1e3))
def test_turns_do_not_depend_on_the_unit(change: float, per_turn: float) -> None:
    in_si = turns_for_change(
        to_si(change, "lbf", Kind.LOAD), to_si(per_turn, "lbf/turn", Kind.LOAD_PER_TURN)
    )
    assert in_si == pytest.approx(turns_for_change(change, per_turn), rel=1e-12)


@given(LOADS, LENGTHS, LENGTHS, st.floats(0.0, 1e4))
def test_shares_carry_the_load_and_balance(load: float, a: float, b: float, beam: float) -> None:
    first, second = shares(load, a, b, beam)
    assert first + second == pytest.approx(load + beam, rel=1e-12)
    assert (first - beam / 2) * a == pytest.approx((second - beam / 2) * b, rel=1e-6, abs=1e-6)
    assert lever_shares(load, a, b) == pytest.approx(shares(load, a, b), rel=1e-12)


@given(st.lists(st.builds(BeamLoad, LOADS, st.floats(-1.0, 5.0)), min_size=1, max_size=6))
def test_many_loads_on_a_beam_balance(loads: list[BeamLoad]) -> None:
    first, second = shares_of_several(loads, 0.5, 3.0)
    total = math.fsum(one.load for one in loads)
    moment = math.fsum(one.load * one.position for one in loads)
    assert first + second == pytest.approx(total, rel=1e-9)
    assert first * 0.5 + second * 3.0 == pytest.approx(moment, rel=1e-9, abs=total * 1e-9)


@given(LOADS, RATES, SIGNED)
def test_cold_and_hot_are_inverse_and_mirror(hot: float, rate: float, up: float) -> None:
    cold = cold_load(hot, rate, up)
    assert hot_load(cold, rate, up) == pytest.approx(hot, rel=1e-9, abs=rate * 1e-12)
    assert cold - hot == pytest.approx(-(cold_load(hot, rate, -up) - hot), abs=(hot + rate) * 1e-9)


@given(LOADS, RATES)
def test_room_down_and_up_fill_the_range(load: float, rate: float) -> None:
    down, up = movement_room(load, rate, 0.0, 2e6)
    assert cold_load(load, rate, down) == pytest.approx(2e6, rel=1e-9)
    assert down + up == pytest.approx(2e6 / rate, rel=1e-9)


@given(LOADS, RATES, RATES)
def test_spring_and_line_share_added_weight(added: float, rate: float, line: float) -> None:
    down = sink(added, rate, line)
    assert scale_rise(added, rate, line) + line * down == pytest.approx(added, rel=1e-9)
    following = take_up_pipe_following(added, rate, line)
    assert following - take_up_pipe_held(added, rate) == pytest.approx(
        added / line, rel=1e-6, abs=1e-9
    )


@given(LOADS, SHARES)
def test_a_band_measured_on_a_window_gives_the_window_back(load: float, share: float) -> None:
    low, high = window(load, share)
    band = measured_band(high, low)
    assert band.mean == pytest.approx(load, rel=1e-12)
    assert band.deviation == pytest.approx(share, rel=1e-9)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_room_does_not_depend_on_where_zero_is(cold: float, hot: float) -> None:
    from_top = room_at_ends(cold, hot, 1.0, zero_at_top=True)
    from_bottom = room_at_ends(1.0 - cold, 1.0 - hot, 1.0, zero_at_top=False)
    assert from_top == pytest.approx(from_bottom, abs=1e-12)
    assert sum(from_top) + abs(cold - hot) == pytest.approx(1.0, abs=1e-12)


@given(st.floats(0.0, 1.0), SIGNED, st.booleans())
def test_a_pipe_that_rises_nears_the_top(pointer: float, up: float, top: bool) -> None:
    before = distance_from_top(pointer, 1.0, zero_at_top=top)
    after = distance_from_top(pointer_after(pointer, up, zero_at_top=top), 1.0, zero_at_top=top)
    assert before - after == pytest.approx(up, abs=1e-12)


@given(st.floats(0.0, 2.0))
def test_travel_keeps_both_reserves(design: float) -> None:
    extra = travel_needed(design) - design
    assert extra == pytest.approx(max(0.025, 0.2 * design), abs=1e-12)
