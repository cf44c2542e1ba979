"""supports desk: open the desk for browsers, and the accounts that may sign in."""

from __future__ import annotations

from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, RegisterAt

app = Noun()
account_app = Noun(about="Who may sign in at the desk.")
app.add_typer(account_app, name="account")

_Name = Annotated[str, typer.Argument(help="What is typed to sign in; one word.")]


@app.command("open")
def open_desk(
    host: Annotated[str, typer.Option(help="Address to listen at.")] = "127.0.0.1",
    port: Annotated[int, typer.Option(help="Port to listen at.")] = 8610,
    workers: Annotated[int, typer.Option(help="Processes; more than one on PostgreSQL.")] = 1,
    behind_tls: Annotated[
        bool, typer.Option("--behind-tls", help="A proxy in front of it speaks TLS.")
    ] = False,
    register: RegisterAt = None,
) -> None:
    """Open the desk and serve it until it is stopped by hand."""
    from app.web.serving import Served, serve

    serve(Served(register, host, port, workers, behind_tls))


@account_app.command("open")
def open_account(
    person: Annotated[str, typer.Argument(help="Name or initials of a person of the register.")],
    name: _Name,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Open an account; its first password is asked for here."""
    from app.settings import acting_person, now, open_register
    from app.web.keys import hashed
    from supports.operations.accounts import NewAccount
    from supports.operations.accounts import open_account as open_for

    new = NewAccount(person, name, hashed(_asked_password(), name))
    open_for(open_register(register), new, acting=acting_person(acting), now=now())
    print(f"{person} can sign in as {name}.")


@account_app.command("password")
def new_password(name: _Name, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Give an account a new password; its sessions end."""
    from app.settings import acting_person, now, open_register
    from app.web.keys import hashed
    from supports.operations.accounts import set_password

    password = hashed(_asked_password(), name)
    set_password(open_register(register), name, password, acting=acting_person(acting), now=now())
    print(f"{name} has a new password; its sessions have ended.")


@account_app.command("close")
def close(name: _Name, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Close an account: nobody signs in with it any more."""
    from app.settings import acting_person, now, open_register
    from supports.operations.accounts import close_account

    close_account(open_register(register), name, acting=acting_person(acting), now=now())
    print(f"{name} is closed.")


@account_app.command("list")
def list_accounts(register: RegisterAt = None) -> Answer:
    """List who may sign in."""
    from app.fitting import table
    from app.settings import now, open_register
    from supports.queries.accounts import accounts
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        held = tuple(accounts(session, day_at(session, now())))
    cells = [
        (one.name, one.person, ", ".join(sorted(one.roles)) or "no role today",
         "" if one.open else "(closed)")
        for one in held
    ]  # fmt: skip
    return Answer(held, table(cells))


def _asked_password() -> str:
    """Ask for a password on the error channel: what a program reads of the answer stays clean."""
    password: str = typer.prompt("Password", hide_input=True, confirmation_prompt=True, err=True)
    return password
