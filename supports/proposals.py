"""What is to be created, changed or left: imports, bulk edits, forms and undo all speak it.

An importer turns sheets into `Record` values. `compare` holds them against what the register says
today and answers with one `Proposal` for each record; nothing is written here.
"""

from __future__ import annotations

import dataclasses
import math
from abc import abstractmethod
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from string import ascii_letters
from types import MappingProxyType
from typing import NamedTuple, overload

from supports.findings import Finding, Place

Value = float | int | str | date | list[list[float]] | None
"""An SI float, a whole number, text, a day, a table of numbers, or blank."""

Key = tuple[str, ...]
"""What names a record within its subject, e.g. ``("PS-1024", "A")`` for a unit."""


class Verb(StrEnum):
    """What a proposal does."""

    CREATE = "create"
    CHANGE = "change"
    SAME = "same"


@dataclass(frozen=True, slots=True)
class SourceCell:
    """One value exactly as found: its column, its text and the unit that was read with it."""

    column: str
    text: str
    unit: str = ""


class Cells(Mapping[str, SourceCell]):
    """The cells of one row, for which there is a quicker way to all of them than one by one."""

    __slots__ = ()

    @abstractmethod
    def written(self) -> str:
        """Return column, text and unit of every cell, by field, as JSON with its keys sorted."""


_NO_CELLS: Mapping[str, SourceCell] = MappingProxyType({})


class SourceLine(NamedTuple):
    """One row of a sheet, its used cells exactly as found, by field."""

    file: str
    sheet: str
    row: int
    cells: Mapping[str, SourceCell] = _NO_CELLS

    def place(self, field_name: str) -> Place:
        """Return where the value of a field stands."""
        cell = self.cells.get(field_name)
        return Place(self.file, self.sheet, f"{cell.column}{self.row}" if cell else f"{self.row}")


class Record(NamedTuple):
    """What a sheet says of one thing.

    Parameters
    ----------
    subject
        What sort of thing: ``line``, ``support``, ``unit``, ...
    key
        What names it within its subject.
    values
        Field: value. A blank cell gives no entry: a blank is not a zero and wipes nothing out.
    source
        Where it was read.
    """

    subject: str
    key: Key
    values: Mapping[str, Value]
    source: SourceLine


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One field that a proposal sets."""

    field: str
    before: Value
    after: Value


class AllNew(Sequence[FieldChange]):
    """The fields that a new record sets, each made only when somebody looks."""

    __slots__ = ("_values",)

    def __init__(self, values: Mapping[str, Value]) -> None:
        self._values = values

    def _set(self) -> list[str]:
        return [name for name, value in self._values.items() if value is not None]

    def __len__(self) -> int:
        return len(self._set())

    @overload
    def __getitem__(self, index: int) -> FieldChange: ...
    @overload
    def __getitem__(self, index: slice) -> Sequence[FieldChange]: ...
    def __getitem__(self, index: int | slice) -> FieldChange | Sequence[FieldChange]:
        """Return one change, or some."""
        if isinstance(index, slice):
            return [self._change(name) for name in self._set()[index]]
        return self._change(self._set()[index])

    def _change(self, name: str) -> FieldChange:
        return FieldChange(name, None, self._values[name])


class Proposal(NamedTuple):
    """What to do with one record."""

    verb: Verb
    record: Record
    changes: Sequence[FieldChange]


@dataclass(frozen=True, slots=True)
class Withheld:
    """A value that was not taken because it is not clear, exactly as found.

    Parameters
    ----------
    cell
        Its address, or the row as ``row 7`` where the row as a whole was held back.
    field
        Empty where the row as a whole was held back.
    named
        The support or line of the row.
    question
        What is not clear.
    heading
        Of its column, with the unit that holds there.
    known_by
        Cells of its row, as found, by which the row is known again in a mended copy.
    """

    file: str
    sheet: str
    cell: str
    subject: str
    field: str
    named: str
    text: str
    code: str
    question: str
    heading: str = ""
    known_by: Mapping[str, str] = dataclasses.field(default_factory=dict)

    @property
    def column(self) -> str:
        """Return the letters of its column; empty for a row."""
        return "" if self.cell.startswith("row ") else self.cell.rstrip("0123456789")

    @property
    def row(self) -> int:
        """Return the number of its row, counted from 1."""
        return int(self.cell.lstrip(ascii_letters + " "))


ROW = "row"
"""Stands for the number of a row among the cells that it is known by."""


def row_held_back(
    record: Record, named: str, why: Finding, known_by: Mapping[str, str]
) -> Withheld:
    """Return a whole row that waits for an answer, as found.

    Parameters
    ----------
    named
        The support or line of the row.
    known_by
        The cells that it is known by in a mended copy.
    """
    source = record.source
    return Withheld(
        source.file,
        source.sheet,
        f"row {source.row}",
        record.subject,
        "",
        named,
        " | ".join(cell.text for cell in source.cells.values()),
        why.code,
        why.what,
        known_by=known_by,
    )


Name = tuple[str, Key]
"""Subject and key."""


@dataclass(slots=True)
class Today:
    """The register in the words of the sheets, with the ids of the rows behind each record.

    Parameters
    ----------
    head
        Of the chain of writes when it was read; empty where nobody asked.
    """

    values: dict[Name, Mapping[str, Value]] = dataclasses.field(default_factory=dict)
    ids: dict[Name, Mapping[str, int]] = dataclasses.field(default_factory=dict)
    head: str = ""

    def put(self, name: Name, values: Mapping[str, Value], ids: Mapping[str, int]) -> None:
        """Enter one record."""
        self.values[name] = {k: v for k, v in values.items() if v is not None}
        self.ids[name] = ids

    def id_of(self, subject: str, key: Key, table: str) -> int | None:
        """Return the id of the row in `table` behind a record."""
        return self.ids.get((subject, key), {}).get(table)

    def copied(self) -> Today:
        """Return the same, to be written to."""
        return Today({**self.values}, {**self.ids}, self.head)


@dataclass(frozen=True, slots=True)
class Plan:
    """All proposals of one request with the findings met on the way.

    Parameters
    ----------
    withheld
        What was not taken: it waits for an answer if the good is stored without it.
    against
        What the register said of all records when they were held against it, if that is kept.
    """

    proposals: tuple[Proposal, ...]
    findings: tuple[Finding, ...] = ()
    withheld: tuple[Withheld, ...] = ()
    against: Today | None = dataclasses.field(default=None, compare=False, repr=False)

    def count(self, verb: Verb, subject: str | None = None) -> int:
        """Count the proposals of a verb, of one subject or of all."""
        return sum(p.verb is verb and subject in (None, p.record.subject) for p in self.proposals)

    @property
    def subjects(self) -> tuple[str, ...]:
        """Return the subjects spoken of, in the order met."""
        return tuple(dict.fromkeys(p.record.subject for p in self.proposals))

    @property
    def changes_nothing(self) -> bool:
        """Return whether applying would write nothing."""
        return all(p.verb is Verb.SAME for p in self.proposals)


@dataclass(frozen=True, slots=True)
class Owner:
    """What must be there before a record can be stored, and where the record names it.

    Parameters
    ----------
    subject
        Of the owner.
    places
        Parts of the record's key that are the owner's; () where one of its fields is.
    field
        The field that names the owner, where a fault is shown.
    """

    subject: str
    places: tuple[int, ...]
    field: str

    def key_of(self, record: Record) -> Key:
        """Return the owner's key as a record gives it."""
        if self.places:
            key = record.key
            if len(key) == len(self.places):  # all of it, as places stand in their order
                return key
            return tuple(key[at] for at in self.places)
        return (str(record.values[self.field]),)


