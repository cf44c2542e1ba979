"""Where the marks of a load scale, a pointer gauge and a line figure stand on the paper.

Positions are millimetres from the left end. The templates only draw what is worked out here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from reports.contents.resetting_pack import LoadScale, PointerGauge
from reports.contents.written import amount, bare, load, load_pair, percent, span, turns_left
from supports.units import Kind

SCALE_WIDTH = 172.0
"""Width of a scale on both sheet sizes [mm]."""
_INSET = 14.0
_SIGN_WIDTH = 1.85
_GAP = 3.0


@dataclass(frozen=True, slots=True)
class Mark:
    """One labelled mark; `level` 0 is nearest to the scale."""

    shape: str
    name: str
    value: str
    x: float
    label_x: float = 0.0
    level: int = 0

    @property
    def width(self) -> float:
        """Return the room that the label takes [mm], as estimated from its signs."""
        return max(len(self.name), len(self.value)) * _SIGN_WIDTH


def without_collisions(marks: Sequence[Mark]) -> list[Mark]:
    """Return the marks with labels kept on the paper and lifted where they would overlap."""
    ends: list[float] = []
    placed = []
    for mark in sorted(marks, key=lambda one: one.x):
        half = mark.width / 2.0
        centre = min(max(mark.x, half), SCALE_WIDTH - half)
        fits = (level for level, end in enumerate(ends) if centre - half >= end + _GAP)
        level = next(fits, len(ends))
        ends[level : level + 1] = [centre + half]
        placed.append(replace(mark, label_x=centre, level=level))
    return placed


def _as_data(marks: Sequence[Mark]) -> list[dict[str, Any]]:
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


class _Axis:
    """A value's place between two ends of the paper."""

    def __init__(self, low: float, high: float) -> None:
        self.low, self.stretch = low, (SCALE_WIDTH - 2.0 * _INSET) / (high - low)

    def __call__(self, value: float) -> float:
        return _INSET + (value - self.low) * self.stretch


def load_scale(scale: LoadScale) -> dict[str, Any] | None:
    """Return what the template draws of a load scale; None where too little is known."""
    values = (
        scale.low, scale.high, scale.nameplate, scale.present, scale.required, scale.hand_mark,
        scale.window_low, scale.window_high,
    )  # fmt: skip
    known = [value for value in values if value is not None]
    if not known or max(known) - min(known) <= 0.0:
        return None
    axis = _Axis(min(known), max(known))
    window = None
    if scale.window_low is not None and scale.window_high is not None:
        window = [round(axis(scale.window_low), 3), round(axis(scale.window_high), 3)]
    return {
        "width": SCALE_WIDTH,
        "above": _as_data(_upper(scale, axis)),
        "below": _as_data(_lower(scale, axis)),
        "low": None if scale.low is None else round(axis(scale.low), 3),
        "high": None if scale.high is None else round(axis(scale.high), 3),
        "window": window,
        "words": scale_words(scale),
        "told": told(scale),
    }


def _upper(scale: LoadScale, axis: _Axis) -> list[Mark]:
    marks = []
    if scale.present is not None:
        name = "NAMEPLATE = PRESENT" if scale.present == scale.nameplate else "PRESENT"
        value = load_pair(scale.present, scale.load_unit, scale.other_unit)
        marks.append(Mark("present", name, value, axis(scale.present)))
    if scale.required is not None:
        value = load_pair(scale.required, scale.load_unit, scale.other_unit)
        marks.append(Mark("required", "REQUIRED", value, axis(scale.required)))
    if scale.hand_mark is not None:
        value = load(scale.hand_mark, scale.load_unit)
        marks.append(Mark("hand", "HAND MARK, do not count from it", value, axis(scale.hand_mark)))
    return marks


def _lower(scale: LoadScale, axis: _Axis) -> list[Mark]:
    marks = []
    if scale.low is not None:
        marks.append(Mark("limit", "LOW LIMIT", load(scale.low, scale.load_unit), axis(scale.low)))
    if scale.nameplate is not None:
        value = load(scale.nameplate, scale.load_unit)
        marks.append(Mark("nameplate", "NAMEPLATE", value, axis(scale.nameplate)))
    if scale.high is not None:
        value = load(scale.high, scale.load_unit)
        marks.append(Mark("limit", "HIGH LIMIT", value, axis(scale.high)))
    return marks


