"""A noun of the command line, whose commands all answer to readers and to programs."""

from __future__ import annotations

import functools
import inspect
import io
from collections.abc import Callable
from contextlib import redirect_stdout
from typing import Annotated, Any

import typer

AsJson = Annotated[bool, typer.Option("--json", help="Answer as JSON, for programs.")]
_CONTEXT, _AS_JSON = "_context", "as_json"


class Noun(typer.Typer):
    """A group of commands; each takes `--json` without saying so itself.

    A command that reads returns an `app.answers.Answer`. What a command that writes says is handed
    on line by line.
    """

    def __init__(self, *, about: str = "", **given: Any) -> None:
        settings = {"no_args_is_help": True, "help": about, "add_completion": False, **given}
        super().__init__(rich_markup_mode=None, pretty_exceptions_enable=False, **settings)

    def command(self, name: str | None = None, **given: Any) -> Callable[..., Any]:
        """Take a function as a command, as typer does, and give it `--json`."""
        taken = super().command(name, **given)

        def take(function: Callable[..., Any]) -> Callable[..., Any]:
            taken(answering(function))
            return function

        return take


def answering(function: Callable[..., Any]) -> Callable[..., None]:
    """Return the function with the option `--json`, printing what it answers."""
    signature = inspect.signature(function, eval_str=True)
    context = inspect.Parameter(_CONTEXT, inspect.Parameter.KEYWORD_ONLY, annotation=typer.Context)
    as_json = inspect.Parameter(
        _AS_JSON, inspect.Parameter.KEYWORD_ONLY, annotation=AsJson, default=False
    )

    @functools.wraps(function)
    def answered(**given: Any) -> None:
        path, wanted = given.pop(_CONTEXT).command_path, given.pop(_AS_JSON)
        answer(functools.partial(function, **given), path, as_json=wanted)

    added = {_CONTEXT: typer.Context, _AS_JSON: AsJson}
    answered.__annotations__ = {**function.__annotations__, **added}
    answered.__signature__ = signature.replace(  # type: ignore[attr-defined]
        parameters=[*signature.parameters.values(), context, as_json]
    )
    return answered


def answer(ask: Callable[[], Any], path: str, *, as_json: bool) -> None:
    """Ask, and print the answer: as lines, or as JSON under the words that call the command."""
    from app.answers import Answer, print_answer, print_lines

    heard = io.StringIO()
    if as_json:
        with redirect_stdout(heard):
            given = ask()
        data = given.data if isinstance(given, Answer) else None
        print_answer(path.partition(" ")[2], data, heard.getvalue().splitlines())
    else:
        given = ask()
        if isinstance(given, Answer):
            print_lines(given.lines)
    if isinstance(given, Answer) and given.exit_code:
        raise typer.Exit(given.exit_code)
