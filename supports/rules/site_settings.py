"""Every limit is a setting of the site, with its unit, its source and its trust mark."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import cache
from importlib.resources import files

from supports.errors import NotFound
from supports.units import Kind, to_si

_KINDS = {"%": Kind.FRACTION, "mm": Kind.LENGTH, "°": Kind.ANGLE, "kN": Kind.LOAD}


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
        return _KINDS[self.unit]

    @property
    def si(self) -> float:
        """Return the proposed value in SI."""
        return to_si(float(self.default), self.unit, self.kind)


@dataclass(frozen=True, slots=True)
class SiteSettings:
    """The limits in force, in SI: shares [1], lengths [m], angles [rad], loads [N]."""

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

    def with_values(self, values: Mapping[str, float]) -> SiteSettings:
        """Return the settings with some values replaced.

        Raises
        ------
        NotFound
            A name is not that of a setting.
        """
        names = {item.name for item in fields(self)}
        if strange := sorted(set(values) - names):
            raise NotFound("no such site setting", found=", ".join(strange))
        return replace(self, **dict(values))


@cache
def limits() -> dict[str, Limit]:
    """Return all limits as proposed, by name."""
    text = (files("supports") / "data" / "site_settings.csv").read_text(encoding="utf-8")
    return {row["name"]: Limit(**row) for row in csv.DictReader(text.splitlines())}


@cache
def proposed_settings() -> SiteSettings:
    """Return the proposed limits; the site must confirm each against its own procedures."""
    return SiteSettings(**{name: limit.si for name, limit in limits().items()})
