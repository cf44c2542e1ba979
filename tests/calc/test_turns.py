"""Turns and flats. Numbers are worked by hand; rounds and carry are common practice, no source."""

from __future__ import annotations

import math

import pytest

from supports.calc.turns import (
    LoadPerTurn,
    LoadPerTurnTable,
    TurnCount,
    in_rounds,
    load_after_turns,
    turns_between,
    turns_for_change,
)
from supports.errors import CannotCalculate

BANDED = LoadPerTurnTable((LoadPerTurn(17e3, 21e3, 250.0), LoadPerTurn(21e3, 23e3, 280.0)))


@pytest.mark.parametrize(
    ("exact", "turns", "flats", "words"),
    [
        (8.4, 8, 2, "8 turns 2 flats"),
        (0.0, 0, 0, "0 turns"),
        (1.0, 1, 0, "1 turn"),
        (7.93, 8, 0, "8 turns"),  # 5.58 flats round to 6, which carry
        (2.92, 3, 0, "3 turns"),
        (2.91, 2, 5, "2 turns 5 flats"),
        (1 / 6, 0, 1, "1 flat"),
        (0.25, 0, 2, "2 flats"),  # 1.5 flats: half a flat goes up
    ],
)
def test_nearest_flat(exact: float, turns: int, flats: int, words: str) -> None:
    count = TurnCount.nearest(exact)
    assert (count.turns, count.flats, str(count)) == (turns, flats, words)


@pytest.mark.parametrize("turns", [-0.1, math.nan, math.inf])
def test_uncountable_turns_are_refused(turns: float) -> None:
    with pytest.raises(CannotCalculate, match="turns cannot be counted"):
        TurnCount.nearest(turns)


def test_six_flats_are_not_a_count() -> None:
    with pytest.raises(CannotCalculate, match="0 to 5 flats"):
        TurnCount(1, 6)


def test_banded_load_per_turn_by_hand() -> None:
    # 1.0 kN / 0.25 + 1.1 kN / 0.28 = 4.000 + 3.929
    assert turns_between(20e3, 22.1e3, BANDED) == pytest.approx(7.928571, abs=1e-6)
    assert turns_between(22.1e3, 20e3, BANDED) == pytest.approx(7.928571, abs=1e-6)


def test_banded_turns_and_back() -> None:
    assert load_after_turns(20e3, 4.0 + 1.1 / 0.28, BANDED) == pytest.approx(22.1e3, rel=1e-12)
    assert load_after_turns(22.1e3, -(4.0 + 1.1 / 0.28), BANDED) == pytest.approx(20e3, rel=1e-12)


def test_exactly_to_the_end_of_the_table() -> None:
    assert load_after_turns(21e3, 2000.0 / 280.0, BANDED) == pytest.approx(23e3, rel=1e-12)
    assert load_after_turns(21e3, -16.0, BANDED) == pytest.approx(17e3, rel=1e-12)


@pytest.mark.parametrize("turns", [8.0, -17.0])
def test_turns_out_of_the_table_are_refused(turns: float) -> None:
    with pytest.raises(CannotCalculate, match="lead out of the table"):
        load_after_turns(21e3, turns, BANDED)


def test_change_outside_the_table_names_the_gap() -> None:
    with pytest.raises(CannotCalculate, match="20000 to 23400 N; expected 17000 to 23000 N"):
        turns_between(20e3, 23.4e3, BANDED)


@pytest.mark.parametrize(
    "bands",
    [
        (),
        (LoadPerTurn(0.0, 1e3, 0.0),),
        (LoadPerTurn(0.0, 1e3, -5.0),),
        (LoadPerTurn(1e3, 0.0, 5.0),),
        (LoadPerTurn(0.0, 1e3, 5.0), LoadPerTurn(1.1e3, 2e3, 5.0)),
        (LoadPerTurn(0.0, 1e3, 5.0), LoadPerTurn(0.9e3, 2e3, 5.0)),
    ],
)
def test_unsound_tables_are_refused(bands: tuple[LoadPerTurn, ...]) -> None:
    with pytest.raises(CannotCalculate, match="no usable table"):
        LoadPerTurnTable(bands)


def test_uniform_table_says_the_same_as_the_quotient() -> None:
    table = LoadPerTurnTable.uniform(250.0)
    assert turns_between(20e3, 22.1e3, table) == pytest.approx(
        turns_for_change(2100.0, 250.0), rel=1e-15
    )
    assert turns_for_change(-2100.0, 250.0) == pytest.approx(8.4, rel=1e-15)


@pytest.mark.parametrize(
    ("count", "rounds", "step", "parts"),
    [
        (TurnCount(8, 2), 3, 6, ["3 turns", "3 turns", "2 turns 2 flats"]),
        (TurnCount(12, 3), 5, 1, ["2 turns 3 flats"] * 5),
        (TurnCount(10, 0), 5, 1, ["2 turns"] * 5),
        (TurnCount(0, 1), 3, 6, ["1 flat", "0 turns", "0 turns"]),
    ],
)
def test_rounds_by_hand(count: TurnCount, rounds: int, step: int, parts: list[str]) -> None:
    assert [str(part) for part in in_rounds(count, rounds, step)] == parts


@pytest.mark.parametrize(("rounds", "step"), [(0, 1), (3, 0)])
def test_no_rounds_are_refused(rounds: int, step: int) -> None:
    with pytest.raises(CannotCalculate, match="counted from 1"):
        in_rounds(TurnCount(1, 0), rounds, step)
