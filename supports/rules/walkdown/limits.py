"""The limits of walkdowns as settings of the site, each with its source and its trust mark."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import cache
from importlib.resources import files

from supports.errors import NotFound
from supports.units import Kind, to_si

_KINDS = {"%": Kind.FRACTION, "mm": Kind.LENGTH, "m": Kind.LENGTH, "°": Kind.ANGLE}
SCOPE = "walkdown"
"""Under this scope the site lays down its own figures."""


@dataclass(frozen=True, slots=True)
class WalkLimit:
    """One limit as proposed."""

    name: str
    default: str
    unit: str
    meaning: str
    source: str
    trust: str

    @property
    def value(self) -> float:
        """Return the proposed value: SI, or days, months, minutes and readings as counted."""
        if self.unit == "°C":
            return to_si(float(self.default), self.unit, Kind.TEMPERATURE)
        kind = _KINDS.get(self.unit)
        return to_si(float(self.default), self.unit, kind) if kind else float(self.default)

    @property
    def named(self) -> str:
        """Return where the limit is from and how far it may be trusted."""
        return (
            f"site setting {self.name} = {self.default} {self.unit} ({self.source}; {self.trust})"
        )


@dataclass(frozen=True, slots=True)
class WalkLimits:
    """The limits in force: shares [1], lengths [m], angles [rad], temperatures [K]."""

    pointer_off_least: float
    pointer_off_share: float
    at_the_stop: float
    end_room_least: float
    end_room_share: float
    little_movement: float
    reading_error: float
    variable_reading_error: float
    drift_pointer: float
    drift_load: float
    trend_readings: float
    lean: float
    contact_gap: float
    temperature_share: float
    ambient: float
    pair_days: float
    hot_walk_days: float
    interval_a: float
    interval_b: float
    interval_other: float
    minutes_each: float
    minutes_high: float
    reach: float

    def with_values(self, values: Mapping[str, float]) -> WalkLimits:
        """Return the limits with some values replaced.

        Raises
        ------
        NotFound
            A name is not that of a limit.
        """
        names = {item.name for item in fields(self)}
        if strange := sorted(set(values) - names):
            raise NotFound("no such limit of walkdowns", found=", ".join(strange))
        return replace(self, **dict(values))

    def interval(self, criticality: str) -> float:
        """Return the months between walks for a class."""
        return {"A": self.interval_a, "B": self.interval_b}.get(criticality, self.interval_other)


@cache
def walk_limits() -> dict[str, WalkLimit]:
    """Return all limits as proposed, by name."""
    text = (files("supports") / "data" / "walkdown_limits.csv").read_text(encoding="utf-8")
    return {row["name"]: WalkLimit(**row) for row in csv.DictReader(text.splitlines())}


@cache
def proposed_walk_limits() -> WalkLimits:
    """Return the proposed limits; the site must confirm each against its own procedures."""
    return WalkLimits(**{name: limit.value for name, limit in walk_limits().items()})


def source_of(name: str) -> str:
    """Return a limit's source, for the answers of rules."""
    return walk_limits()[name].named