def scale_words(scale: LoadScale) -> str:
    """Return the line under a load scale: window, room left, share used."""
    parts = [f"window {span(scale.window_low, scale.window_high, scale.load_unit)}"]
    for way, limit, turns in (
        ("up", scale.high, scale.room_up_turns),
        ("down", scale.low, scale.room_down_turns),
    ):
        if limit is not None and scale.required is not None:
            room = abs(limit - scale.required)
            sense = "room" if (limit >= scale.required) is (way == "up") else "BEYOND limit"
            parts.append(f"{sense} {way} {load(room, scale.load_unit)} ({turns_left(turns)})")
    if scale.used_share is not None:
        parts.append(f"used {percent(scale.used_share)} of the way to the limit")
    return "  ·  ".join(parts)


def told(scale: LoadScale) -> str:
    """Return the load scale in words, for a reader who cannot see it."""
    unit = scale.load_unit
    return (
        f"Load scale in {unit}: low limit {load(scale.low, unit)}, nameplate "
        f"{load(scale.nameplate, unit)}, present {load(scale.present, unit)}, required "
        f"{load(scale.required, unit)}, high limit {load(scale.high, unit)}."
    )


def pointer_gauge(gauge: PointerGauge) -> dict[str, Any] | None:
    """Return what the template draws of a pointer gauge; None where its length is unknown."""
    if gauge.scale_length <= 0.0:
        return None
    top_first = gauge.zero_at_top is not False
    axis = _Axis(0.0, gauge.scale_length)

    def at(value: float) -> float:
        place = axis(value)
        return place if top_first else SCALE_WIDTH - place

    marks = _gauge_marks(gauge, at)
    numbers = (bare(0.0, gauge.length_unit, Kind.LENGTH), _length(gauge.scale_length, gauge))
    ends = numbers if top_first else numbers[::-1]
    return {
        "width": SCALE_WIDTH,
        "inset": _INSET,
        "above": _as_data([one for one in marks if one.shape != "mark"]),
        "below": _as_data([one for one in marks if one.shape == "mark"]),
        "travel": sorted(
            round(at(value), 3)
            for value in (gauge.cold_mark, gauge.hot_mark)
            if gauge.cold_mark is not None and gauge.hot_mark is not None and value is not None
        ),
        "left": _end("top\u00a0stop", ends[0], gauge),
        "right": _end("bottom\u00a0stop", ends[1], gauge),
        "words": gauge_words(gauge),
        "told": gauge_words(gauge),
    }


def _length(value: float | None, gauge: PointerGauge) -> str:
    return amount(value, gauge.length_unit, Kind.LENGTH)


def _end(name: str, number: str, gauge: PointerGauge) -> str:
    return f"end\u00a0marked {number}" if gauge.zero_at_top is None else f"{name} {number}"


def _gauge_marks(gauge: PointerGauge, at: Any) -> list[Mark]:
    listed = (
        ("mark", "COLD", gauge.cold_mark),
        ("mark", "HOT", gauge.hot_mark),
        ("present", f"last cold {gauge.last_cold_date}".rstrip(), gauge.last_cold),
        ("present", f"last hot {gauge.last_hot_date}".rstrip(), gauge.last_hot),
        ("required", gauge.expected_name, gauge.expected),
    )
    return [
        Mark(shape, name, _length(value, gauge), at(value))
        for shape, name, value in listed
        if value is not None
    ]


def gauge_words(gauge: PointerGauge) -> str:
    """Return the line under a pointer gauge: zero end, travel and room at both ends."""
    zero = {True: "zero at the top", False: "zero at the bottom", None: "ZERO END NOT KNOWN: ask"}
    parts = [f"pointer scale, {zero[gauge.zero_at_top]}"]
    cold, hot = gauge.cold_mark, gauge.hot_mark
    if cold is None or hot is None:
        return "  ·  ".join([*parts, "travel not known"])
    if gauge.zero_at_top is not None:
        way = "down" if (hot > cold) is gauge.zero_at_top else "up"
        parts.append(f"moves {way} {_length(abs(hot - cold), gauge)} when hot")
    for name, value in (("cold", cold), ("hot", hot)):
        other = hot if name == "cold" else cold
        room = value if value < other else gauge.scale_length - value
        parts.append(f"room beyond {name} mark {_length(room, gauge)}")
    return "  ·  ".join(parts)
