"""Turns of the load bolt, over whole columns."""

from __future__ import annotations

import numpy as np

from supports.calc.turns import FLATS_PER_TURN, LoadPerTurn, LoadPerTurnTable, turns_between
from supports.errors import CannotCalculate
from supports.rules.frame import FloatColumn, TextColumn
from supports.vocabulary import TurnCounts


def bolt_turns(
    setting: FloatColumn,
    required: FloatColumn,
    load_per_turn: FloatColumn,
    tables: TextColumn,
    bolts: FloatColumn,
    counts: TextColumn,
) -> FloatColumn:
    """Return the turns of one bolt that a re-set takes [1]: exact, or rounded to flats if more.

    Parameters
    ----------
    setting, required
        Loads [N].
    load_per_turn
        Where it is uniform [N].
    tables
        Rows of (from N, to N, N per turn) where it is not.
    bolts, counts
        Number of load bolts, and what the load per turn counts.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        exact = abs(required - setting) / load_per_turn
    for row in np.flatnonzero(tables != ""):
        exact[row] = _by_table(setting[row], required[row], tables[row])
    several = bolts > 1.0
    one = counts == TurnCounts.ONE_BOLT
    every = counts == TurnCounts.EVERY_BOLT
    factor = np.where(several, np.where(one, 1.0 / bolts, np.where(every, 1.0, np.nan)), 1.0)
    exact = exact * factor
    rounded = np.floor(exact * FLATS_PER_TURN + 0.5) / FLATS_PER_TURN
    return np.maximum(exact, rounded)


def _by_table(setting: float, required: float, rows: list[tuple[float, float, float]]) -> float:
    if np.isnan(setting) or np.isnan(required):
        return np.nan
    try:
        return turns_between(setting, required, _table(rows))
    except CannotCalculate:
        return np.nan


def _table(rows: list[tuple[float, float, float]]) -> LoadPerTurnTable:
    return LoadPerTurnTable(tuple(LoadPerTurn(*row) for row in rows))


def load_per_turn_here(
    setting: FloatColumn, load_per_turn: FloatColumn, tables: TextColumn
) -> FloatColumn:
    """Return the load per turn at the present setting [N]."""
    here = load_per_turn.copy()
    for row in np.flatnonzero(tables != ""):
        bands = [q for low, high, q in tables[row] if low <= setting[row] <= high]
        here[row] = bands[0] if bands else np.nan
    return here
