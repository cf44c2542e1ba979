"""What the pages of all turned units share: rounds, turns, direction, unit in brackets."""

from __future__ import annotations

from reports.contents.common import FLATS_IN_A_TURN, Direction, Turns
from reports.contents.resetting_pack import TurnRound
from supports.calc.turns import TurnCount
from supports.snapshots import NameplateView
from supports.vocabulary import Known

ROUNDS = 3
"""Thirds for a single unit (common practice, no source)."""


def other_unit(symbol: str) -> str:
    """Return the unit for the brackets: kN beside any other, lbf beside kN."""
    return "lbf" if symbol == "kN" else "kN"


def rounds_of(
    parts: tuple[TurnCount, ...], start: float, after: list[float], tolerance: float
) -> tuple[TurnRound, ...]:
    """Return the rounds of one unit with the reading [N] expected after each, and its slack."""
    rounds = []
    for number, (part, load, before) in enumerate(
        zip(parts, after, [start, *after[:-1]], strict=True), start=1
    ):
        slack = tolerance * abs(load - before)
        if part.in_flats:
            rounds.append(TurnRound(number, turns_of(part), load, load - slack, load + slack))
    return tuple(rounds)


def turns_of(count: TurnCount) -> Turns:
    """Return turns and flats as they are printed."""
    return Turns(*divmod(count.in_flats, FLATS_IN_A_TURN))


def locked_words(plate: NameplateView, *, variable: bool) -> str:
    """Return how the travel stop stands while a unit is turned; unknown is OUT."""
    if not variable and plate.may_turn_locked is Known.YES:
        return "Turn with the travel stop in or out, as the unit's instruction allows."
    return "Turn with the travel stop OUT only, the weight on."


def direction_of(change: float) -> Direction:
    """Return the way of a change of load."""
    return Direction.INCREASE if change >= 0 else Direction.DECREASE
