"""Every limit is a setting of the site, with its unit, its source and its trust mark."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import cache
from importlib.resources import files

from supports.errors import NotFound
from supports.sentences import Sentence, either, joined
from supports.tags import suggestions
from supports.units import Kind, shown, to_si

_KINDS = {
    "%": Kind.FRACTION,
    "mm": Kind.LENGTH,
    "°": Kind.ANGLE,
    "kN": Kind.LOAD,
    "K": Kind.TEMPERATURE_DIFFERENCE,
    "°C": Kind.TEMPERATURE,
}
_COUNTED = {"days", "hours", "minutes", "times", "flats", "people"}
"""Units of settings that are counted, not measured; they are kept as they are written."""

_DECIMALS = {"°": 2, "mm": 1, "kN": 2, "%": 1, "K": 0, "°C": 0}


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit as proposed: its value as written, what it means, and whether to trust it."""

    name: str
    default: str
    unit: str
    meaning: str
    source: str
    trust: str

    @property
    def kind(self) -> Kind:
        """Return the kind of quantity."""
        return Kind.COUNT if self.unit in _COUNTED else _KINDS[self.unit]

    @property
    def si(self) -> float:
        """Return the proposed value in SI."""
        return self.to_si(float(self.default))

    def to_si(self, value: float) -> float:
        """Return a value in the limit's own unit in SI."""
        return value if self.unit in _COUNTED else to_si(value, self.unit, self.kind)

    def shown(self, si: float) -> str:
        """Return an SI value in the limit's own unit, with that unit."""
        if self.unit in _COUNTED:
            return f"{si:g} {self.unit}"
        return shown(si, self.unit, self.kind, _DECIMALS[self.unit])


@dataclass(frozen=True, slots=True)
class ProfileValue:
    """One value of a profile: its value as written, its source, how far that was confirmed."""

    profile: str
    name: str
    value: str
    source: str
    trust: str


@dataclass(frozen=True, slots=True)
class SiteSettings:
    """The limits in force, in SI: shares [1], lengths [m], angles [rad], loads [N], days, hours."""

    tolerance: float
    variable_tolerance: float
    band: float
    range_end_share: float
    travel_extra_least: float
    travel_extra_share: float
    end_room_least: float
    variability: float
    variability_near_nozzle: float
    swing: float
    case_spread: float
    step_disagreement: float
    thread_margin: float
    closure: float
    civil_share: float
    civil_load: float
    rigid_unloading_share: float
    difference_noted: float
    field_range: float
    end_room_share: float
    stop_touch: float
    pointer_difference: float
    pointer_difference_share: float
    movement_least: float
    movement_share: float
    neighbours: float
    swing_difference: float
    lean: float
    gap_margin: float
    shoe_margin: float
    reading_error: float
    variable_reading_error: float
    data_difference: float
    rate_difference: float
    drift_pointer: float
    drift_load: float
    trend_readings: float
    re_sets: float
    temporary_notice: float
    emergency_hours: float
    pair_days: float
    walk_interval_a: float
    walk_interval_b: float
    walk_interval_c: float
    walk_after_change: float
    contact_gap: float
    temperature_share: float
    ambient: float
    state_temperature: float
    tag_change_notice: float
    mixed_sign_share: float
    weld_rise: float
    plan_step: float
    plan_crew: float
    plan_visit: float
    plan_turn: float
    scaffold_group: float
    scaffold_metre: float
    reach: float
    minutes_each: float
    minutes_high: float
    close_use: float
    plan_replace: float
    plan_add: float
    plan_friction: float = 1.0

    def with_values(self, values: Mapping[str, float]) -> SiteSettings:
        """Return the settings with some values replaced.

        Raises
        ------
        NotFound
            A name is not that of a setting.
        """
        names = {item.name for item in fields(self)}
        if strange := sorted(set(values) - names):
            raise NotFound("no such site setting", found=joined(strange, ", "))
        return replace(self, **dict(values))


@cache
def limits() -> dict[str, Limit]:
    """Return all limits as proposed, by name."""
    return {row["name"]: Limit(**row) for row in _rows("site_settings.csv")}


def limit_of(name: str) -> Limit:
    """Return one limit as proposed.

    Raises
    ------
    NotFound
        There is no setting of that name.
    """
    if name not in limits():
        near = suggestions(name, limits())
        raise NotFound(
            Sentence("'{name}' is not a site setting", name=name),
            remedy=Sentence("Did you mean {near}?", near=either(near))
            if near
            else "See: supports settings list",
        )
    return limits()[name]


@cache
def profiles() -> dict[str, tuple[ProfileValue, ...]]:
    """Return the profiles that a site may start from, by name."""
    found: dict[str, tuple[ProfileValue, ...]] = {}
    for row in _rows("setting_profiles.csv"):
        value = ProfileValue(**row)
        found[value.profile] = (*found.get(value.profile, ()), value)
    return found


def profile_of(name: str) -> tuple[ProfileValue, ...]:
    """Return the values of a profile.

    Raises
    ------
    NotFound
        There is no profile of that name.
    """
    if name not in profiles():
        raise NotFound(
            Sentence("there is no profile '{name}'", name=name),
            remedy=Sentence("Choose one of: {names}", names=joined(profiles(), ", ")),
        )
    return profiles()[name]


@cache
def proposed_settings() -> SiteSettings:
    """Return the proposed limits; the site must confirm each against its own procedures."""
    return SiteSettings(**{name: limit.si for name, limit in limits().items()})


def settings_as_frozen(values: Mapping[str, float]) -> SiteSettings:
    """Return the settings that were frozen with something; those that came later as proposed."""
    return proposed_settings().with_values(values)


def _rows(name: str) -> list[dict[str, str]]:
    text = (files("supports") / "data" / name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))
