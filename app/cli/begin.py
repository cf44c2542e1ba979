"""supports begin: from nothing to a register with one's own workbook, asked step by step."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NamedTuple

import typer

from app.answers import Answer, print_lines
from app.cli.noun import Noun
from app.cli.options import ForAllRows, ForcesOn, LeaveAside, ReadAs, RegisterAt, TimeZone, UpAxis
from supports.plant_time import day_of

if TYPE_CHECKING:
    from app.beginning import Reading
    from supports.database import Register

app = Noun()

_File = Annotated[Path | None, typer.Argument(help="Your workbook; asked for if left out.")]
_Many = list[str]


class Terminal:
    """Asks at the terminal; where nobody sits there, names the option that says it."""

    def __init__(self, *, quiet: bool) -> None:
        self.somebody_answers = not quiet and sys.stdin.isatty() and sys.stdout.isatty()

    def __call__(self, question: str, option: str, *, may_be_blank: bool = False) -> str:
        """Ask, or stop with the option that says it."""
        from supports.errors import BadInput

        if self.somebody_answers:
            blank = "" if may_be_blank else None
            answer = typer.prompt(question, default=blank, show_default=False)
            return str(answer).strip()
        if may_be_blank:
            return ""
        raise BadInput(f"not said: {question}", remedy=f"Say it with {option}")

    def tell(self, line: str) -> None:
        """Print a line."""
        print_lines([line])


@app.command()
def begin(
    file: _File = None,
    plant: Annotated[str, typer.Option(help="Name of the plant, for the papers.")] = "",
    name: Annotated[str, typer.Option(help="Your name, if nobody is entered yet.")] = "",
    initials: Annotated[str, typer.Option(help="Short for your name.")] = "",
    time_zone: TimeZone = "",
    source: Annotated[str, typer.Option(help="Where such files come from.")] = "",
    as_sheet: Annotated[_Many | None, typer.Option(help="Read a sheet as this, often.")] = None,
    read: ReadAs = None,
    leave: LeaveAside = None,
    constant: ForAllRows = None,
    up: UpAxis = "",
    forces_on: ForcesOn = "",
    accept_the_good: Annotated[
        bool, typer.Option("--accept-the-good", help="Store good rows although others have faults.")
    ] = False,
    no_questions: Annotated[
        bool, typer.Option("--no-questions", help="Ask nothing; stop where something is not said.")
    ] = False,
    register: RegisterAt = None,
) -> Answer:
    """Make a register, enter yourself, and bring in your own workbook; nothing is guessed."""
    from app.beginning import Said, has_declared_headings, readings_of
    from app.profiles import confirm
    from app.settings import now
    from app.standing import standing, standing_lines

    ask, moment = Terminal(quiet=no_questions), now()
    title, who = _plant(register, plant, ask), _person(register, (name, initials), ask)
    path = file or Path(ask("Your workbook (blank: later)", "FILE", may_be_blank=True) or ".")
    readings = []
    if path != Path() and not has_declared_headings(path):
        said = Said(source, as_sheet or (), read or (), leave or (), constant or (), up, forces_on)
        readings = readings_of(path, said, ask)
    opened = _made(register, (title, time_zone), who, moment, ask)
    for one in readings:
        confirm(
            opened, path, one.source, one.confirmation, sheet=one.sheet,
            as_sheet=one.as_sheet.name, acting=who.name, reason="first import", now=moment,
        )  # fmt: skip
    if path != Path():
        _bring(opened, path, readings, who.name, moment, ask, good=accept_the_good)
    where = standing(opened, day_of(moment, opened.zone), who=who.name, named=register)
    return Answer(where, ("", *standing_lines(where)))


class Newcomer(NamedTuple):
    """Who begins; entered already, or to be entered."""

    name: str
    initials: str
    is_entered: bool


def _plant(named: str | None, plant: str, ask: Terminal) -> str:
    """Return the plant's name; '' where a register is there already."""
    from app.founding import is_there
    from app.settings import register_url
    from supports.database import shown_url

    url = register_url(named)
    if is_there(url):
        ask.tell(f"Your register is {shown_url(url)}.")
        return ""
    ask.tell(f"There is no register at {shown_url(url)} yet: one will be made.")
    return plant or ask("Name of the plant, for the papers", "--plant 'Our plant'")


def _person(named: str | None, said: tuple[str, str], ask: Terminal) -> Newcomer:
    from app.founding import is_there
    from app.settings import acting_person, open_register, register_url
    from supports.queries.glance import anybody_entered
    from supports.queries.lookups import person_of

    if is_there(register_url(named)):
        with open_register(named).reading() as session:
            if anybody_entered(session):
                who = acting_person(said[0] or said[1] or None) or ask("Your name", "--name")
                return Newcomer(person_of(session, who).name, "", is_entered=True)
    name = said[0] or ask("Nobody is entered yet. Your name", "--name 'Your Name'")
    short = said[1] or ask("Your initials (blank: none)", "--initials", may_be_blank=True)
    return Newcomer(name, short, is_entered=False)


def _made(
    named: str | None, plant: tuple[str, str], who: Newcomer, moment: datetime, ask: Terminal
) -> Register:
    """Make the register and enter the person, as far as they are not there.

    Parameters
    ----------
    plant
        Its name and its time zone.
    """
    from app.founding import is_there, make_register
    from app.settings import fresh_key, open_register, register_url
    from supports.operations.people import add_person
    from supports.vocabulary import Role

    url = register_url(named)
    if is_there(url):
        opened = open_register(named)
    else:
        opened = make_register(url, plant[0], fresh_key(), moment, plant[1])
    if not who.is_entered:
        keeper = Role.REGISTER_KEEPER
        add_person(opened, who.name, [keeper], acting="", now=moment, initials=who.initials)
        ask.tell(f"{who.name} is entered as {keeper}.")
    return opened


def _bring(
    opened: Register, file: Path, readings: list[Reading], who: str, moment: datetime,
    ask: Terminal, *, good: bool,
) -> None:  # fmt: skip
    """Show what each reading of the file would store, and store it."""
    from app.intake import brought_words, preview, read_against, store
    from app.progress import progress_shown

    for source in dict.fromkeys(one.source for one in readings) or ("",):
        with progress_shown() as told:
            today = day_of(moment, opened.zone)
            result, plan = read_against(opened, file, today, source=source, told=told)
        if source:
            ask.tell(f"As '{source}':")
        print_lines(preview(result, plan, every=False))
        accept = good or (
            result.forbids_storing
            and ask.somebody_answers
            and ask("Some rows have faults. Store the good ones alone? (yes, no)",
                    "--accept-the-good") == "yes"
        )  # fmt: skip
        brought = store(
            opened, result, plan, acting=who, reason=f"import of {file.name}", now=moment,
            accept_the_good=accept,
        )  # fmt: skip
        ask.tell(brought_words(brought))
