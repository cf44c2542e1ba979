"""A workbook of one's own brought in for the first time: what is not clear is asked for."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Protocol

from app.profiles import axes_said, pairs
from importers.confirming import Confirmation
from importers.declared import Sheet, kind_of
from importers.headings import names, plain, split
from importers.profiles import Axes
from importers.proposing import ColumnProposal, SheetProposal, propose, readable_as
from importers.sheets import REQUIRED_LOADS, SHEETS
from supports.errors import BadInput
from supports.units import unit


class Asks(Protocol):
    """Puts a question to whoever sits at the terminal."""

    @property
    def somebody_answers(self) -> bool:
        """Return whether anybody is there to answer."""

    def __call__(self, question: str, option: str, *, may_be_blank: bool = False) -> str:
        """Return the answer; without anybody there, the request stops and names the option.

        Parameters
        ----------
        option
            How the answer is said on the command.
        may_be_blank
            No answer is an answer.
        """

    def tell(self, line: str) -> None:
        """Say something before the next question."""


@dataclass(frozen=True, slots=True)
class Said:
    """What was said of the file on the command."""

    source: str = ""
    as_sheets: Sequence[str] = ()
    read: Sequence[str] = ()
    leave: Sequence[str] = ()
    constant: Sequence[str] = ()
    up: str = ""
    forces_on: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """One sheet of the file, what it is read as, and under which name that is kept."""

    sheet: str
    as_sheet: Sheet
    source: str
    confirmation: Confirmation = field(default_factory=Confirmation)


def has_declared_headings(file: Path) -> bool:
    """Return whether every sheet and heading of a file is a declared one, units and all."""
    return all(
        plain(one.found) in {plain(one.sheet.name), *map(plain, one.sheet.aliases)}
        and all(column.score == 1.0 and not column.needs_unit for column in one.columns)
        for one in propose(file)
    )


def readings_of(file: Path, said: Said, ask: Asks) -> list[Reading]:
    """Return how the sheets of a file are to be read, in the order in which they are stored.

    Raises
    ------
    BadInput
        Something is not said and nobody is there to ask.
    """
    source = said.source or ask("Where such files come from, in a few words", "--source")
    chosen = []
    for choices in readable_as(file):
        picked = _without_repeats(_chosen(choices, said, ask))
        chosen += [(one, len(picked) > 1) for one in picked]
    if not chosen:
        raise BadInput(
            "no sheet of the file is to be read", where=file.name,
            remedy="See what each column may mean: supports sheets propose " + file.name,
        )  # fmt: skip
    readings = [
        Reading(one.found, one.sheet, _name(source, one, several=several), confirmation)
        for one, several in chosen
        if (confirmation := _confirmation(one, said, ask)) is not None
    ]
    return sorted(readings, key=lambda one: SHEETS.index(one.as_sheet))


def _name(source: str, one: SheetProposal, *, several: bool) -> str:
    return f"{source}, {one.sheet.name}" if several else source


def _without_repeats(picked: Sequence[SheetProposal]) -> list[SheetProposal]:
    """Leave to the supports what a list of them says in each row, where lines are read from it."""
    of_supports = {
        column.heading
        for one in picked
        if "tag" in one.sheet.key
        for column in one.columns
        if column.is_sure
    }
    return [one if "tag" in one.sheet.key else _key_alone(one, of_supports) for one in picked]


def _key_alone(one: SheetProposal, others: Collection[str]) -> SheetProposal:
    """Return a proposal without the columns that others take, but for those that name the row."""
    key = {one.sheet.column(name).heading for name in one.sheet.key}
    columns = (
        replace(column, read_as="")
        if column.heading in others and column.read_as not in key
        else column
        for column in one.columns
    )
    return replace(one, columns=tuple(columns))


def _chosen(choices: Sequence[SheetProposal], said: Said, ask: Asks) -> Sequence[SheetProposal]:
    """Choose what a sheet is read as; it may be several."""
    if not choices:
        return ()
    listed = "; ".join(f"{place} {one.sheet.name}" for place, one in enumerate(choices, start=1))
    wanted = {plain(name) for name in said.as_sheets}
    picked = [one for one in choices if plain(one.sheet.name) in wanted]
    if not wanted:
        ask.tell(f"Sheet '{choices[0].found}', headings in row {choices[0].top + 1}, may be:")
        for place, one in enumerate(choices, start=1):
            sure = ", ".join(f"'{c.heading}'" for c in one.columns if c.is_sure or c.axis)
            ask.tell(f"  {place} {one.sheet.name}: {sure}")
        answer = ask(
            f"Read it as ({listed}; several with commas; blank leaves the sheet out)",
            "--as-sheet, once for each: " + ", ".join(f"'{one.sheet.name}'" for one in choices),
            may_be_blank=ask.somebody_answers,
        )
        picked = [choices[place] for place in _places(answer, len(choices))]
    return picked


def _places(answer: str, count: int) -> list[int]:
    words = answer.replace(",", " ").split()
    if any(not word.isdecimal() or not 1 <= int(word) <= count for word in words):
        raise BadInput("that is none of the choices", found=f"'{answer}'", expected=f"1 to {count}")
    return sorted({int(word) - 1 for word in words})


def _confirmation(one: SheetProposal, said: Said, ask: Asks) -> Confirmation | None:
    """Return what holds for one reading of a sheet; None if it is left out for want of a column."""
    read, left, constants = _of_this(one, said)
    ask.tell(f"'{one.found}' as '{one.sheet.name}':")
    for column in one.columns:
        if column.heading in read or column.heading in left or column.axis:
            continue
        if not column.is_sure:
            left.append(column.heading)
            continue
        _settle(column, one.sheet, read, left, ask)
    for heading, text in read.items():
        ask.tell(f"  '{heading}' -> {text}")
    _read_more(one, read, left, ask)
    for heading in _missing(one, read, constants):
        text = ask(
            f"No column for '{heading}'. What holds for every row? (blank: do not read it as "
            f"'{one.sheet.name}')", f"--constant '{heading}=...'",
            may_be_blank=ask.somebody_answers,
        )  # fmt: skip
        if not text:
            return None
        constants[heading] = text
    return Confirmation(read, tuple(left), constants, _axes(one, said, ask))


def _read_more(one: SheetProposal, read: dict[str, str], left: list[str], ask: Asks) -> None:
    """Name what is left aside, and take from it what somebody knows the meaning of."""
    known = names(one.sheet)
    while left:
        ask.tell(f"  left aside: {', '.join(left)}")
        question = "Is one of these to be read? HEADING=COLUMN [unit] (blank: no)"
        answer = ask(question, "--read 'HEADING=COLUMN [unit]'", may_be_blank=True)
        if not answer:
            return
        heading, _, text = (part.strip() for part in answer.partition("="))
        if heading in left and split(text, known):
            left.remove(heading)
            read[heading] = text
        else:
            columns = ", ".join(column.heading for column in one.sheet.columns)
            ask.tell(f"  that is none of them, or no column of '{one.sheet.name}': {columns}")


def _of_this(one: SheetProposal, said: Said) -> tuple[dict[str, str], list[str], dict[str, str]]:
    """Return what was said on the command, as far as it is about this sheet read so."""
    there, known = {column.heading for column in one.columns}, names(one.sheet)
    read = {
        heading: text
        for heading, text in pairs(said.read, "--read").items()
        if heading in there and split(text, known)
    }
    constants = {
        heading: text
        for heading, text in pairs(said.constant, "--constant").items()
        if plain(heading) in known
    }
    return read, [heading for heading in said.leave if heading in there], constants


def _settle(
    column: ColumnProposal, sheet: Sheet, read: dict[str, str], left: list[str], ask: Asks
) -> None:
    """Take a column as proposed, once what is not clear about it is answered."""
    text = column.read_as
    if column.is_close:
        answer = ask(
            f"'{column.heading}': 1 {column.read_as}; 2 {column.runner_up}; blank leaves it aside",
            f"--read '{column.heading}=...' or --leave '{column.heading}'",
            may_be_blank=ask.somebody_answers,
        )
        places = _places(answer, 2)
        if not places:
            left.append(column.heading)
            return
        text = (column.read_as, column.runner_up)[places[0]]
    declared = names(sheet)[plain(text.partition(" [")[0])]
    kind = kind_of(declared)
    if kind is not None and "[" not in text and not declared.unit_column:
        symbol = _unit_said(column.heading, text, ask)
        text = f"{text} [{unit(symbol, kind).symbol}]" if symbol else text
    read[column.heading] = text


def _unit_said(heading: str, text: str, ask: Asks) -> str:
    question = f"In which unit are the numbers of '{heading}'? (blank: they wait as doubts)"
    return ask(question, f"--read '{heading}={text} [unit]'", may_be_blank=True)


def _missing(one: SheetProposal, read: dict[str, str], constants: dict[str, str]) -> list[str]:
    """Return the needed columns that neither a heading nor a value for all rows stands for."""
    held = {plain(text.partition(" [")[0]) for text in (*read.values(), *constants)}
    axes = {"load"} if one.sheet is REQUIRED_LOADS and any(c.axis for c in one.columns) else set()
    return [
        column.heading
        for column in one.sheet.columns
        if column.needed and plain(column.heading) not in held and column.field not in axes
    ]


def _axes(one: SheetProposal, said: Said, ask: Asks) -> Axes | None:
    if one.sheet is not REQUIRED_LOADS or not any(column.axis for column in one.columns):
        return None
    up = said.up or ask("The axis of the calculation that points up (+z, +y, ...)", "--up")
    on = said.forces_on or ask("What its forces act on (support, pipe)", "--forces-on")
    return axes_said(up, on, "", "")
