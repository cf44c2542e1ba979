"""The command line: noun, then verb. A noun is imported when somebody calls it."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from functools import cache
from importlib import import_module
from typing import Any

import typer
from typer.core import TyperGroup

from app.cli.noun import AsJson
from supports.errors import BadInput, InputHasFaults, SupportsError

NOUNS = {
    "begin": "The way in: a register, you, and your own workbook, step by step.",
    "where": "Where you stand, and what comes next.",
    "register": "The register itself.",
    "people": "People and their roles.",
    "sheets": "Spreadsheets in.",
    "support": "Supports in the register.",
    "unit": "Units in service.",
    "change": "Changes to lines.",
    "line": "Lines in space: screening calculations, drawings.",
    "paper": "Papers: what there is, and making them by name.",
    "plan": "Re-set plans: made, chosen, made again, the way back.",
    "work-order": "Work orders and what is read at each unit.",
    "stops": "Travel stops, by pin number.",
    "props": "Temporary props, by their number.",
    "walkdown": "Walkdowns: out, back in, closed with proof.",
    "turnaround": "Turnarounds: what is to be done, when, by whom.",
    "rules": "The rules: run, show, explain, compare, accept.",
    "settings": "Limits and periods of the site.",
    "desk": "The desk: the register in a browser.",
    "audit": "The record of all that was written.",
    "verification": "Published values, held against what comes out here.",
    "ask": "Which units answer to some filters, at once or under a name kept for later.",
}
"""Every noun with what it is about; each is the module of that name in this package."""


def loaded(noun: str) -> Any:
    """Return a noun with its commands; its module is imported now."""
    module = import_module(f"app.cli.{noun.replace('-', '_')}")
    module.app.info.help = NOUNS[noun]
    command = typer.main.get_command(module.app)
    command.name = noun
    return command


class Program(TyperGroup):
    """The whole program; it knows its nouns by name and imports the one that is called."""

    def __init__(self, **given: Any) -> None:
        super().__init__(**given)
        self.commands.update(dict.fromkeys(NOUNS))  # type: ignore[arg-type]  # imported when called

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """Return a noun, imported if it was not."""
        if cmd_name in NOUNS and self.commands[cmd_name] is None:
            self.commands[cmd_name] = loaded(cmd_name)
        return super().get_command(ctx, cmd_name)

    def format_commands(self, ctx: Any, formatter: Any) -> None:  # noqa: ARG002  typer's signature
        """Write what each noun is about; none is imported for it."""
        with formatter.section("Commands"):
            formatter.write_dl(NOUNS.items())


app = typer.Typer(
    name="supports", cls=Program, rich_markup_mode=None, pretty_exceptions_enable=False
)


@app.callback(invoke_without_command=True)
def supports(context: typer.Context, as_json: AsJson = False) -> None:
    """Pipe supports: what a change does to their loads, how to re-set them, and the proof.

    Alone it says where you stand and what comes next.
    """
    if context.invoked_subcommand is None:
        from app.cli.noun import answer
        from app.cli.where import where

        answer(where, context.command_path, as_json=as_json)


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


def whole_tree() -> Any:
    """Return the tree of all commands with every noun imported."""
    tree = command_tree()
    for noun in NOUNS:
        tree.get_command(None, noun)
    return tree


def run(words: Sequence[str]) -> None:
    """Run one command inside this program; what stops it is raised."""
    command_tree().main(args=list(words), prog_name="supports", standalone_mode=False)


def main() -> None:
    """Run a command; a failure is one sentence and an exit code, never a traceback."""
    as_json = "--json" in sys.argv
    try:
        ended = command_tree().main(prog_name="supports", standalone_mode=not as_json)
        if ended == STOPPED_BY_HAND:
            _tell(SupportsError(_STOPPED.removesuffix(".")), ended, as_json=as_json)
        sys.exit(ended)
    except SupportsError as error:
        _tell(error, error.exit_code, as_json=as_json)
    except typer.TyperException as error:
        _tell(BadInput(error.format_message().rstrip(".")), error.exit_code, as_json=as_json)
    except typer.Abort:
        _tell(SupportsError("given up"), SupportsError.exit_code, as_json=as_json)
    except SystemExit as ended:
        if ended.code == STOPPED_BY_HAND and not as_json:
            sys.stderr.write(f"supports: {_STOPPED}\n")
        raise
    except OSError as error:
        where = str(error.filename or "")
        what = BadInput(error.strerror or str(error), where=where)
        _tell(what, BadInput.exit_code, as_json=as_json)


def _tell(error: SupportsError, code: int, *, as_json: bool) -> None:
    """Write what stopped the request to the error channel, and end with its exit code."""
    findings = error.findings if isinstance(error, InputHasFaults) else ()
    if as_json:
        parts = ("what", "where", "found", "expected", "remedy")
        told = {
            "kind": type(error).__name__,
            "exit_code": code,
            "sentence": str(error),
            **{part: getattr(error, part) for part in parts},
            "findings": [str(one) for one in findings],
        }
        sys.stderr.write(json.dumps({"error": told}, ensure_ascii=False) + "\n")
    else:
        for finding in findings[:20]:
            sys.stderr.write(f"  {finding}\n")
        sys.stderr.write(f"supports: {error}\n")
    raise SystemExit(code) from None
