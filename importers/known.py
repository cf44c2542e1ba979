"""What is known beside the sheets themselves while they are read."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from importers.declarations import DeclaredUnits
from importers.declared_before import DeclaredBefore
from importers.joining import Answer, Index
from importers.profiles import Profile
from supports.proposals import Record
from supports.tags import matching_key

Positions = Mapping[str, Collection[str]]
"""The unit positions known of each support tag."""


class AskedLate(Mapping[str, Collection[str]]):
    """Positions that are asked for when a row needs them: most files say them in every row."""

    def __init__(self, ask: Callable[[], Positions]) -> None:
        self._ask = ask

    @cached_property
    def _answer(self) -> Positions:
        return self._ask()

    def __getitem__(self, tag: str) -> Collection[str]:
        return self._answer[tag]

    def __iter__(self) -> Iterator[str]:
        return iter(self._answer)

    def __len__(self) -> int:
        return len(self._answer)


@dataclass(slots=True)
class Known:
    """What is known of supports and of this file's columns and cells; what was found on the way.

    Parameters
    ----------
    positions
        Before the file was read; `positions_at` tells those of the file as well.
    index
        By which rows without a tag find their support.
    unnamed
        What became of such rows.
    declared_before
        Units declared for values of an earlier copy of the file.
    required
        Largest load of a calculation at each support.
    """

    positions: Positions = field(default_factory=dict)
    loads: dict[str, float] = field(default_factory=dict)
    latest: date | None = None
    profiles: Mapping[str, Profile] = field(default_factory=dict)
    units: DeclaredUnits = field(default_factory=dict)
    index: Index | None = None
    unnamed: list[Answer] = field(default_factory=list)
    required: dict[str, float] = field(default_factory=dict)
    declared_before: DeclaredBefore = field(default_factory=dict)
    cleaned: set[str] = field(default_factory=set)
    """Tags of the register that names written otherwise were taken for."""
    _meant: dict[str, str] = field(default_factory=dict)
    _learned: dict[str, set[str]] = field(default_factory=lambda: defaultdict(set))

    def positions_at(self, tag: str) -> set[str]:
        """Return the unit positions known of a support by now, whatever the file calls it."""
        known = (self.positions.get(name, ()) for name in {tag, self.meant_by(tag)})
        return self._learned.get(tag, set()).union(*known)

    def meant_by(self, name: str) -> str:
        """Return the tag of the register that a name stands for; itself where that is not sure.

        Rows go there in the end, so their values are held against what is known there.
        """
        if self.index is None or name in self.index.present or _is_empty(self.index):
            return name
        if name not in self._meant:
            found = _certain(name, self.index)
            self._meant[name] = found or name
            if found:
                self.cleaned.add(found)
        return self._meant[name]

    def expected_on(self, subject: str) -> Mapping[str, float]:
        """Return the loads to expect on a sheet; cases of a calculation may differ widely."""
        return self.loads if subject == "required load" else {**self.required, **self.loads}

    def learn(self, subject: str, records: Iterable[Record]) -> None:
        """Take in what earlier sheets say of units, plates and calculations."""
        if subject == "unit":
            for record in records:
                tag, position = record.key
                self._learned[tag].add(position)
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


def _is_empty(index: Index) -> bool:
    """Return whether the register is known to have no supports."""
    return not index.known and index.others is None


def _certain(name: str, index: Index) -> str:
    """Return the one tag that a name was accepted for, that bore it, or that it cleans to."""
    if name in index.accepted:
        return index.accepted[name]
    found = {tag for _, tag in index.former.get(name, ())} or {*index.alike(name, matching_key)}
    return found.pop() if len(found) == 1 else ""
