"""Views as JSON: field by field, every number with its SI unit in the key."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from typing import Any

from supports.plant_time import in_utc

UNITS: dict[str, dict[str, tuple[str, ...]]] = {
    "SupportView": {
        "m": ("elevation", "height_above_floor", "arm_a", "arm_b", "rod_length", "rod_offset"),
        "kg": ("beam_mass",),
    },
    "NameplateView": {
        "N": ("nameplate_load", "range_low", "range_high", "stop_rating", "working_low",
              "working_high", "hot_load", "cold_load"),
        "m": ("bolt_pitch", "free_to_increase", "free_to_decrease", "total_travel",
              "design_travel", "cold_mark", "hot_mark", "movement", "thread_pitch"),
        "kg": ("own_mass",),
        "N_per_m": ("rate",),
        "N_per_turn": ("load_per_turn",),
        "N_N_N_per_turn": ("load_per_turn_table",),
        "share": ("deviation",),
    },
    "SettingView": {"N": ("load",)},
    "ReadingView": {"N": ("scale_load",), "m": ("pointer",)},
    "PieceView": {
        "N": ("rated_load",), "m": ("length", "adjustment_left"), "kg": ("mass",),
        "share": ("derating",),
    },
    "PropIn": {"m": ("along",)},
    "AttachmentView": {"m": ("distance_along", "arm"), "of_one": ("share",)},
    "RequiredView": {"N": ("load",), "m": ("movement_up", "movement_east", "movement_north")},
    "WorkOrderLineView": {"N": ("from_load", "to_load", "window_low", "window_high")},
    "WorkOrderView": {"h": ("hours", "scaffold_hours")},
    "SupportThrough": {
        "N": ("before", "added", "planned", "setting_change", "calculation"),
        "m": ("sink", "planned_rise"),
    },
    "Compared": {"N": ("ours", "theirs")},
    "LineChecked": {"of_one": ("closure", "worst_use")},
    "PlanWish": {"of_one": ("friction_share",)},
    "PlanContent": {"of_one": ("friction_share",)},
    "UseSaid": {"of_one": ("share",)},
    "UnitTurn": {
        "N": ("setting_before", "setting_after", "scale_before", "scale_after", "window_low",
              "window_high", "required"),
        "of_one": ("range_use",),
    },
    "StepSaid": {"N": ("scale", "low", "high")},
    "ReadingSaid": {"N": ("scale", "low", "high"), "m": ("moved", "pointer")},
    "NozzleUseSaid": {"of_one": ("use",)},
    "HoldSaid": {"m": ("level",), "N": ("force",)},
    "CostSaid": {"h": ("crew_hours", "man_hours", "scaffold_hours"), "turns": ("turns",)},
    "Shifted": {"N": ("by",)},
    "Reason": {"h": ("hours",)},
    "Where": {"m": ("height",)},
    "Scope": {"h": ("scaffold_hours",)},
}  # fmt: skip
"""SI unit of the numbers of each view, as it stands at the end of the key in JSON."""

UNIT_BESIDE = {
    "Found": ("measure",),
    "GoalReached": ("value", "bound"),
    "PlanOnRecord": ("assumed",),
    "LimitNow": ("value_si",),
    "NumberNow": ("value",),
    "LaidDown": ("value",),
    "ValueChecked": ("published", "here", "difference", "allowed"),
    "ColumnProposal": ("score",),
    "Material": ("quantity",),
}
"""Numbers whose unit differs from row to row; the field beside it, or the name, says which."""

_KEYS = {
    (view, name): f"{name}_{unit}"
    for view, units in UNITS.items()
    for unit, names in units.items()
    for name in names
}


def key_of(view: str, name: str) -> str:
    """Return the key under which a field of a view stands in JSON.

    >>> key_of("SettingView", "load"), key_of("SupportView", "tag")
    ('load_N', 'tag')
    """
    return _KEYS.get((view, name), name)


def plain(value: Any) -> Any:
    """Return a view as data that JSON can hold; unknown, and what is no number, is null.

    >>> from datetime import date, datetime, UTC
    >>> plain((1.5, float("nan"), date(2031, 5, 4), datetime(2031, 5, 4, 8, tzinfo=UTC)))
    [1.5, None, '2031-05-04', '2031-05-04T08:00:00Z']
    """
    if is_dataclass(value):
        view = type(value).__name__
        return {key_of(view, one.name): plain(getattr(value, one.name)) for one in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, set | frozenset):
        return sorted(plain(item) for item in value)
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    return _single(value)


def _single(value: Any) -> Any:
    if isinstance(value, Enum):
        return str(value)
    if isinstance(value, float):
        return value + 0.0 if math.isfinite(value) else None
    if isinstance(value, datetime):  # without a zone it is UTC, as the register keeps it
        return f"{in_utc(value).replace(tzinfo=None).isoformat()}Z"
    return value.isoformat() if isinstance(value, date) else value
