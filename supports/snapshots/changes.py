"""Changes, what they add or take away, and who signed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class WeightItemView:
    """Something that a change adds to a line, or takes away (negative mass)."""

    line: str
    description: str
    mass: float
    along: float | None = None
    off_axis: float | None = None
    above_axis: float | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class ChangeView:
    """A change with its lines and weights."""

    id: int
    number: str
    title: str
    reason: str
    duration: str
    state: str
    aim: str
    requested_by: str
    requested_on: date
    ends_on: date | None = None
    lines: tuple[str, ...] = ()
    weights: tuple[WeightItemView, ...] = ()


@dataclass(frozen=True, slots=True)
class SignatureView:
    """Somebody signed, bound to what the thing said at that moment."""

    meaning: str
    person: str
    role: str
    signed_on: date
    fingerprint: str
    reason: str = ""
