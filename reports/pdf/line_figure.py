"""The line drawn straight: each support with its load before, its load after, and its room."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reports.contents.load_change_summary import SupportRow
from reports.contents.written import NOT_KNOWN, amount, cut, has_setting, load, span
from reports.languages import IN_ENGLISH, Texts
from supports.units import Kind

FIGURE_WIDTH = 244.0
"""Width of the figure on both sheet sizes, landscape [mm]."""
TALLEST, TALLEST_OF_SEVERAL = 62.0, 28.0
"""Height of the largest load of the line [mm], on one figure and where several share a page."""
LONGEST_TAG = 22
"""Signs of a tag under the figure; the support table below holds it whole."""
ABREAST = 10
"""Supports that fit side by side."""


def line_figures(rows: Sequence[SupportRow], say: Texts = IN_ENGLISH) -> list[dict[str, Any]]:
    """Return one figure for each stretch of the line; all share one scale of load."""
    top = _largest(rows)
    blocks = [rows[start : start + ABREAST] for start in range(0, len(rows), ABREAST)]
    tallest = TALLEST if len(blocks) == 1 else TALLEST_OF_SEVERAL
    return [_figure(block, tallest, tallest / top if top else 0.0, say) for block in blocks]


def _largest(rows: Sequence[SupportRow]) -> float:
    loads = (value for row in rows for value in (row.present, row.required, row.high))
    return max((value for value in loads if value is not None), default=0.0)


def _figure(
    rows: Sequence[SupportRow], tallest: float, stretch: float, say: Texts
) -> dict[str, Any]:
    step = min(FIGURE_WIDTH / len(rows), 34.0)
    return {
        "width": round(step * len(rows), 3),
        "step": round(step, 3),
        "tallest": tallest,
        "told": " ".join((say("Line drawn straight."), *(_told(row, say) for row in rows))),
        "supports": [_support(row, stretch, say) for row in rows],
    }


def _support(row: SupportRow, stretch: float, say: Texts) -> dict[str, Any]:
    return {
        "tag": cut(row.tag, LONGEST_TAG),
        "verdict": str(row.verdict),
        "distance": "" if row.distance is None else amount(row.distance, "m", Kind.LENGTH, 1),
        "present": row.present_words,
        "required": load(row.required, row.load_unit),
        "room": span(row.low, row.high, row.load_unit)
        if _has_room(row)
        else say("no limits known"),
        "present_height": _height(row.present, stretch),
        "required_height": _height(row.required, stretch),
        "low_height": _height(row.low, stretch),
        "high_height": _height(row.high, stretch),
    }


def _has_room(row: SupportRow) -> bool:
    return row.low is not None and row.high is not None


def _height(value: float | None, stretch: float) -> float | None:
    """Return a bar's height [mm]; an uplift is drawn below the line by a negative height."""
    return None if value is None else round(value * stretch, 3)


def _told(row: SupportRow, say: Texts) -> str:
    required = load(row.required, row.load_unit)
    room = span(row.low, row.high, row.load_unit)
    limits = "" if room == NOT_KNOWN else ", " + say("limits {room}", room=room)
    unset = row.present is None and not has_setting(row.kind)
    return say(
        "{tag}: required {required}{limits}, {verdict}."
        if unset
        else "{tag}: present {present}, required {required}{limits}, {verdict}.",
        tag=row.tag,
        present=row.present_words,
        required=required,
        limits=limits,
        verdict=say.word(str(row.verdict)),
    )
