"""Small sheets that hold one sort of dirt each, and what is to be found in them.

A table of dirt names for each cell either what refuses it, ``"two-values"``, or what is said while
it is taken, ``Taken("PS-1O24", "LOOK tag-lookalike")``, or the value [SI] that it is read as.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from importers.reading import ReadResult, read

Rows = Sequence[Sequence[Any]]


READINGS = ["Support tag", "Unit position", "Read on", "Read by"]
PLATES = ["Support tag", "Unit position", "Unit of load", "Unit of travel"]
SUPPORTS = ["Support tag", "Area"]


@dataclass(frozen=True, slots=True)
class Taken:
    """A cell that is taken although something is to be said of it."""

    value: Any
    said: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a cell of dirt stands: its sheet, the column of its field, and good cells beside it."""

    sheet: str
    heading: str
    field: str
    beside: Mapping[str, Any] = field(default_factory=dict)
    named: str = "Support tag"

    def under(self, heading: str) -> Place:
        """Return the same column under another heading."""
        return replace(self, heading=heading)


@dataclass(frozen=True, slots=True)
class Book:
    """A workbook made of rows, what is done to it besides, and what must be found, in order."""

    sheets: Mapping[str, Rows]
    found: tuple[str, ...]
    change: Callable[[Any], None] | None = None
    records: int | None = None
    says: str = ""
    saved_on: date | None = None

    def check(self, folder: Path) -> None:
        """Read the workbook and hold what is found against what must be."""
        result = self.read(folder)
        assert sorted(found_in(result)) == sorted(self.found)
        assert self.records in {None, len(result.records)}
        said = [finding.what + finding.expected for finding in result.findings]
        assert not self.says or any(self.says in words for words in said)

    def read(self, folder: Path) -> ReadResult:
        """Write the workbook and read it."""
        book = openpyxl.Workbook()
        book.remove(book.active)
        for title, rows in self.sheets.items():
            page = book.create_sheet(title)
            for row in rows:
                page.append(list(row))
        if self.change:
            self.change(book)
        book.save(folder / "plant.xlsx")
        if self.saved_on:
            save_as_on(folder / "plant.xlsx", self.saved_on)
        return read(folder / "plant.xlsx")


@dataclass(frozen=True, slots=True)
class Cells:
    """One column of a sheet, each cell with what becomes of it."""

    place: Place
    dirt: Mapping[Any, Any]

    def check(self, folder: Path) -> None:
        """Read the column and hold each cell against what must become of it."""
        result = Book({self.place.sheet: self._rows()}, ()).read(folder)
        assert sorted(found_in(result)) == sorted(
            f"{said} {self._column}{row}"
            for row, becomes in enumerate(self.dirt.values(), start=2)
            if (said := _said(becomes))
        )
        read_as = {r.source.row: self._value(r) for r in result.records}
        for row, becomes in enumerate(self.dirt.values(), start=2):
            if isinstance(becomes, str):
                assert read_as.get(row) is None
            else:
                value = becomes.value if isinstance(becomes, Taken) else becomes
                assert read_as[row] == (approx(value) if isinstance(value, float) else value)

    @property
    def _column(self) -> str:
        return "A" if self.place.field == "tag" else chr(ord("B") + len(self.place.beside))

    def _rows(self) -> list[list[Any]]:
        beside = self.place.beside
        if self.place.field == "tag":
            return [["Support tag", *beside], *([cell, *beside.values()] for cell in self.dirt)]
        rows = [[f"PS-{n}", *beside.values(), cell] for n, cell in enumerate(self.dirt, start=1)]
        return [[self.place.named, *beside, self.place.heading], *rows]

    def _value(self, record: Any) -> Any:
        return record.key[0] if self.place.field == "tag" else record.values.get(self.place.field)


def _said(becomes: Any) -> str:
    if isinstance(becomes, Taken):
        return becomes.said
    return f"STOP {becomes}" if isinstance(becomes, str) else ""


def save_as_on(path: Path, day: date) -> None:
    """Write into a workbook that it was last saved on a day."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    moment = rb"\g<1>%sT08:00:00Z" % day.isoformat().encode()
    core = re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", moment, parts["docProps/core.xml"])
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in {**parts, "docProps/core.xml": core}.items():
            archive.writestr(name, data)


def approx(value: float) -> Any:
    """Return a number that equals all that differ by rounding alone."""
    return pytest.approx(value, rel=1e-6)


def found_in(result: ReadResult) -> list[str]:
    """Return what was found as 'SEVERITY code cell'."""
    return [f"{f.severity.value} {f.code} {f.place.cell}".strip() for f in result.findings]


def read_rows(*loads: Any, day: Any = "2020-05-17") -> list[list[Any]]:
    """Return a sheet of readings, one support each."""
    rows = [[f"PS-{n}", "A", day, "N. N.", load] for n, load in enumerate(loads, start=1)]
    return [[*READINGS, "Scale load [kN]"], *rows]


def plate_rows(*loads: float, unit: str = "kN") -> list[list[Any]]:
    """Return a sheet of nameplates, one support each."""
    rows = [[f"PS-{n}", "A", unit, "mm", load] for n, load in enumerate(loads, start=1)]
    return [[*PLATES, "Nameplate load"], *rows]


def merged(sheet: str, *blocks: str) -> Any:
    """Return what merges cells of a sheet."""
    return lambda book: [book[sheet].merge_cells(block) for block in blocks]


def put(sheet: str, address: str, **what: Any) -> Any:
    """Return what sets value, font, fill or comment of one cell."""

    def change(book: Any) -> None:
        for name, value in what.items():
            setattr(book[sheet][address], name, value)

    return change
