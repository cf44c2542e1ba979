"""What the sheets of a stranger's file may mean, for a person to confirm sheet by sheet.

Nothing is read by what is proposed here.
"""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from importers.declared import Column, Sheet, kind_of
from importers.findings_column import without_findings
from importers.guesses import Guess, guess_columns
from importers.headings import names, plain, split, unit_in
from importers.profiles import axis_of
from importers.sheets import HELP_SHEETS, OTHER_COMMANDS, REQUIRED_LOADS, SHEETS
from importers.stacked import Stack, stack_of
from importers.table import Table
from importers.workbook import open_workbook
from supports.errors import BadInput
from supports.sentences import Sentence, joined

_ALIKE = 0.75
"""Likeness from which on a heading is taken to resemble another. Our own choice."""
MOST_COLUMNS = 1_000
CLOSE = 0.05
"""A runner-up as near as this makes a guess a question. Our own choice."""


@dataclass(frozen=True, slots=True)
class ColumnProposal:
    """What one column may mean.

    Parameters
    ----------
    read_as
        The declared heading with the unit found, as it would stand in a profile; '' if left aside.
    unit
        The unit found in the heading; '' where none is stated.
    needs_unit
        It holds quantities and no unit is stated anywhere.
    """

    heading: str
    read_as: str
    unit: str
    needs_unit: bool
    score: float
    reason: str
    runner_up: str = ""
    is_close: bool = False
    axis: tuple[str, str] | None = None

    @property
    def is_sure(self) -> bool:
        """Return whether the proposal is one that a person would expect, unit apart."""
        return bool(self.read_as) and self.score >= _ALIKE


@dataclass(frozen=True, slots=True)
class SheetProposal:
    """What one sheet may be, and its columns."""

    found: str
    sheet: Sheet
    reason: str
    runner_up: str
    top: int
    columns: tuple[ColumnProposal, ...]

    @property
    def missing(self) -> tuple[str, ...]:
        """Return the needed columns that nothing was proposed for."""
        said = {plain(c.read_as.partition(" [")[0]) for c in self.columns}
        return tuple(
            c.heading for c in self.sheet.columns if c.needed and plain(c.heading) not in said
        )


def propose(
    path: Path, as_sheet: str = "", sheets: Sequence[Sheet] = SHEETS
) -> list[SheetProposal]:
    """Propose what the sheets of a file are.

    Parameters
    ----------
    as_sheet
        The declared sheet that all of them are held against; guessed if empty.
    """
    forced = _declared(as_sheet, sheets) if as_sheet else None
    return [_proposal(table, stack, forced, sheets) for table, stack in _tables(path)]


def readable_as(path: Path, sheets: Sequence[Sheet] = SHEETS) -> list[list[SheetProposal]]:
    """Return for each sheet of a file what it may be read as; a list of hangers is often several.

    Left out are declared sheets of which the file has no key column, or nothing but that although
    more is needed.
    """
    return [
        [one for sheet in sheets if _says_something(one := _proposal(table, stack, sheet, sheets))]
        for table, stack in _tables(path)
    ]


def _tables(path: Path) -> Iterator[tuple[Table, Stack]]:
    """Yield the tables of a file that have headings, and those."""
    for table in map(without_findings, open_workbook(path).tables):
        if table.sheet in {*HELP_SHEETS, *OTHER_COMMANDS} or not (stack := stack_of(table)):
            continue
        if len(stack.columns) > MOST_COLUMNS:
            raise BadInput(
                Sentence(
                    (
                        "the sheet has {count} columns with headings; {most} are "
                        "the limit of what can be proposed"
                    ),
                    count=f"{len(stack.columns):,}",
                    most=f"{MOST_COLUMNS:,}",
                ),
                where=f"{table.file} {table.sheet}",
                remedy="Take the columns out that belong to no support, in a copy",
            )
        yield table, stack


def _called(stack: Stack, sheet: Sheet) -> list[str]:
    """Return what to call each column: by its lowest heading where that says enough, else in full.

    It says enough where it stands once and a column of the sheet, or an axis, is called so.
    """
    times = Counter(names_[0] for names_ in stack.columns)
    return [
        names_[0]
        if times[names_[0]] == 1 and (split(names_[0], names(sheet)) or axis_of(names_[0]))
        else names_[-1]
        for names_ in stack.columns
    ]


def _says_something(one: SheetProposal) -> bool:
    names_row = one.sheet.column(one.sheet.key[0]).heading
    read_as = [c.read_as.partition(" [")[0] for c in one.columns if c.is_sure]
    needed = {column.heading for column in one.sheet.columns if column.needed}
    has_loads = one.sheet is REQUIRED_LOADS and any(c.axis for c in one.columns)
    return names_row in read_as and (len(read_as) > 1 or has_loads or needed <= set(read_as))


