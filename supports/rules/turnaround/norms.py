"""How long work takes: norms that the site sets, with what is proposed until it does."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import cache
from importlib.resources import files

from supports.errors import NotFound
from supports.sentences import Sentence, joined


@dataclass(frozen=True, slots=True)
class Norm:
    """One norm as proposed, in its own unit."""

    name: str
    default: str
    unit: str
    meaning: str
    source: str
    trust: str


@dataclass(frozen=True, slots=True)
class Norms:
    """The norms in force, each in its own unit: people, h, m or %."""

    re_set_crew: float
    re_set_hours: float
    take_up_crew: float
    take_up_hours: float
    replace_crew: float
    replace_hours: float
    mend_crew: float
    mend_hours: float
    read_crew: float
    read_hours: float
    scaffold_from: float
    scaffold_fixed: float
    scaffold_per_metre: float
    scaffold_crew: float
    scaffold_down: float
    inspection_hours: float
    presence_hours: float
    growth: float

    def with_values(self, values: Mapping[str, float]) -> Norms:
        """Return the norms with some replaced."""
        return replace(self, **{norm_of(name).name: value for name, value in values.items()})

    def of(self, work: str) -> tuple[int, float]:
        """Return people and hours for one kind of work, by the first part of its norms' names."""
        return round(getattr(self, f"{work}_crew")), float(getattr(self, f"{work}_hours"))

    def scaffold(self, height: float) -> float:
        """Return the man-hours [h] of a scaffold of a height [m], both ways."""
        return self.scaffold_fixed + self.scaffold_per_metre * height


@cache
def norms() -> dict[str, Norm]:
    """Return all norms as proposed, by name."""
    text = (files("supports") / "data" / "turnaround_norms.csv").read_text(encoding="utf-8")
    return {row["name"]: Norm(**row) for row in csv.DictReader(text.splitlines())}


def norm_of(name: str) -> Norm:
    """Return a norm by its name.

    Raises
    ------
    NotFound
        There is none of that name.
    """
    if name not in norms():
        raise NotFound(
            Sentence("there is no norm '{name}'", name=name),
            expected=Sentence("one of {names}", names=joined(norms())),
        )
    return norms()[name]


@cache
def proposed_norms() -> Norms:
    """Return the proposed norms; they are guesses until the site sets its own."""
    return Norms(**{item.name: float(norms()[item.name].default) for item in fields(Norms)})
