"""The command line: noun, then verb. Everything heavy is imported inside the commands."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from functools import cache
from typing import Any

import typer

from app.cli import (
    ask,
    audit,
    change,
    desk,
    line,
    paper,
    people,
    plan,
    register,
    rules,
    settings_,
    sheets,
    stops,
    support,
    turnaround,
    unit,
    verification,
    walkdown,
    work_order,
)
from supports.errors import BadInput, InputHasFaults, SupportsError

app = typer.Typer(
    name="supports",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Pipe supports: what a change does to their loads, how to re-set them, and the proof.",
)

for noun, commands in (
    ("register", register.app),
    ("people", people.app),
    ("sheets", sheets.app),
    ("support", support.app),
    ("unit", unit.app),
    ("change", change.app),
    ("line", line.app),
    ("paper", paper.app),
    ("plan", plan.app),
    ("work-order", work_order.app),
    ("stops", stops.app),
    ("walkdown", walkdown.app),
    ("turnaround", turnaround.app),
    ("rules", rules.app),
    ("settings", settings_.app),
    ("desk", desk.app),
    ("audit", audit.app),
    ("verification", verification.app),
):
    app.add_typer(commands, name=noun)
app.command("ask")(ask.ask)


STOPPED_BY_HAND = 130
"""The usual exit code of a program that the interrupt key has ended."""

_STOPPED = (
    "stopped by hand. What was being written was taken back whole; "
    "what was said to be stored before stays."
)


@cache
def command_tree() -> Any:
    """Return the tree of all commands; whoever runs many builds it once."""
    return typer.main.get_command(app)


def run(words: Sequence[str]) -> None:
    """Run one command inside this program; what stops it is raised."""
    command_tree().main(args=list(words), prog_name="supports", standalone_mode=False)


def main() -> None:
    """Run a command; a failure is one sentence and an exit code, never a traceback."""
    try:
        app()
    except SupportsError as error:
        if isinstance(error, InputHasFaults):
            for finding in error.findings[:20]:
                sys.stderr.write(f"  {finding}\n")
        sys.stderr.write(f"supports: {error}\n")
        raise SystemExit(error.exit_code) from None
    except SystemExit as ended:
        if ended.code == STOPPED_BY_HAND:
            sys.stderr.write(f"supports: {_STOPPED}\n")
        raise
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        sys.stderr.write(f"supports: {where}{error.strerror or error}.\n")
        raise SystemExit(BadInput.exit_code) from None
