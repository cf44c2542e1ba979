"""What the order of supports along their lines tells: gaps, neighbours, half spans, loads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from supports.rules.facts import Facts
from supports.rules.frame import BoolColumn, FloatColumn, IntColumn
from supports.rules.grouping import at, count_by, largest_by, last_by, sum_by
from supports.rules.unit_loads import OPERATING
from supports.units import STANDARD_GRAVITY

Columns = dict[str, Any]
"""Columns by name, numbers and words."""


@dataclass(frozen=True, slots=True)
class Run:
    """Attachments sorted along their lines; those without an order come last."""

    rows: IntColumn
    line: IntColumn
    same: BoolColumn
    """Whether the next row is on the same line, both with an order."""


def run_of(facts: Facts) -> Run:
    """Return the attachments in order along their lines."""
    attachments = facts.attachments
    order = attachments["order_along"]
    rows = np.lexsort((np.nan_to_num(order, nan=np.inf), attachments["line"]))
    line = attachments["line"][rows]
    placed = ~np.isnan(order[rows])
    same = (line[1:] == line[:-1]) & placed[1:] & placed[:-1]
    return Run(rows, line, same)


def order_faults(facts: Facts, run: Run) -> Columns:
    """Return by line: supports, those without an order, orders given twice, distances falling."""
    attachments, size = facts.attachments, len(facts.lines["id"])
    order, distance = attachments["order_along"][run.rows], attachments["distance_along"][run.rows]
    twice = run.same & (order[1:] == order[:-1])
    falling = run.same & (distance[1:] < distance[:-1])
    blank = np.isnan(attachments["order_along"])
    return {
        "supports": count_by(attachments["line"], size),
        "order_missing": count_by(attachments["line"][blank], size),
        "order_double": count_by(run.line[1:][twice], size),
        "distance_falling": count_by(run.line[1:][falling], size),
    }


def half_spans(facts: Facts, run: Run) -> FloatColumn:
    """Return by point the load of half the spans beside it [N]; not known at ends of lines."""
    distance = facts.attachments["distance_along"][run.rows]
    span = np.where(run.same, distance[1:] - distance[:-1], np.nan)
    before = np.concatenate([[np.nan], span])
    after = np.concatenate([span, [np.nan]])
    mass = facts.lines["mass_per_length"][run.line]
    load = (before[: len(mass)] + after[: len(mass)]) / 2.0 * mass * STANDARD_GRAVITY
    point = facts.attachments["point"][run.rows]
    return sum_by(point, load, len(facts.points["id"]))


def line_loads(facts: Facts) -> Columns:
    """Return by line: operating loads of the calculation that holds, and those downward."""
    required, size = facts.required, len(facts.lines["id"])
    known = (required["kind"] == OPERATING) & ~np.isnan(required["load"])
    line, load = required["line"][known], required["load"][known]
    return {
        "loads": count_by(line, size),
        "downward_loads": count_by(line[load < 0.0], size),
        "calculated": (count_by(required["line"], size) > 0.0).astype(float),
    }


def in_newest(facts: Facts) -> BoolColumn:
    """Return by attachment whether the calculation that holds gives a load there."""
    lines = max(len(facts.lines["id"]), 1)
    wanted = facts.attachments["point"] * lines + facts.attachments["line"]
    found: BoolColumn = np.isin(wanted, facts.required["point"] * lines + facts.required["line"])
    return found


def nearest_change(run: Run, changed: BoolColumn) -> FloatColumn:
    """Return by attachment how many supports away the nearest changed load of its line is [1].

    Not known where nothing changed on the line; a support's own change does not count.
    """
    place = np.arange(len(run.rows), dtype=float)
    marks = np.where(changed[run.rows], place, np.nan)
    start = np.searchsorted(run.line, run.line, side="left").astype(float)
    end = np.searchsorted(run.line, run.line, side="right").astype(float)
    before = _carried(np.concatenate([[np.nan], marks[:-1]]))
    after = -_carried(-np.concatenate([marks[1:], [np.nan]])[::-1])[::-1]
    back = np.where(before >= start, place - before, np.nan)
    ahead = np.where(after < end, after - place, np.nan)
    nearest = np.full(len(run.rows), np.nan)
    nearest[run.rows] = np.fmin(back, ahead)
    return nearest


def _carried(marks: FloatColumn) -> FloatColumn:
    """Return the last known value at or before each row."""
    if len(marks) == 0:
        return marks
    rows = np.where(np.isnan(marks), 0, np.arange(len(marks)))
    carried: FloatColumn = marks[np.maximum.accumulate(rows)]
    return carried


def newest_state(facts: Facts) -> tuple[FloatColumn, FloatColumn]:
    """Return by line the day and the plant state of the newest reading on it."""
    readings, attachments = facts.readings, facts.attachments
    point = facts.units["point"][readings["unit"]] if len(readings["unit"]) else readings["unit"]
    newest = last_by(point, len(facts.points["id"]))
    here = newest[attachments["point"]]
    day = at(readings["day"], here)
    latest = largest_by(attachments["line"], day, len(facts.lines["id"]))
    kept = np.flatnonzero(day == latest[attachments["line"]])
    state = np.full(len(facts.lines["id"]), np.nan)
    state[attachments["line"][kept]] = at(readings["state"], here[kept])
    return latest, state
