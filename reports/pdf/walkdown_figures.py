"""Figures of a walkdown package: the line drawn straight, and each floor's plan by its grid."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from reports.contents.walkdown_package import (
    arrow,
    expected_load,
    expected_pointer,
    scale_unit,
)
from reports.contents.written import amount, cut, load
from reports.languages import IN_ENGLISH, Texts
from supports.rules.walkdown.form import FormRow
from supports.rules.walkdown.route import NO_FLOOR, NO_ROW, row_and_bay
from supports.tags import natural_key
from supports.units import Kind
from supports.vocabulary import SupportKind

ABREAST = 8
"""Supports side by side on a line sheet."""
PLAN_WIDTH, PLAN_MARGIN = 176.0, 20.0
"""Width of a plan, and the room at its left for the names of rows [mm]."""
NEAREST = 7.0
"""Dots nearer than this are drawn as one [mm]."""

LETTERS = {
    SupportKind.CONSTANT_HANGER: ("square", "C"),
    SupportKind.CONSTANT_REST: ("square", "C"),
    SupportKind.VARIABLE_HANGER: ("circle", "V"),
    SupportKind.VARIABLE_REST: ("circle", "V"),
    SupportKind.RIGID_ROD: ("rod", "R"),
    SupportKind.RIGID_STRUT: ("rod", "R"),
    SupportKind.REST: ("rest", ""),
    SupportKind.ROLLER: ("rest", ""),
    SupportKind.DUMMY_LEG: ("rest", ""),
    SupportKind.ANCHOR: ("block", ""),
    SupportKind.GUIDE: ("guide", ""),
    SupportKind.LINE_STOP: ("guide", ""),
    SupportKind.SHOCK_ARRESTOR: ("diamond", "A"),
    SupportKind.SWAY_BRACE: ("diamond", "B"),
}
"""Symbols by shape and letter; what has none is drawn as an empty square with a question mark."""


def line_strips(rows: Sequence[FormRow], say: Texts = IN_ENGLISH) -> list[dict[str, Any]]:
    """Return a line drawn straight, in its own order, cut into strips."""
    along = sorted(rows, key=lambda row: (row.order_on_line is None, row.order_on_line or 0))
    blocks = [along[start : start + ABREAST] for start in range(0, len(along), ABREAST)]
    return [_strip(block, say) for block in blocks]


def _strip(rows: Sequence[FormRow], say: Texts) -> dict[str, Any]:
    told = ", ".join(f"{row.order} {row.tag} {row.kind}" for row in rows)
    return {
        "told": say("Line drawn straight: {told}.", told=told),
        "supports": [_symbol(row, say) for row in rows],
    }


def _symbol(row: FormRow, say: Texts) -> dict[str, Any]:
    shape, letter = LETTERS.get(row.kind, ("square", "?"))
    facts = []
    if row.kind.is_spring:
        unit = scale_unit(row)
        nominal = row.plate.nameplate_load or row.plate.hot_load
        facts = [
            ["plate", load(nominal, unit)],
            ["set", load(row.setting, unit)],
            [say("expect"), expected_pointer(row, say) or expected_load(row, say)],
        ]
    return {
        "order": str(row.order),
        "tag": cut(row.tag, 16),
        "kind": str(row.kind),
        "shape": shape,
        "letter": letter,
        "changed": row.changed,
        "finding": bool(row.findings),
        "stop": bool(row.stops_in),
        "distance": "" if row.distance is None else amount(row.distance, "m", Kind.LENGTH, 1),
        "moves": arrow(row, say) if row.kind.is_spring else "",
        "facts": facts,
    }


def floor_plans(rows: Sequence[FormRow], say: Texts = IN_ENGLISH) -> list[dict[str, Any]]:
    """Return one plan for each floor in walking order: rows as lines, supports as numbered dots."""
    floors: dict[str, list[FormRow]] = {}
    for row in rows:
        floors.setdefault(row.floor or NO_FLOOR, []).append(row)
    return [_plan(floor, held, say) for floor, held in floors.items()]


def _plan(floor: str, rows: Sequence[FormRow], say: Texts) -> dict[str, Any]:
    bays = [_bay(row) for row in rows]
    known = [bay for bay in bays if bay is not None]
    low, high = min(known, default=0.0), max(known, default=1.0)
    stretch = (PLAN_WIDTH - PLAN_MARGIN - 12.0) / max(high - low, 1.0)
    lines: dict[str, list[tuple[float, int]]] = {}
    for row, bay in zip(rows, bays, strict=True):
        x = PLAN_MARGIN + 6.0 + ((low if bay is None else bay) - low) * stretch
        lines.setdefault(row_and_bay(row.grid)[0] or NO_ROW, []).append((x, row.order))
    return {
        "floor": floor,
        "width": PLAN_WIDTH,
        "count": len(rows),
        "bays": [say("bay {low}", low=f"{low:g}"), say("bay {high}", high=f"{high:g}")]
        if known
        else [],
        "rows": [
            {"name": name, "dots": _dots(lines[name])} for name in sorted(lines, key=natural_key)
        ],
    }


def _bay(row: FormRow) -> float | None:
    digits = re.search(r"\d+", row_and_bay(row.grid)[1])
    return float(digits[0]) if digits else None


def _dots(places: list[tuple[float, int]]) -> list[dict[str, Any]]:
    """Return dots from left to right; those too near to each other share one."""
    dots: list[tuple[float, list[int]]] = []
    for x, order in sorted(places):
        if dots and x - dots[-1][0] < NEAREST:
            dots[-1][1].append(order)
        else:
            dots.append((x, [order]))
    return [{"x": round(x, 2), "label": _runs(sorted(orders))} for x, orders in dots]


def _runs(orders: list[int]) -> str:
    """Write numbers with their runs drawn together: '3–5, 9'."""
    runs: list[list[int]] = []
    for one in orders:
        if runs and one == runs[-1][-1] + 1:
            runs[-1].append(one)
        else:
            runs.append([one])
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)
