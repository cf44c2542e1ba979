"""What the columns of a file may mean: as a form, and as somebody filled it in."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args

from starlette.datastructures import FormData

from app.profiles import axes_said
from app.web.acts.asking import Said
from importers.confirming import Confirmation
from importers.declared import Form, Sheet, kind_of
from importers.profiles import Axis
from importers.proposing import ColumnProposal, SheetProposal, propose
from importers.sheets import REQUIRED_LOADS, SHEETS
from supports.errors import BadInput
from supports.sentences import joined

UNSAID = "?"
"""Stands in the form where a person has yet to choose."""
AXES = get_args(Axis)
CONSTANTS = 6
"""Boxes for what holds for all rows, at most."""


@dataclass(frozen=True, slots=True)
class ColumnAsked:
    """One column of a form: what is proposed, and what stands in its boxes."""

    proposal: ColumnProposal
    chosen: str
    unit: str

    @property
    def is_axis(self) -> bool:
        """Return whether it is a force or movement, read by the axes declared."""
        return self.proposal.axis is not None


@dataclass(frozen=True, slots=True)
class SheetAsked:
    """The form of one sheet."""

    proposal: SheetProposal
    columns: tuple[ColumnAsked, ...]
    constants: tuple[tuple[str, str], ...]
    """Declared heading, and what holds for all rows."""

    @property
    def has_axes(self) -> bool:
        """Return whether sign and axes are to be declared."""
        return any(one.is_axis for one in self.columns)

    @property
    def choices(self) -> list[str]:
        """Return the headings that a column can be read as."""
        return [column.heading for column in self.proposal.sheet.columns]

    @property
    def open_questions(self) -> int:
        """Return how many columns a person must choose for."""
        return sum(one.chosen == UNSAID for one in self.columns)


def sheets_asked(file: Path, sheet: str = "", as_sheet: str = "") -> list[SheetAsked]:
    """Return the forms of a file's sheets.

    Parameters
    ----------
    sheet, as_sheet
        One sheet of the file, and the declared one that it is held against.
    """
    found = propose(file)
    if as_sheet:
        forced = {one.found: one for one in propose(file, as_sheet)}
        found = [forced[one.found] if one.found == sheet else one for one in found]
    return [_asked(one) for one in found]


def sheet_names() -> list[str]:
    """Return the names of the declared sheets."""
    return [sheet.name for sheet in SHEETS]


def _asked(one: SheetProposal) -> SheetAsked:
    taken = {column.read_as.partition(" [")[0] for column in one.columns}
    wanted = [*one.missing, *(c for c in _units_by_row(one.sheet) if c not in taken)]
    if one.sheet is REQUIRED_LOADS and any(c.axis for c in one.columns):
        loads = REQUIRED_LOADS.column("load").heading
        wanted = [heading for heading in wanted if heading != loads]
    return SheetAsked(
        one, tuple(map(_column, one.columns)), tuple((h, "") for h in wanted[:CONSTANTS])
    )


def _units_by_row(sheet: Sheet) -> list[str]:
    return [column.heading for column in sheet.columns if column.form is Form.UNIT]


def _column(one: ColumnProposal) -> ColumnAsked:
    heading = one.read_as.partition(" [")[0]
    unsure = bool(heading) and (one.is_close or not one.is_sure)
    return ColumnAsked(one, UNSAID if unsure else heading, one.unit)


def said_of(asked: SheetAsked, form: FormData) -> Confirmation:
    """Return what somebody says of a sheet.

    Raises
    ------
    BadInput
        A column that fits two meanings or none well is left open, or half of the axes is said.
    """
    said = Said(form)
    read: dict[str, str] = {}
    left: list[str] = []
    unsaid: list[str] = []
    for place, one in enumerate(asked.columns):
        heading, chosen = one.proposal.heading, said.text(f"read-{place}")
        if chosen == UNSAID:
            unsaid.append(heading)
        elif chosen:
            read[heading] = _with_unit(asked.proposal.sheet, chosen, said.text(f"unit-{place}"))
        elif not one.is_axis:
            left.append(heading)
    if unsaid:
        raise BadInput(
            "a person must choose what these columns mean",
            found=joined(unsaid, ", "),
            remedy="Choose a column, or leave it aside",
        )
    constants = {
        heading: text
        for place, (heading, _) in enumerate(asked.constants)
        if (text := said.text(f"constant-{place}"))
    }
    axes = axes_said(*(said.text(name) for name in ("up", "forces_on", "east", "north")))
    return Confirmation(
        read, tuple(left), constants, axes, force_unit=said.text("force_unit"),
        movement_unit=said.text("movement_unit"),
    )  # fmt: skip


def as_typed(asked: SheetAsked, form: FormData) -> SheetAsked:
    """Return the form of a sheet as somebody filled it in."""
    said = Said(form)
    return SheetAsked(
        asked.proposal,
        tuple(
            ColumnAsked(one.proposal, said.text(f"read-{place}"), said.text(f"unit-{place}"))
            for place, one in enumerate(asked.columns)
        ),
        tuple(
            (heading, said.text(f"constant-{place}"))
            for place, (heading, _) in enumerate(asked.constants)
        ),
    )


def _with_unit(sheet: Sheet, heading: str, unit: str) -> str:
    """Return a declared heading with the unit of its numbers, where it holds quantities."""
    column = next((c for c in sheet.columns if c.heading == heading), None)
    return f"{heading} [{unit}]" if unit and column and kind_of(column) else heading


def axes_typed(form: FormData | None) -> dict[str, Any]:
    """Return what stands in the boxes of the axes."""
    said = Said(form) if form is not None else Said.empty()
    names = ("up", "forces_on", "east", "north", "force_unit", "movement_unit")
    return {name: said.text(name) for name in names}
