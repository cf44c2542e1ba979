"""What is known beside the sheets themselves while they are read."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from importers.declarations import DeclaredUnits
from importers.profiles import Profile
from supports.proposals import Record

Positions = Mapping[str, Collection[str]]
"""The unit positions known of each support tag."""


@dataclass(slots=True)
class Known:
    """Unit positions and loads to expect of each support, the last day possible, profiles."""

    positions: dict[str, set[str]] = field(default_factory=dict)
    loads: dict[str, float] = field(default_factory=dict)
    latest: date | None = None
    profiles: Mapping[str, Profile] = field(default_factory=dict)
    units: DeclaredUnits = field(default_factory=dict)

    def learn(self, subject: str, records: Iterable[Record]) -> None:
        """Take in what earlier sheets say of units and plates."""
        if subject == "unit":
            for record in records:
                self.positions.setdefault(record.key[0], set()).add(record.key[1])
        if subject == "nameplate":
            for record in records:
                load = record.values.get("nameplate_load", record.values.get("hot_load"))
                if isinstance(load, float):
                    self.loads.setdefault(record.key[0], load)
