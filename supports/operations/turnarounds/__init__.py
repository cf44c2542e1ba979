"""Turnarounds: opened, their scope collected and frozen, planned."""

from supports.operations.turnarounds.collecting import (
    Collected,
    add_by_hand,
    collect_scope,
    freeze_scope,
    take_out,
)
from supports.operations.turnarounds.opening import (
    Opening,
    lay_down_norm,
    lay_down_window,
    open_turnaround,
)
from supports.operations.turnarounds.planning import plan_turnaround

__all__ = [
    "Collected",
    "Opening",
    "add_by_hand",
    "collect_scope",
    "freeze_scope",
    "lay_down_norm",
    "lay_down_window",
    "open_turnaround",
    "plan_turnaround",
    "take_out",
]
