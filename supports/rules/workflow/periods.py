"""How long things may take: periods that the site lays down, with their sources."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import cache
from importlib.resources import files

from supports.errors import NotFound
from supports.rules.site_settings import limits
from supports.sentences import Sentence, joined


@dataclass(frozen=True, slots=True)
class Period:
    """One period as proposed: hours (h), days (d) or years (a)."""

    name: str
    default: str
    unit: str
    meaning: str
    source: str
    trust: str

    @property
    def unit_words(self) -> str:
        """Return the unit as a word."""
        return {"h": "hours", "d": "days", "a": "years"}[self.unit]


@dataclass(frozen=True, slots=True)
class Periods:
    """The periods in force, each in its own unit."""

    emergency_hours: float
    temporary_longest: float
    temporary_first_warning: float
    temporary_last_warning: float
    operating_walk_days: float
    keep_years: float

    def with_values(self, values: Mapping[str, float]) -> Periods:
        """Return the periods with some replaced.

        Raises
        ------
        NotFound
            A name is not that of a period.
        """
        if strange := sorted(set(values) - {item.name for item in fields(self)}):
            raise NotFound("no such period", found=joined(strange, ", "))
        return replace(self, **dict(values))


@cache
def periods() -> dict[str, Period]:
    """Return all periods as proposed, by name."""
    text = (files("supports") / "data" / "periods.csv").read_text(encoding="utf-8")
    return {row["name"]: Period(**row) for row in csv.DictReader(text.splitlines())}


FROM_LIMITS = {"emergency_hours": "emergency_hours", "temporary_first_warning": "temporary_notice"}
"""Periods that are limits of the rules: laid down once, so that gate and rule never differ."""


def period_of(name: str) -> Period:
    """Return a period by its name.

    Raises
    ------
    NotFound
        There is none of that name.
    """
    if name in FROM_LIMITS:
        remedy = Sentence("It is a limit: supports settings set {limit}", limit=FROM_LIMITS[name])
        raise NotFound(Sentence("'{name}' is not laid down as a period", name=name), remedy=remedy)
    if name not in periods():
        raise NotFound(
            Sentence("there is no period '{name}'", name=name),
            expected=Sentence("one of {names}", names=joined(periods())),
        )
    return periods()[name]


@cache
def proposed_periods() -> Periods:
    """Return the proposed periods; the site must confirm each against its own procedures."""
    own = {name: float(period.default) for name, period in periods().items()}
    return Periods(**own, **{name: limits()[limit].si for name, limit in FROM_LIMITS.items()})
