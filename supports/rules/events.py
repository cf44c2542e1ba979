"""Settings and readings of every unit, drawn from its whole history."""

from __future__ import annotations

from typing import Any

import numpy as np

from supports.calc.elementwise import LAST_DIGITS
from supports.rules.facts import STATES, Facts, Table
from supports.rules.frame import FloatColumn, IntColumn, TextColumn, texts
from supports.rules.grouping import at, count_by, first_by, largest_by, last_by
from supports.rules.unit_loads import Carriers
from supports.vocabulary import PlantState

Columns = dict[str, Any]
"""Columns by name, numbers and words."""

TEN_YEARS = 3652.0
YEAR = 365.25
HOT = STATES.index(PlantState.OPERATING_STEADY)
COLD = (
    STATES.index(PlantState.SHUT_DOWN_DRAINED),
    STATES.index(PlantState.SHUT_DOWN_FULL),
)
UNKNOWN = STATES.index(PlantState.UNKNOWN)


def setting_columns(facts: Facts, carriers: Carriers) -> Columns:
    """Return the newest setting of each unit, and what came before it."""
    events, units = facts.settings, len(facts.units["id"])
    newest = _by_carrier(last_by(events["unit"], units), carriers)
    before = _before(events, units)
    former = _by_carrier(before, carriers)
    load, turns = events["load"], events["turns_given"]
    signed = at(load, newest) - at(load, former)
    count = count_by(events["unit"], units)
    recent = count_by(events["unit"][_re_set_lately(events, facts.today, units)], units)
    anew = (abs(signed) > LAST_DIGITS * abs(at(load, former))) & (
        at(_of(events, "live"), newest) == 1.0
    )
    return {
        "setting": at(load, newest),
        "setting_day": at(events["day"], newest),
        "undated": (np.isnan(at(events["day"], newest)) & (newest >= 0)).astype(float),
        "setting_state": np.where(newest >= 0, at(events["state"], newest), -1.0),
        "set_by": _words_at(events["set_by"], newest),
        "turns_given": abs(at(turns, newest)),
        "setting_step": abs(signed),
        "settings": at(count, carriers.unit),
        "re_sets_in_ten_years": at(recent, carriers.unit),
        "setting_is_new_value": anew.astype(float),
        "setting_approved": at(_of(events, "ordered"), newest),
    }


def _of(events: Table, name: str) -> FloatColumn:
    """Return a column of events; not known where the facts have none."""
    found: FloatColumn = events.get(name, np.full(len(events["unit"]), np.nan))
    return found


def _by_carrier(rows: IntColumn, carriers: Carriers) -> IntColumn:
    if len(rows) == 0:
        return np.full(carriers.size, -1)
    return np.where(carriers.unit >= 0, rows[carriers.unit], -1)


def _before(events: Table, units: int) -> IntColumn:
    """Return the row before the newest of each unit, -1 where it was set only once."""
    last = last_by(events["unit"], units)
    earlier = np.ones(len(events["unit"]), dtype=bool)
    earlier[last[last >= 0]] = False
    rows = np.flatnonzero(earlier)
    before = np.full(units, -1, dtype=np.int64)
    before[events["unit"][rows]] = rows
    return before


def _re_set_lately(events: Table, today: float, units: int) -> IntColumn:
    """Return the rows of settings within ten years, the first setting of a unit apart."""
    later = np.ones(len(events["unit"]), dtype=bool)
    first = first_by(events["unit"], units)
    later[first[first >= 0]] = False
    lately: IntColumn = np.flatnonzero(later & (events["day"] > today - TEN_YEARS))
    return lately


def _words_at(words: TextColumn, rows: IntColumn) -> TextColumn:
    if len(words) == 0:
        return texts([""] * len(rows))
    return np.where(rows >= 0, words[rows], "")


_READ = ("pointer", "scale_load", "cell_lowering", "cell_raising", "rod_angle")


def reading_columns(facts: Facts, carriers: Carriers) -> Columns:
    """Return the newest reading of each unit, and what all its readings show."""
    events, units = facts.readings, len(facts.units["id"])
    newest = _by_carrier(last_by(events["unit"], units), carriers)
    state = at(events["state"], newest)
    words = texts([*STATES, ""])
    by_unit: Columns = {
        "readings": count_by(events["unit"], units),
        **_states_seen(events, units),
        **_pair(facts),
        **_drift(facts),
    }
    return {
        **{name: at(events[name], newest) for name in _READ},
        **{name: at(values, carriers.unit) for name, values in by_unit.items()},
        "reading_day": at(events["day"], newest),
        "last_seen_day": at(events["day"], newest),
        "reading_temperature": at(events["pipe_temperature"], newest),
        "body_temperature": at(_of(events, "body_temperature"), newest),
        "newest_state": np.where(np.isnan(state), -1.0, state),
        "reading_state": words[np.where(np.isnan(state), len(STATES), state).astype(np.int64)],
    }


