"""What is known beside the sheets themselves while they are read."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from importers.declarations import DeclaredUnits
from importers.declared_before import DeclaredBefore
from importers.joining import Answer, Index
from importers.profiles import Profile
from supports.proposals import Record

Positions = Mapping[str, Collection[str]]
"""The unit positions known of each support tag."""


@dataclass(slots=True)
class Known:
    """What is known of supports and of this file's columns and cells; what was found on the way.

    Parameters
    ----------
    index
        By which rows without a tag find their support.
    unnamed
        What became of such rows.
    declared_before
        Units declared for values of an earlier copy of the file.
    required
        Largest load of a calculation at each support.
    """

    positions: dict[str, Collection[str]] = field(default_factory=dict)
    loads: dict[str, float] = field(default_factory=dict)
    latest: date | None = None
    profiles: Mapping[str, Profile] = field(default_factory=dict)
    units: DeclaredUnits = field(default_factory=dict)
    index: Index | None = None
    unnamed: list[Answer] = field(default_factory=list)
    required: dict[str, float] = field(default_factory=dict)
    declared_before: DeclaredBefore = field(default_factory=dict)

    def expected_on(self, subject: str) -> Mapping[str, float]:
        """Return the loads to expect on a sheet; cases of a calculation may differ widely."""
        return self.loads if subject == "required load" else {**self.required, **self.loads}

    def learn(self, subject: str, records: Iterable[Record]) -> None:
        """Take in what earlier sheets say of units, plates and calculations."""
        if subject == "unit":
            for record in records:
                tag, position = record.key
                self.positions[tag] = {*self.positions.get(tag, ()), position}
        if subject == "nameplate":
            for record in records:
                load = record.values.get("nameplate_load", record.values.get("hot_load"))
                if isinstance(load, float):
                    self.loads.setdefault(record.key[0], load)
        if subject == "required load":
            for record in records:
                load = record.values.get("load")
                if isinstance(load, float) and load > 0.0:
                    tag = record.key[2]
                    self.required[tag] = max(load, self.required.get(tag, 0.0))
