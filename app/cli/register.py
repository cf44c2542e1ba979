"""supports register: make a register, bring it up to date, write it out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.cli.options import Into, RegisterAt
from supports.vocabulary import counted

app = typer.Typer(no_args_is_help=True, help="The register itself.")


@app.command()
def create(
    plant: Annotated[str, typer.Option(help="Name of the plant, for the papers.")] = "",
    register: RegisterAt = None,
) -> None:
    """Make an empty register."""
    from app.settings import fresh_key, now, register_url
    from supports.database import Register, shown_url
    from supports.errors import BadInput
    from supports.operations.site import found_register

    url = register_url(register)
    if url.get_backend_name() == "sqlite" and Path(url.database or "").exists():
        raise BadInput("there is something here already", where=url.database or "")
    made = Register(url)
    made.migrate()
    found_register(
        made, plant=plant, form_key=fresh_key(), acting="whoever made the register", now=now()
    )
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
def export(into: Into, register: RegisterAt = None) -> None:
    """Write the whole register as plain sheets that can be imported again."""
    from app.settings import open_register
    from importers.export import export_csv, export_xlsx
    from supports.queries.existing import today

    with open_register(register).reading() as session:
        values = today(session).values
    into.mkdir(parents=True, exist_ok=True)
    export_xlsx(into / "register.xlsx", values)
    export_csv(into / "csv", values)
    print(
        f"{counted(len(values), 'record')} written to {into / 'register.xlsx'} and {into / 'csv'}."
    )
