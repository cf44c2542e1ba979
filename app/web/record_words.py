"""The record in words: kinds of entries, and values with the unit that they are stored in."""

from __future__ import annotations

import json
from collections import defaultdict
from functools import cache
from typing import Any

from importers.declared import kind_of
from importers.sheets import SHEETS
from supports.units import Kind

KINDS: dict[str, tuple[str, ...]] = {
    "supports": ("support_point", "support_tag", "assembly", "attachment", "hardware_piece"),
    "units and nameplates": ("unit", "unit_placement", "nameplate"),
    "settings": ("setting_event",),
    "readings": ("reading", "step_reading"),
    "travel stops and props": ("travel_stop_event", "prop_event"),
    "lines": (
        "line", "line_node", "line_element", "line_end", "nozzle_limit", "line_run_event",
        "line_screening", "area",
    ),
    "calculations": ("calculation", "design_case", "required_load"),
    "changes": (
        "change", "change_line", "change_need", "change_proof", "change_term", "change_meeting",
        "weight_item", "assessment", "emergency_act", "reset_plan", "plan_choice",
    ),
    "signatures": ("signature",),
    "work orders": (
        "work_order", "work_order_line", "work_order_copy", "work_order_hold",
        "work_order_material", "work_order_before", "planned_order",
    ),
    "walkdowns": (
        "campaign", "campaign_item", "campaign_step", "walk_form", "walk_form_holder",
        "walk_entry", "walk_return", "walk_choice", "walk_photo", "walk_noted", "walk_reading",
        "walk_closeout", "field_finding", "finding_step",
    ),
    "turnarounds": (
        "turnaround", "turnaround_item", "turnaround_line", "turnaround_plan",
        "turnaround_reason", "turnaround_window",
    ),
    "rules and limits": (
        "rule_run", "rule_answers", "finding_acceptance", "site_setting", "saved_question",
    ),
    "people and accounts": ("person", "person_role", "account", "api_token"),
    "documents": ("document", "point_document"),
    "sheets read in": (
        "import_run", "source_row", "sheet_profile", "declared_unit", "join_decision",
        "form_choice", "quarantined_value", "quarantine_answer",
    ),
    "refusals": ("refusal",),
}  # fmt: skip
"""What the record can be narrowed to, with the tables that each stands for."""

_SI = {
    Kind.LOAD: "N", Kind.LENGTH: "m", Kind.MASS: "kg", Kind.RATE: "N/m",
    Kind.LOAD_PER_TURN: "N/turn", Kind.MOMENT: "N·m", Kind.ROTATIONAL_STIFFNESS: "N·m/rad",
    Kind.MASS_PER_LENGTH: "kg/m", Kind.DENSITY: "kg/m³", Kind.STRESS: "Pa",
    Kind.TEMPERATURE: "K", Kind.TEMPERATURE_DIFFERENCE: "K", Kind.EXPANSION: "1/K",
    Kind.ANGLE: "rad", Kind.AREA: "m²", Kind.SECTION_MODULUS: "m³",
    Kind.SECOND_MOMENT: "m⁴",
}  # fmt: skip
LONGEST = 240
"""Signs of a value that are shown."""


@cache
def _kinds() -> dict[str, Kind]:
    """Return the kind of quantity of each field that means the same on every sheet."""
    found: dict[str, set[Kind | None]] = defaultdict(set)
    for sheet in SHEETS:
        for column in sheet.columns:
            found[column.field].add(kind_of(column))
    single = {field: next(iter(kinds)) for field, kinds in found.items() if len(kinds) == 1}
    return {field: kind for field, kind in single.items() if kind is not None}


def value_in_words(value: Any, field: str) -> str:
    """Return a value as it is stored, a number with its SI unit where the field has one."""
    if value is None:
        return ""
    if isinstance(value, float | int) and not isinstance(value, bool):
        kind = _kinds().get(field)
        symbol = _SI.get(kind, "") if kind else ""
        return f"{value:.10g} {symbol}".strip()
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    return text if len(text) <= LONGEST else f"{text[:LONGEST].rstrip()}…"


def field_in_words(field: str) -> str:
    """Return the name of a field as words.

    >>> field_in_words("load_per_turn")
    'load per turn'
    """
    return field.replace("_", " ")
