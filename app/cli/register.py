"""supports register: make a register, bring it up to date, write it out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer, Files
from app.cli.noun import Noun
from app.cli.options import Into, RegisterAt, TimeZone
from supports.vocabulary import counted

app = Noun()


@app.command()
def create(
    plant: Annotated[str, typer.Option(help="Name of the plant, for the papers.")] = "",
    time_zone: TimeZone = "",
    register: RegisterAt = None,
) -> None:
    """Make an empty register."""
    from app.founding import make_register
    from app.settings import fresh_key, now, register_url
    from supports.database import shown_url

    url = register_url(register)
    make_register(url, plant, fresh_key(), now(), time_zone)
    print(f"An empty register is at {shown_url(url)}.")
    print("Next: supports people add 'Your Name' --role 'register keeper'")


@app.command()
def upgrade(register: RegisterAt = None) -> None:
    """Bring a register to the present revision."""
    from app.settings import existing_url
    from supports.database import Register, shown_url

    url = existing_url(register)
    Register(url).migrate()
    print(f"{shown_url(url)} is of the present revision.")


@app.command()
def backup(
    into: Annotated[Path, typer.Option("--into", help="File to keep the copy in; a new one.")],
    register: RegisterAt = None,
) -> Answer:
    """Copy the whole register into a file, and hold the copy against it row by row."""
    from app.copies import keep_copy
    from app.settings import open_register

    copied = keep_copy(open_register(register), into)
    rows, tables = counted(copied.total, "row"), counted(len(copied.rows), "table")
    lines = (
        f"{rows} of {tables} are in {into}.",
        f"Read back and the same: {copied.fingerprint[:12].upper()}",
        f"Back from it into an empty place: supports register restore {into} --register NEW",
        "Photos of walkdowns lie in their own folder: copy that beside it.",
    )
    return Answer(copied, lines)


@app.command()
def restore(
    copy: Annotated[Path, typer.Argument(help="File that a copy was kept in.")],
    register: RegisterAt = None,
) -> Answer:
    """Bring a copy back into an empty place: a new file, or an empty PostgreSQL database."""
    from app.copies import bring_back
    from app.settings import register_url
    from supports.database import shown_url

    url = register_url(register)
    copied = bring_back(copy, url)
    lines = (
        f"{counted(copied.total, 'row')} are back in {shown_url(url)}.",
        f"Read back and the same: {copied.fingerprint[:12].upper()}",
        "Next: supports audit verify",
    )
    return Answer(copied, lines)


@app.command()
def export(into: Into, register: RegisterAt = None) -> Answer:
    """Write the register as plain sheets: those that come in again, and history to be read."""
    from app.settings import open_register
    from importers.export import export_csv, export_xlsx, write_csv
    from importers.template import write_tables
    from supports.queries.existing import today
    from supports.queries.leaving import history_tables, stays_behind

    with open_register(register).reading() as session:
        values = today(session).values
        history, left = history_tables(session), stays_behind(session, values)
    into.mkdir(parents=True, exist_ok=True)
    export_xlsx(into / "register.xlsx", values)
    export_csv(into / "csv", values)
    write_tables(into / "history.xlsx", history)
    write_csv(into / "history", history)
    places = (into / "register.xlsx", into / "csv", into / "history.xlsx", into / "history")
    rows = ", ".join(f"{counted(len(t) - 1, 'row')} of {name}" for name, t in history.items())
    rest = ", ".join(f"{counted(count, 'row')} of {name}" for name, count in left.items())
    lines = (
        f"{counted(len(values), 'record')} written to {places[0]} and {places[1]};",
        "  they come in again with: supports sheets import",
        f"To be read only, in {places[2]} and {places[3]}: {rows}.",
        f"Not written: {rest or 'nothing'}. A copy of the register itself holds all.",
    )
    return Answer(Files(tuple(map(str, places))), lines)
