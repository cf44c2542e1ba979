"""Column profiles: what the columns of a stranger's sheet mean, declared once by a person.

A profile is plain data that the caller keeps with the name of whoever declared it. `propose`
guesses from headings, units and values, and gives its reason and its runner-up; nothing is read by
a guess. Loads of a calculation are taken only where their sign and axes are declared: by the
heading 'Load, carrying positive' itself, or by a profile.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from enum import StrEnum
from typing import Any, Literal

from importers.columns import Converted
from importers.declared import Column, Form, Sheet, kind_of
from importers.faults import Fault, Ledger
from importers.headings import Layout, Taken, plain
from importers.sheets import REQUIRED_LOADS
from importers.stacked import SEARCHED_ROWS, Stack, stack_of
from importers.table import Raw, Table, text_of
from importers.unit_words import read_unit
from importers.words import read_word
from supports.errors import BadInput
from supports.findings import Severity
from supports.sentences import Sentence, joined

Axis = Literal["+x", "-x", "+y", "-y", "+z", "-z"]
ActsOn = Literal["support", "pipe"]

_SIGN_SAID = (", carrying positive", ", up positive")
"""How headings end that say which way is positive."""
_AXIS_HEADING = re.compile(
    r"(?:(?P<force>f|force|load|reaction)|d|displacement|movement|disp)[ _.-]*(?P<axis>[xyz])\b.*",
    re.IGNORECASE,
)


def axis_of(heading: str) -> tuple[Literal["force", "movement"], str] | None:
    """Return what a heading such as 'FX' or 'Displacement z (mm)' gives along which axis.

    >>> axis_of("FZ [N]"), axis_of("dy"), axis_of("Area")
    (('force', 'z'), ('movement', 'y'), None)
    """
    found = _AXIS_HEADING.fullmatch(heading.strip())
    if found is None:
        return None
    return ("force" if found["force"] else "movement"), found["axis"].lower()


@dataclass(frozen=True, slots=True)
class Profile:
    """What the columns of one kind of sheet mean.

    Parameters
    ----------
    sheet
        Name of the declared sheet that it is read as.
    headings
        The heading found: the heading to read it as, with its unit, e.g.
        ``{"FZ": "Load, carrying positive [N]"}``.
    signs
        -1 for each field whose values are to be turned about.
    constants
        Fields that stand nowhere in the sheet but hold for all its rows.
    left
        Headings that are known and left aside.
    """

    sheet: str
    headings: Mapping[str, str] = field(default_factory=dict)
    signs: Mapping[str, int] = field(default_factory=dict)
    constants: Mapping[str, str] = field(default_factory=dict)
    left: tuple[str, ...] = ()

    def as_data(self) -> dict[str, Any]:
        """Return the profile as plain data to be stored."""
        return {**asdict(self), "left": list(self.left)}

    @classmethod
    def from_data(cls, data: Mapping[str, Any]) -> Profile:
        """Build a profile from stored data."""
        left = tuple(data.get("left", ()))
        return cls(data["sheet"], data["headings"], data["signs"], data["constants"], left)

    def renamed(self, table: Table) -> Table:
        """Return the table with its headings as declared; rows of values are left as they are."""
        wanted = {plain(found): declared for found, declared in self.headings.items()}
        stack = stack_of(table)
        if stack is not None and len(self._not_in(table)) > len(self._not_in_stack(stack)):
            chosen = [_first_of(names, wanted) for names in stack.columns]
            table = stack.together(table, chosen)
        return replace(table, rows=[_renamed(row, wanted) for row in table.rows])

    def missing_in(self, table: Table) -> list[str]:
        """Return the headings that the profile names and neither one row nor stacked ones hold."""
        stack, missing = stack_of(table), self._not_in(table)
        return min(missing, self._not_in_stack(stack), key=len) if stack and missing else missing

    def _not_in_stack(self, stack: Stack) -> list[str]:
        there = {plain(name) for names in stack.columns for name in names}
        return [found for found in self.headings if plain(found) not in there]

    def _not_in(self, table: Table) -> list[str]:
        wanted = {plain(found): found for found in self.headings}
        best: set[str] = set()
        for row in table.rows[:SEARCHED_ROWS]:
            cells = {plain(raw) for raw in row if isinstance(raw, str) and raw}
            best = max(best, cells & set(wanted), key=len)
        return [found for name, found in wanted.items() if name not in best]


def _first_of(names: Sequence[str], wanted: Collection[str]) -> str:
    """Return the name that a profile knows, the longest first; else the longest."""
    return next((name for name in reversed(names) if plain(name) in wanted), names[-1])


def profile_for(table: Table, profiles: Mapping[str, Profile]) -> Profile | None:
    """Return the profile of a table: by its name, else the only one whose headings all stand there.

    Next year's sheet often bears another name.
    """
    if table.sheet in profiles:
        return profiles[table.sheet]
    fitting = [p for p in profiles.values() if p.headings and not p.missing_in(table)]
    return fitting[0] if len(fitting) == 1 else None


def with_units_said(layout: Layout, profile: Profile) -> Layout:
    """Give the columns to which the sheet gives no unit the one that was said.

    What stands in the sheet goes before what a person said of all its rows.
    """
    columns = {column.field: column for column in layout.sheet.columns}
    said = {
        columns[field].heading: text
        for field, text in profile.constants.items()
        if field in columns and columns[field].form is Form.UNIT
    }

    def with_unit(item: Taken) -> Taken:
        kind, text = kind_of(item.column), said.get(item.column.unit_column)
        if kind is None or text is None or item.unit is not None or item.units_in is not None:
            return item
        return replace(item, unit=read_unit(text, kind))

    return replace(layout, taken=tuple(map(with_unit, layout.taken)))


def report_profile(profile: Profile, missing: Sequence[str], ledger: Ledger) -> None:
    """Say what a profile promises and the sheet lacks; be silent about what is left aside."""
    left = {f"'{heading}'" for heading in profile.left}
    ledger.findings = [
        f for f in ledger.findings if f.code != "heading-not-known" or f.found not in left
    ]
    for heading in missing:
        what = Sentence(
            "the column '{heading}', which the profile of this source knows, is not there",
            heading=heading,
        )
        remedy = "Confirm the sheet anew if it has changed: supports sheets confirm"
        ledger.whole(Fault("profile-column-missing", what, "", remedy, Severity.LOOK))


def _renamed(row: Sequence[Raw], wanted: Mapping[str, str]) -> Sequence[Raw]:
    hits = [i for i, raw in enumerate(row) if isinstance(raw, str) and raw and plain(raw) in wanted]
    if len(hits) < min(2, len(wanted)):
        return row
    return [wanted[plain(text_of(raw))] if i in hits else raw for i, raw in enumerate(row)]


@dataclass(frozen=True, slots=True)
class Axes:
    """The axes of a calculation and what its forces act on, as its author declares them.

    Parameters
    ----------
    up, east, north
        The axis that points there; empty where it is not needed.
    forces_act_on
        The support (down on a carrying support) or the pipe (up from it).
    """

    up: Axis
    forces_act_on: ActsOn
    east: Axis | Literal[""] = ""
    north: Axis | Literal[""] = ""


def calculation_profile(
    axes: Axes,
    *,
    forces: Mapping[str, str],
    force_unit: str,
    movements: Mapping[str, str] | None = None,
    movement_unit: str = "",
    headings: Mapping[str, str] | None = None,
    constants: Mapping[str, str] | None = None,
) -> Profile:
    """Return the profile of a table of support loads from its declared axes.

    Parameters
    ----------
    forces, movements
        Heading found for each axis: ``{"x": "FX", "y": "FY", "z": "FZ"}``.
    headings
        Other headings found, with the declared ones.

    Raises
    ------
    BadInput
        The axes contradict each other, or the upward force has no column.
    """
    _check(axes, forces)
    load = REQUIRED_LOADS.column("load")
    names = {**(headings or {}), forces[axes.up[1]]: f"{load.heading} [{force_unit}]"}
    carrying = _sign(axes.up) * (-1 if axes.forces_act_on == "support" else 1)
    signs = {"load": carrying}
    for way, axis in (("up", axes.up), ("east", axes.east), ("north", axes.north)):
        if axis and movements and axis[1] in movements:
            column = REQUIRED_LOADS.column(f"movement_{way}")
            names[movements[axis[1]]] = f"{column.heading} [{movement_unit}]"
            signs[column.field] = _sign(axis)
    turned = {name: sign for name, sign in signs.items() if sign < 0}
    return Profile(REQUIRED_LOADS.name, names, turned, dict(constants or {}))


def _sign(axis: str) -> int:
    return -1 if axis[0] == "-" else 1


def _check(axes: Axes, forces: Mapping[str, str]) -> None:
    used = [axis[1] for axis in (axes.up, axes.east, axes.north) if axis]
    if len(set(used)) < len(used):
        raise BadInput("two directions of the profile lie on one axis", found=joined(used, ", "))
    if axes.up[1] not in forces:
        raise BadInput(
            "the profile names no column for the upward force",
            expected=Sentence("force {up}", up=axes.up[1]),
        )


def turn_signs(columns: Mapping[str, Converted], profile: Profile) -> None:
    """Turn the values of the fields about whose sign the profile says so."""
    for name, sign in profile.signs.items():
        if name in columns and sign < 0:
            columns[name].values = [
                -value if isinstance(value, float) else value for value in columns[name].values
            ]


def refuse_undeclared(layout: Layout, columns: Mapping[str, Converted], ledger: Ledger) -> None:
    """Take no loads and movements whose sign and axes neither heading nor person has declared."""
    if layout.sheet is REQUIRED_LOADS:
        load = REQUIRED_LOADS.column("load")
        for index, text in layout.unknown.items():
            if axis_of(text):
                ledger.add(_undeclared(load), layout.top, index, text)
    for item in layout.taken:
        says_sign = item.column.heading.endswith(_SIGN_SAID)
        if says_sign and not plain(item.heading).startswith(plain(item.column.heading)):
            ledger.add(_undeclared(item.column), layout.top, item.index, item.heading)
            converted = columns[item.column.field]
            converted.bad.update(i for i, value in enumerate(converted.values) if value is not None)
            converted.values = [None] * len(converted.values)


def _undeclared(column: Column) -> Fault:
    if column.field == "load":
        return Fault(
            "sign-or-axis-doubt",
            "nobody has declared the sign and the axes of this column; nothing was taken from it",
            "the heading 'Load, carrying positive', or a profile",
            "Declare which axis points up and what the forces act on",
        )
    return Fault(
        "sign-or-axis-doubt",
        "the heading does not say which way is positive; nothing was taken from the column",
        Sentence("the heading '{heading}', or a profile", heading=column.heading),
        "Say it in the heading, or confirm the column: supports sheets confirm",
    )


def constants_of(profile: Profile | None, sheet: Sheet) -> Mapping[str, str]:
    """Return the constants of a profile that belong to a sheet."""
    found = profile.constants if profile else {}
    columns = [column for column in sheet.columns if column.field in found]
    return {column.field: _checked(column, found[column.field]) for column in columns}


def _checked(column: Column, text: str) -> str:
    """Return a constant, which must be a word of the column's list if it has one."""
    form = column.form
    if isinstance(form, type) and issubclass(form, StrEnum):
        word = read_word(text, form)
        if word.fault:
            raise BadInput(
                Sentence("the profile's '{heading}' is not on the list", heading=column.heading),
                found=f"'{text}'",
                expected=word.fault.expected,
            )
        return str(word.value)
    return text
