"""Gauges of a support card: the pointer of any unit, and the load scale of a variable spring."""

from __future__ import annotations

from typing import Any

from reports.contents.resetting_pack import PointerGauge
from reports.contents.walkdown_package import last_in, length_unit, scale_unit
from reports.contents.written import load, span
from reports.languages import IN_ENGLISH, Texts
from reports.pdf.scales import SCALE_WIDTH, Mark, pointer_gauge, without_collisions
from supports.rules.walkdown.form import FormRow
from supports.rules.walkdown.words import Half, ZeroEnd

INSET = 14.0
"""Room at both ends of a load gauge for its words [mm]."""


def card_gauge(row: FormRow, say: Texts = IN_ENGLISH) -> dict[str, Any] | None:
    """Return the gauge of a card; None where too little is known to draw one."""
    plate = row.plate
    if plate.total_travel is not None and plate.total_travel > 0.0:
        return pointer_gauge(_pointer(row, plate.total_travel, say), say)
    return _load_gauge(row, say)


def _pointer(row: FormRow, length: float, say: Texts) -> PointerGauge:
    plate = row.plate
    cold, hot = last_in(row, Half.SHUT_DOWN), last_in(row, Half.OPERATING)
    return PointerGauge(
        length_unit=length_unit(row),
        scale_length=length,
        zero_at_top=plate.zero_end == ZeroEnd.TOP if plate.zero_end else None,
        cold_mark=plate.cold_mark,
        hot_mark=plate.hot_mark,
        last_cold=cold.pointer if cold else None,
        last_cold_date=say.day(cold.read_on, "%b %Y") if cold else "",
        last_hot=hot.pointer if hot else None,
        last_hot_date=say.day(hot.read_on, "%b %Y") if hot else "",
        expected=row.expected.pointer if row.expected else None,
        expected_name="EXPECTED NOW",
    )


def _load_gauge(row: FormRow, say: Texts) -> dict[str, Any] | None:
    low, high = row.plate.working_low, row.plate.working_high
    if low is None or high is None or high <= low:
        return None
    unit = scale_unit(row)
    stretch = (SCALE_WIDTH - 2.0 * INSET) / (high - low)

    def at(value: float) -> float:
        return min(max(INSET + (value - low) * stretch, 0.0), SCALE_WIDTH)

    marks = [
        Mark(shape, name, load(value, unit), at(value))
        for shape, name, value in _load_marks(row, say)
        if value is not None
    ]
    cold, hot = row.plate.cold_load, row.plate.hot_load
    words = say("load scale, working range {span}", span=span(low, high, unit))
    return {
        "width": SCALE_WIDTH,
        "inset": INSET,
        "above": _as_data([one for one in marks if one.shape != "mark"]),
        "below": _as_data([one for one in marks if one.shape == "mark"]),
        "travel": sorted(round(at(v), 3) for v in (cold, hot) if cold and hot and v is not None),
        "left": load(low, unit),
        "right": load(high, unit),
        "words": words,
        "told": words,
    }


def _load_marks(row: FormRow, say: Texts) -> list[tuple[str, str, float | None]]:
    cold, hot = last_in(row, Half.SHUT_DOWN), last_in(row, Half.OPERATING)
    return [
        ("mark", say("COLD on plate"), row.plate.cold_load),
        ("mark", say("HOT on plate"), row.plate.hot_load),
        (
            "present",
            say("last cold {day}", day=say.day(cold.read_on, "%b %Y")) if cold else "",
            cold.scale_load if cold else None,
        ),
        (
            "present",
            say("last hot {day}", day=say.day(hot.read_on, "%b %Y")) if hot else "",
            hot.scale_load if hot else None,
        ),
        ("required", say("EXPECTED NOW"), row.expected.load if row.expected else None),
    ]


def _as_data(marks: list[Mark]) -> list[dict[str, Any]]:
    return [
        {
            "shape": one.shape,
            "name": one.name,
            "value": one.value,
            "x": round(one.x, 3),
            "label_x": round(one.label_x, 3),
            "level": one.level,
        }
        for one in without_collisions(marks)
    ]