BELONGS_TO: Mapping[str, tuple[Owner, ...]] = {
    "support": (Owner("line", (), "line"),),
    "attachment": (Owner("support", (0,), "tag"), Owner("line", (1,), "line")),
    "unit": (Owner("support", (0,), "tag"),),
    "nameplate": (Owner("unit", (0, 1), "tag"),),
    "hardware": (Owner("support", (0,), "tag"),),
    "required load": (
        Owner("calculation", (0, 1), "calculation"),
        Owner("support", (2,), "tag"),
        Owner("line", (3,), "line"),
    ),
    "nozzle limit": (Owner("line", (0,), "line"),),
    "setting": (Owner("unit", (0, 1), "tag"),),
    "reading": (Owner("unit", (0, 1), "tag"),),
    "line node": (Owner("line", (0,), "line"),),
    "line element": (Owner("line", (0,), "line"),),
    "line end": (Owner("line", (0,), "line"),),
}
"""By subject, what must be there before something of it can be stored."""


_BY_KEY = {subject for subject, owners in BELONGS_TO.items() if all(one.places for one in owners)}
"""Subjects whose records name all their owners in their key."""


def owners_of(record: Record) -> tuple[Owner, ...]:
    """Return what a record belongs to; a support that names no line belongs to none."""
    owners = BELONGS_TO.get(record.subject, ())
    if record.subject in _BY_KEY:
        return owners
    return tuple(one for one in owners if one.places or record.values.get(one.field))


Existing = Mapping[tuple[str, Key], Mapping[str, Value]]
"""What the register says today, by subject and key."""


def compare(records: Iterable[Record], existing: Existing) -> tuple[Proposal, ...]:
    """Hold records against the register; later records see what earlier ones propose."""
    seen: dict[tuple[str, Key], Mapping[str, Value]] = {}
    return tuple(_proposal(record, existing, seen) for record in records)


def _proposal(
    record: Record, existing: Existing, seen: dict[tuple[str, Key], Mapping[str, Value]]
) -> Proposal:
    name = (record.subject, record.key)
    today = seen.get(name) or existing.get(name)
    if today is None:
        seen[name] = record.values
        return Proposal(Verb.CREATE, record, AllNew(record.values))
    changes = differences(record.values, today)
    seen[name] = {**today, **record.values}
    return Proposal(Verb.CHANGE if changes else Verb.SAME, record, changes)


def differences(wanted: Mapping[str, Value], today: Mapping[str, Value]) -> tuple[FieldChange, ...]:
    """Return the fields whose wanted value differs from today's."""
    return tuple(
        FieldChange(name, today.get(name), value)
        for name, value in wanted.items()
        if not alike(value, today.get(name))
    )


def alike(one: Value, other: Value) -> bool:
    """Return whether two values are the same; floats may differ in their last digits."""
    if isinstance(one, float) and isinstance(other, float | int):
        return math.isclose(one, other, rel_tol=1e-12, abs_tol=0.0)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(
            alike(a, b) for x, y in zip(one, other, strict=True) for a, b in _pairs(x, y)
        )
    return one == other


def _pairs(one: Sequence[Value], other: Sequence[Value]) -> list[tuple[Value, Value]]:
    return list(zip(one, other, strict=True)) if len(one) == len(other) else [(0, 1)]
