"""Scales as a tablet draws them: plain numbers in the unit that stands on the scale itself."""

from __future__ import annotations

from typing import Any

from reports.contents.resetting_pack import LoadScale
from reports.contents.walkdown_package import last_in, length_unit, scale_unit
from supports.rules.walkdown.form import FormRow
from supports.rules.walkdown.words import Half
from supports.snapshots import ReadingView
from supports.units import Kind, from_si

Gauge = dict[str, Any]
"""Ends, window and marks: ``{"unit", "low", "high", "window", "zero_at_top", "marks"}``."""


def in_scale(si: float | None, symbol: str, kind: Kind) -> float | None:
    """Return an SI value in a scale's unit, with all its digits; None stays None."""
    return None if si is None else float(from_si(si, symbol, kind))


def walk_gauges(row: FormRow) -> dict[str, Gauge]:
    """Return the pointer scale and the load scale of a row, as far as their ends are known."""
    made = {"pointer": _pointer(row), "load": _load(row)}
    return {name: gauge for name, gauge in made.items() if gauge is not None}


def _pointer(row: FormRow) -> Gauge | None:
    plate, unit = row.plate, length_unit(row)
    if not plate.total_travel:
        return None
    wanted, slack = (
        (row.expected.pointer, row.expected.pointer_slack) if row.expected else (None,) * 2
    )
    marks = {
        "cold": plate.cold_mark,
        "hot": plate.hot_mark,
        "last cold": _pointer_of(last_in(row, Half.SHUT_DOWN)),
        "last hot": _pointer_of(last_in(row, Half.OPERATING)),
        "expected": wanted,
    }
    return _gauge((0.0, plate.total_travel), (wanted, slack), marks, (unit, Kind.LENGTH)) | {
        "zero_at": plate.zero_end
    }


def _load(row: FormRow) -> Gauge | None:
    plate, unit = row.plate, scale_unit(row)
    low, high = (
        (plate.working_low, plate.working_high)
        if row.kind.is_variable
        else (plate.range_low, plate.range_high)
    )
    if low is None or high is None or high <= low:
        return None
    wanted, slack = (row.expected.load, row.expected.load_slack) if row.expected else (None,) * 2
    marks = {
        "cold": plate.cold_load,
        "hot": plate.hot_load,
        "last cold": _load_of(last_in(row, Half.SHUT_DOWN)),
        "last hot": _load_of(last_in(row, Half.OPERATING)),
        "expected": wanted,
    }
    return _gauge((low, high), (wanted, slack), marks, (unit, Kind.LOAD)) | {"zero_at": ""}


def _pointer_of(one: ReadingView | None) -> float | None:
    return one.pointer if one else None


def _load_of(one: ReadingView | None) -> float | None:
    return one.scale_load if one else None


def _gauge(
    ends: tuple[float, float], wanted: tuple[float | None, float | None],
    marks: dict[str, float | None], scale: tuple[str, Kind],
) -> Gauge:  # fmt: skip
    middle, slack = wanted
    window = None if middle is None or slack is None else [middle - slack, middle + slack]
    unit, kind = scale
    return {
        "unit": unit,
        "low": in_scale(ends[0], unit, kind),
        "high": in_scale(ends[1], unit, kind),
        "window": window and [in_scale(end, unit, kind) for end in window],
        "marks": {
            name: in_scale(value, unit, kind) for name, value in marks.items() if value is not None
        },
    }


def order_gauge(scale: LoadScale) -> Gauge | None:
    """Return the load scale of a unit that is re-set; None where too little is known."""
    values = (scale.low, scale.high, scale.nameplate, scale.present, scale.required)
    known = [value for value in values if value is not None]
    if not known or max(known) <= min(known):
        return None
    marks = {
        "low limit": scale.low,
        "high limit": scale.high,
        "present": scale.present,
        "required": scale.required,
    }
    unit = (scale.load_unit, Kind.LOAD)
    made = _gauge((min(known), max(known)), (None, None), marks, unit) | {"zero_at": ""}
    window = [in_scale(end, *unit) for end in (scale.window_low, scale.window_high)]
    return made | {"window": None if None in window else window}
