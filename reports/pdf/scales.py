"""Where the marks of a load scale, a pointer gauge and a line figure stand on the paper.

Positions are millimetres from the left end. The templates only draw what is worked out here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from reports.contents.resetting_pack import LoadScale, PointerGauge
from reports.contents.written import NOT_KNOWN, amount, bare, load, load_pair, percent, span
from reports.languages import IN_ENGLISH, Texts
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


def load_scale(scale: LoadScale, say: Texts = IN_ENGLISH) -> dict[str, Any] | None:
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
        "above": _as_data(_upper(scale, axis, say)),
        "below": _as_data(_lower(scale, axis, say)),
        "low": None if scale.low is None else round(axis(scale.low), 3),
        "high": None if scale.high is None else round(axis(scale.high), 3),
        "window": window,
        "words": scale_words(scale, say),
        "told": told(scale, say),
    }


def _upper(scale: LoadScale, axis: _Axis, say: Texts) -> list[Mark]:
    marks = []
    if scale.present is not None:
        at_plate = scale.present == scale.nameplate
        name = say("NAMEPLATE = PRESENT") if at_plate else say("PRESENT")
        value = load_pair(scale.present, scale.load_unit, scale.other_unit)
        marks.append(Mark("present", name, value, axis(scale.present)))
    if scale.required is not None:
        value = load_pair(scale.required, scale.load_unit, scale.other_unit)
        marks.append(Mark("required", say("REQUIRED"), value, axis(scale.required)))
    if scale.hand_mark is not None:
        value = load(scale.hand_mark, scale.load_unit)
        name = say("HAND MARK, do not count from it")
        marks.append(Mark("hand", name, value, axis(scale.hand_mark)))
    return marks


def _lower(scale: LoadScale, axis: _Axis, say: Texts) -> list[Mark]:
    marks = []
    if scale.low is not None:
        value = load(scale.low, scale.load_unit)
        marks.append(Mark("limit", say("LOW LIMIT"), value, axis(scale.low)))
    if scale.nameplate is not None:
        value = load(scale.nameplate, scale.load_unit)
        marks.append(Mark("nameplate", say("NAMEPLATE"), value, axis(scale.nameplate)))
    if scale.high is not None:
        value = load(scale.high, scale.load_unit)
        marks.append(Mark("limit", say("HIGH LIMIT"), value, axis(scale.high)))
    return marks


def scale_words(scale: LoadScale, say: Texts = IN_ENGLISH) -> str:
    """Return the line under a load scale: window, room left, share used."""
    window = span(scale.window_low, scale.window_high, scale.load_unit)
    parts = [say("window {window}", window=known(window, say))]
    for up, limit, turns in (
        (True, scale.high, scale.room_up_turns),
        (False, scale.low, scale.room_down_turns),
    ):
        if limit is not None and scale.required is not None:
            beyond = (limit >= scale.required) is not up
            room = load(abs(limit - scale.required), scale.load_unit)
            if turns is not None:
                room = f"{room} ({say('{count} turns', count=f'{turns:.1f}')})"
            parts.append(_room_words(up, beyond, say).format(room=room))
    if scale.used_share is not None:
        parts.append(say("used {share} of the way to the limit", share=percent(scale.used_share)))
    return "  ·  ".join(parts)


def _room_words(up: bool, beyond: bool, say: Texts) -> str:
    if beyond:
        return say("BEYOND limit up {room}" if up else "BEYOND limit down {room}")
    return say("room up {room}" if up else "room down {room}")


def known(text: str, say: Texts) -> str:
    """Return a value as written, 'not known' in the paper's language."""
    return say(NOT_KNOWN) if text == NOT_KNOWN else text


def told(scale: LoadScale, say: Texts = IN_ENGLISH) -> str:
    """Return the load scale in words, for a reader who cannot see it."""
    unit = scale.load_unit
    low, plate, present, required, high = (
        known(load(value, unit), say)
        for value in (scale.low, scale.nameplate, scale.present, scale.required, scale.high)
    )
    return say(
        "Load scale in {unit}: low limit {low}, nameplate {plate}, present {present}, required "
        "{required}, high limit {high}.",
        unit=unit, low=low, plate=plate, present=present, required=required, high=high,
    )  # fmt: skip


def pointer_gauge(gauge: PointerGauge, say: Texts = IN_ENGLISH) -> dict[str, Any] | None:
    """Return what the template draws of a pointer gauge; None where its length is unknown."""
    if gauge.scale_length <= 0.0:
        return None
    top_first = gauge.zero_at_top is not False
    axis = _Axis(0.0, gauge.scale_length)

    def at(value: float) -> float:
        place = axis(value)
        return place if top_first else SCALE_WIDTH - place

    marks = _gauge_marks(gauge, at, say)
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
        "left": _end(say("top\u00a0stop"), ends[0], gauge, say),
        "right": _end(say("bottom\u00a0stop"), ends[1], gauge, say),
        "words": gauge_words(gauge, say),
        "told": gauge_words(gauge, say),
    }


def _length(value: float | None, gauge: PointerGauge) -> str:
    return amount(value, gauge.length_unit, Kind.LENGTH)


def _end(name: str, number: str, gauge: PointerGauge, say: Texts) -> str:
    if gauge.zero_at_top is None:
        return say("end\u00a0marked {number}", number=number)
    return f"{name} {number}"


def _gauge_marks(gauge: PointerGauge, at: Any, say: Texts) -> list[Mark]:
    last_cold = say("last cold {day}", day=gauge.last_cold_date).rstrip()
    last_hot = say("last hot {day}", day=gauge.last_hot_date).rstrip()
    listed = (
        ("mark", say("COLD"), gauge.cold_mark),
        ("mark", say("HOT"), gauge.hot_mark),
        ("present", last_cold, gauge.last_cold),
        ("present", last_hot, gauge.last_hot),
        ("required", say(gauge.expected_name), gauge.expected),
    )
    return [
        Mark(shape, name, _length(value, gauge), at(value))
        for shape, name, value in listed
        if value is not None
    ]


def gauge_words(gauge: PointerGauge, say: Texts = IN_ENGLISH) -> str:
    """Return the line under a pointer gauge: zero end, travel and room at both ends."""
    cold, hot = gauge.cold_mark, gauge.hot_mark
    if cold is None or hot is None:
        return "  ·  ".join([_zero_words(gauge, say), say("travel not known")])
    parts = [_zero_words(gauge, say)]
    if gauge.zero_at_top is not None:
        down, moved = (hot > cold) is gauge.zero_at_top, _length(abs(hot - cold), gauge)
        parts.append(
            say("moves down {moved} when hot" if down else "moves up {moved} when hot", moved=moved)
        )
    low, high = min(cold, hot), gauge.scale_length - max(cold, hot)
    beyond_cold, beyond_hot = (low, high) if cold < hot else (high, low)
    parts.append(say("room beyond cold mark {room}", room=_length(beyond_cold, gauge)))
    parts.append(say("room beyond hot mark {room}", room=_length(beyond_hot, gauge)))
    return "  ·  ".join(parts)


def _zero_words(gauge: PointerGauge, say: Texts) -> str:
    if gauge.zero_at_top is None:
        return say("pointer scale, ZERO END NOT KNOWN: ask")
    if gauge.zero_at_top:
        return say("pointer scale, zero at the top")
    return say("pointer scale, zero at the bottom")
