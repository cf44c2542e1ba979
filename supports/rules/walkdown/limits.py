"""The limits of walkdowns: settings of the site like all others, under the names a walk uses."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from supports.rules.site_settings import SiteSettings, limit_of, proposed_settings

DAYS_IN_A_MONTH = 365.25 / 12.0

SETTINGS = {
    "pointer_off_least": "pointer_difference",
    "pointer_off_share": "pointer_difference_share",
    "at_the_stop": "stop_touch",
    "end_room_least": "end_room_least",
    "end_room_share": "end_room_share",
    "little_movement": "movement_share",
    "reading_error": "reading_error",
    "variable_reading_error": "variable_reading_error",
    "drift_pointer": "drift_pointer",
    "drift_load": "drift_load",
    "trend_readings": "trend_readings",
    "lean": "lean",
    "swing_difference": "swing_difference",
    "contact_gap": "contact_gap",
    "temperature_share": "temperature_share",
    "ambient": "ambient",
    "pair_days": "pair_days",
    "hot_walk_days": "walk_after_change",
    "interval_a": "walk_interval_a",
    "interval_b": "walk_interval_b",
    "interval_other": "walk_interval_c",
    "minutes_each": "minutes_each",
    "minutes_high": "minutes_high",
    "reach": "reach",
}
"""By name of a walk's limit, the setting of the site that it is."""

_IN_MONTHS = {"interval_a", "interval_b", "interval_other"}


@dataclass(frozen=True, slots=True)
class WalkLimits:
    """The limits in force: shares [1], lengths [m], angles [rad], temperatures [K], months."""

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
    swing_difference: float
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

    def interval(self, criticality: str) -> float:
        """Return the months between walks for a class."""
        return {"A": self.interval_a, "B": self.interval_b}.get(criticality, self.interval_other)


def walk_limits(settings: SiteSettings) -> WalkLimits:
    """Return the limits of a walk out of the settings of the site."""
    values = {name: getattr(settings, setting) for name, setting in SETTINGS.items()}
    values |= {name: values[name] / DAYS_IN_A_MONTH for name in _IN_MONTHS}
    return WalkLimits(**values)


@cache
def proposed_walk_limits() -> WalkLimits:
    """Return the proposed limits; the site must confirm each against its own procedures."""
    return walk_limits(proposed_settings())


def source_of(name: str) -> str:
    """Return the setting behind a limit of a walk, where it is from and how far it is trusted."""
    limit = limit_of(SETTINGS[name])
    return (
        f"site setting {limit.name}, proposed {limit.default} {limit.unit} "
        f"({limit.source}; {limit.trust})"
    )
