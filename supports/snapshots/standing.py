"""What of the plant is open: changes, work at units, walks."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class OpenChange:
    """A change that is not at its end: since when, at what state, and on whose word it waits."""

    number: str
    title: str
    state: str
    since: date
    waits_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WorkDone:
    """Units of work orders that live: settled and to do; man-hours where somebody gave them."""

    done: int = 0
    to_do: int = 0
    man_hours: float = 0.0
    orders_without_hours: int = 0


@dataclass(frozen=True, slots=True)
class Walked:
    """One walkdown campaign: when, how many rows, how many findings."""

    number: str
    walk_on: date
    rows: int
    findings: int
