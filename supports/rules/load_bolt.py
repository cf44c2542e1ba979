"""Turns of the load bolt, over whole columns."""

from __future__ import annotations

from typing import Any

import numpy as np

from supports.calc.turns import FLATS_PER_TURN, LoadPerTurn, LoadPerTurnTable, turns_between
from supports.errors import CannotCalculate
from supports.rules.facts import Facts
from supports.rules.frame import FloatColumn, TextColumn
from supports.rules.unit_loads import Carriers, of_unit, words_of_unit
from supports.vocabulary import TurnCounts

Columns = dict[str, Any]
"""Columns by name, numbers and words."""


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


def load_bolt_columns(columns: Columns, facts: Facts, carriers: Carriers) -> Columns:
    """Return free thread, turns and load per turn for the re-set of every carrier."""
    units = facts.units
    up = columns["required"] >= columns["setting"]
    free = np.where(
        up,
        of_unit(units["free_to_increase"], carriers),
        of_unit(units["free_to_decrease"], carriers),
    )
    tables = words_of_unit(units["load_per_turn_table"], carriers)
    return {
        "free_thread": free,
        "bolt_turns": bolt_turns(
            columns["setting"],
            columns["required"],
            columns["load_per_turn"],
            tables,
            of_unit(units["load_bolts"], carriers),
            words_of_unit(units["turn_counts"], carriers),
        ),
        "bolt_turns?": np.where(
            np.isnan(columns["load_per_turn"]) & (tables == ""), "load per turn", ""
        ),
        "load_per_turn_here": load_per_turn_here(
            columns["setting"], columns["load_per_turn"], tables
        ),
    }