def _declared(name: str, sheets: Sequence[Sheet]) -> Sheet:
    found = next((s for s in sheets if plain(s.name) == plain(name)), None)
    if found is None:
        raise BadInput(
            Sentence("there is no sheet '{name}' to read it as", name=name),
            expected=joined((sheet.name for sheet in sheets), ", "),
        )
    return found


def _proposal(
    table: Table, stack: Stack, forced: Sheet | None, sheets: Sequence[Sheet]
) -> SheetProposal:
    headings = [called[0] for called in stack.columns if called[0]]
    ranked = sorted(sheets, key=lambda sheet: -_fits(table.sheet, headings, sheet))
    sheet = forced or ranked[0]
    runner_up = next(other for other in ranked if other is not sheet)
    near = sum(_nearest(heading, sheet) >= _ALIKE for heading in headings)
    reason = "you say so" if forced else f"{near} of {len(headings)} headings resemble its own"
    together = stack.together(table, _called(stack, sheet))
    guesses = _each_field_once(guess_columns(together, sheet, stack.top))
    columns = tuple(_column(guess, sheet) for guess in guesses)
    return SheetProposal(table.sheet, sheet, reason, runner_up.name, stack.top, columns)


def _fits(name: str, headings: Sequence[str], sheet: Sheet) -> float:
    """Return how well a sheet's name and headings fit a declared one."""
    if plain(name) in {plain(sheet.name), *map(plain, sheet.aliases)}:
        return float("inf")
    alike = sum(near for h in headings if (near := _nearest(h, sheet)) >= _ALIKE)
    if sheet is REQUIRED_LOADS:
        alike += sum(axis_of(heading) is not None for heading in headings)
    return alike / max(len(headings), 1) + 0.01 * alike / len(sheet.columns)


@cache
def _nearest(heading: str, sheet: Sheet) -> float:
    if split(heading, names(sheet)):
        return 1.0
    wanted = plain(heading.partition("[")[0].partition("(")[0])
    return max(difflib.SequenceMatcher(None, wanted, name).ratio() for name in names(sheet))


def _each_field_once(guesses: Sequence[Guess]) -> list[Guess]:
    """Keep the likeliest column of each field; the others are left aside, with the reason."""
    best: dict[str, Guess] = {}
    for guess in guesses:
        if guess.field and (guess.field not in best or guess.score > best[guess.field].score):
            best[guess.field] = guess
    return [
        guess
        if not guess.field or best[guess.field] is guess
        else replace(
            guess, field="", reason=f"'{best[guess.field].heading}' fits better",
            runner_up=guess.field, runner_up_score=guess.score,
        )
        for guess in guesses
    ]  # fmt: skip


def _column(guess: Guess, sheet: Sheet) -> ColumnProposal:
    axis = axis_of(guess.heading) if sheet is REQUIRED_LOADS else None
    runner_up = sheet.column(guess.runner_up).heading if guess.runner_up else ""
    if axis is not None:
        reason = f"{axis[0]} along {axis[1]}: sign and axes are to be declared"
        unit = _unit_of(
            guess.heading, sheet.column("load" if axis[0] == "force" else "movement_up")
        )
        return ColumnProposal(
            guess.heading, "", unit, not unit, guess.score, reason, runner_up, axis=axis
        )
    if not guess.field:
        return ColumnProposal(
            guess.heading,
            read_as="",
            unit="",
            needs_unit=False,
            score=guess.score,
            reason=guess.reason,
            runner_up=runner_up,
        )
    column = sheet.column(guess.field)
    unit = _unit_of(guess.heading, column)
    return ColumnProposal(
        guess.heading,
        f"{column.heading} [{unit}]" if unit else column.heading,
        unit,
        kind_of(column) is not None and not unit and not column.unit_column,
        guess.score,
        guess.reason,
        runner_up,
        guess.score < 1.0 and guess.score - guess.runner_up_score < CLOSE,
    )


def _unit_of(heading: str, column: Column) -> str:
    """Return the unit that a heading states, as it stands there."""
    kind = kind_of(column)
    if kind is None:
        return ""
    for opened, closed in ("[]", "()"):
        inside = heading.rpartition(opened)[2].partition(closed)[0].strip()
        if heading.rstrip("*†‡ ").endswith(closed) and inside:
            return inside
    last = heading.rsplit(maxsplit=1)[-1].strip(",")
    return last if unit_in(last, kind) else ""
