"""What a change adds to a line and takes off it, from a sheet 'Weight items'."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path

from importers.declared import Column, Form, Sheet
from importers.reading import read
from supports.errors import InputHasFaults
from supports.proposals import Record
from supports.snapshots import WeightItemView
from supports.units import Kind


class Way(StrEnum):
    """Whether an item comes on or goes off."""

    ADDED = "added"
    REMOVED = "removed"


WEIGHT_ITEMS = Sheet(
    "Weight items",
    "weight item",
    ("line", "description"),
    (
        Column("line", "Line number", Form.NAME, ("line",), needed=True),
        Column("description", "Description", aliases=("item",), needed=True),
        Column("way", "Added or removed", Way, needed=True),
        Column("mass", "Mass", Kind.MASS, needed=True),
        Column("along", "Distance along line", Kind.LENGTH, ("distance",)),
        Column("off_axis", "Off axis", Kind.LENGTH, signed=True),
        Column("above_axis", "Above axis", Kind.LENGTH, signed=True),
        Column("source", "Source"),
    ),
)


def read_weights(path: Path) -> list[WeightItemView]:
    """Read the weight items of a change.

    Raises
    ------
    InputHasFaults
        A row has a fault; nothing is taken then.
    """
    result = read(path, (WEIGHT_ITEMS,))
    if result.forbids_storing:
        faults = [f for f in result.findings if f.forbids_storing]
        raise InputHasFaults("no weight was taken: the sheet has faults", faults)
    return list(_items(result.records))


def _items(records: tuple[Record, ...]) -> Iterator[WeightItemView]:
    for record in records:
        values = dict(record.values)
        sign = 1.0 if values["way"] == Way.ADDED else -1.0
        mass = values["mass"]
        assert isinstance(mass, float)  # noqa: S101  a needed quantity is read as an SI float
        yield WeightItemView(
            line=record.key[0],
            description=record.key[1],
            mass=sign * mass,
            along=_number(values.get("along")),
            off_axis=_number(values.get("off_axis")),
            above_axis=_number(values.get("above_axis")),
            source=str(values.get("source") or ""),
        )


def _number(value: object) -> float | None:
    return value if isinstance(value, float) else None