def _states_seen(events: Table, units: int) -> Columns:
    """Return whether a unit was read shut down and operating; not known if only states unknown."""
    count = count_by(events["unit"], units)
    blind = (count_by(events["unit"][events["state"] == UNKNOWN], units) == count) & (count > 0.0)
    hot = count_by(events["unit"][events["state"] == HOT], units) > 0.0
    cold = count_by(events["unit"][np.isin(events["state"], COLD)], units) > 0.0
    return {
        "read_operating": np.where(blind, np.nan, hot.astype(float)),
        "read_shut_down": np.where(blind, np.nan, cold.astype(float)),
    }


def _pair(facts: Facts) -> Columns:
    """Return the nearest pair of readings in time, one shut down and one operating.

    Each reading is held against the newest of the other state before it.
    """
    events, units = facts.readings, len(facts.units["id"])
    hot = np.isin(events["state"], (HOT,))
    cold = np.isin(events["state"], COLD)
    kept = np.flatnonzero(hot | cold)
    unit, is_hot = events["unit"][kept], hot[kept]
    order = np.argsort(unit, kind="stable")
    kept, unit, is_hot = kept[order], unit[order], is_hot[order]
    changes = np.flatnonzero((unit[1:] == unit[:-1]) & (is_hot[1:] != is_hot[:-1]))
    first, second = kept[changes], kept[changes + 1]
    days = events["day"][second] - events["day"][first]
    moved = events["pointer"][second] - events["pointer"][first]
    moved = np.where(hot[second], moved, -moved)
    apart = -largest_by(events["unit"][first], -days, units)
    nearest = days <= apart[events["unit"][first]]
    shift = np.full(units, np.nan)
    shift[events["unit"][first][nearest]] = moved[nearest]
    zero = facts.units["zero_end"]
    sign = np.select([zero == "top", zero == "bottom"], [-1.0, 1.0], np.nan)
    return {"pair_days_apart": apart, "movement_seen": shift * sign}


def _drift(facts: Facts) -> Columns:
    """Return the drift in the plant state with most readings since the unit was last set."""
    events, units, states = facts.readings, len(facts.units["id"]), len(STATES)
    last_set = at(facts.settings["day"], last_by(facts.settings["unit"], units))
    since = np.nan_to_num(last_set, nan=-np.inf)[events["unit"]]
    fresh = np.flatnonzero((events["day"] >= since) & (events["state"] != UNKNOWN))
    group = events["unit"][fresh] * states + events["state"][fresh]
    counts = count_by(group, units * states).reshape(units, states)
    best = np.argmax(counts, axis=1)
    chosen = fresh[events["state"][fresh] == best[events["unit"][fresh]]]
    unit = events["unit"][chosen]
    return {
        "comparable_readings": counts[np.arange(units), best],
        "pointer_drift": _slope(unit, events["day"][chosen], events["pointer"][chosen], units),
        "load_drift": _first_to_last(unit, events["scale_load"][chosen], units),
    }


def _slope(unit: IntColumn, days: FloatColumn, values: FloatColumn, units: int) -> FloatColumn:
    """Return the slope of a straight line through the values of each unit, per year."""
    known = ~np.isnan(values)
    unit, years, values = unit[known], days[known] / YEAR, values[known]
    count = count_by(unit, units)
    with np.errstate(divide="ignore", invalid="ignore"):
        years = years - (np.bincount(unit, years, units) / count)[unit]
        slope = np.bincount(unit, years * values, units) / np.bincount(unit, years**2, units)
    return np.where(count >= 2.0, slope, np.nan)


def _first_to_last(unit: IntColumn, loads: FloatColumn, units: int) -> FloatColumn:
    known = ~np.isnan(loads)
    unit, loads = unit[known], loads[known]
    first, last = at(loads, first_by(unit, units)), at(loads, last_by(unit, units))
    enough = count_by(unit, units) >= 2.0
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(enough, (last - first) / first, np.nan)
