"""What is on record of a place besides its units: clearances, shoe, fall, drawing, calculation."""

from __future__ import annotations

from typing import Any

import numpy as np

from supports.rules.facts import Facts, Table
from supports.rules.frame import FloatColumn, answers_of, texts
from supports.rules.grouping import largest_by, least_by
from supports.rules.unit_loads import OPERATING, Carriers
from supports.vocabulary import Way

Columns = dict[str, Any]
"""Columns by name, numbers and words."""

GAPS = tuple(f"gap_{way}" for way in Way)
PLACE_NUMBERS = (
    *GAPS, "insulation_growth", "bearing_length", "fall_designed", "fall_found", "drawn_load",
    "drawn_rate", "drawn_travel",
)  # fmt: skip
CALCULATED_WITH = ("used_plate_load", "used_rate", "used_travel")

_ALONG = {
    Way.UP: ("up", 1.0), Way.DOWN: ("up", -1.0), Way.EAST: ("east", 1.0),
    Way.WEST: ("east", -1.0), Way.NORTH: ("north", 1.0), Way.SOUTH: ("north", -1.0),
}  # fmt: skip
"""By way: which movement leads there, and in which sense."""


def place_columns(facts: Facts, carriers: Carriers) -> Columns:
    """Return what the rules read of the place of every carrier."""
    points, size = facts.points, len(facts.points["id"])
    by_point: Columns = {name: _of(points, name, size) for name in PLACE_NUMBERS}
    at = facts.required["point"]
    used = {
        name: largest_by(at, _of(facts.required, name, len(at)), size) for name in CALCULATED_WITH
    }
    found: Columns = {
        "insulation_growth": by_point["insulation_growth"],
        "bearing_length": by_point["bearing_length"],
        "slope_design": by_point["fall_designed"],
        "slope_now": by_point["fall_found"],
        "drawn_load": by_point["drawn_load"],
        "drawn_rate": by_point["drawn_rate"],
        "drawn_travel": by_point["drawn_travel"],
        "calculated_plate_load": used["used_plate_load"],
        "calculated_rate": used["used_rate"],
        "calculated_travel": used["used_travel"],
        "designed_for_fill": answers_of(points.get("designed_for_fill", texts([""] * size))),
        **_clearance(facts, by_point),
    }
    return {name: values[carriers.point] for name, values in found.items()}


def _of(table: Table, name: str, size: int) -> FloatColumn:
    """Return a column; not known where the facts have none."""
    found: FloatColumn = table.get(name, np.full(size, np.nan))
    return found


def _clearance(facts: Facts, by_point: Columns) -> Columns:
    """Return the gap with least left after the movement that way [m], and how many are unsure."""
    size = len(facts.points["id"])
    gaps = np.stack([by_point[name] for name in GAPS])
    towards = np.stack([_towards(facts, way) for way in Way])
    known = ~np.isnan(gaps)
    left = np.where(np.isnan(gaps - towards), np.inf, gaps - towards)
    tightest, here = np.argmin(left, axis=0), np.arange(size)
    judged = np.isfinite(left[tightest, here])
    some = known.any(axis=0)
    first = np.where(judged, tightest, np.argmax(known, axis=0))
    ways = texts(str(way) for way in Way)
    return {
        "gap_cold": np.where(some, gaps[first, here], np.nan),
        "movement_towards": np.where(some, towards[first, here], np.nan),
        "gap_way": np.where(some, ways[first], ""),
        "gaps_unsure": (known & np.isnan(towards)).sum(axis=0).astype(float),
    }


def _towards(facts: Facts, way: Way) -> FloatColumn:
    """Return the largest movement one way over the operating cases [m]; none is nought.

    Not known where an operating case gives no movement along that axis.
    """
    required, size = facts.required, len(facts.points["id"])
    axis, sense = _ALONG[way]
    rows = required["kind"] == OPERATING
    point, moved = required["point"][rows], sense * _of(required, axis, len(rows))[rows]
    blank = least_by(point, np.where(np.isnan(moved), 0.0, 1.0), size)
    most = np.maximum(largest_by(point, moved, size), 0.0)
    return np.where(blank == 1.0, most, np.nan)
