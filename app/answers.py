"""What a command answers: data for a program, lines for a reader, and how each is printed."""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from app.fitting import fitted
from app.plainly import plain

VERSION = 1
"""Of the envelope; it rises when a program that reads it would have to be changed."""


@dataclass(frozen=True)
class Answer:
    """What a reading command returns.

    Parameters
    ----------
    data
        Frozen views and lists of them; `app.plainly` says how they become JSON.
    lines
        The same for a reader at a terminal.
    exit_code
        Where the answer itself is a failure, as in a check.
    """

    data: Any
    lines: Sequence[str]
    exit_code: int = 0


@dataclass(frozen=True, slots=True)
class Files:
    """Files that a command wrote."""

    files: tuple[str, ...] = field(default=())


def files_written(paths: Iterable[Path], *more: str) -> Answer:
    """Return the answer of a command that wrote files, with what else it says."""
    names = tuple(str(path) for path in paths)
    return Answer(Files(names), (*names, *more))


def print_lines(lines: Iterable[str]) -> None:
    """Print lines, folded to a terminal that is narrow; whole where no terminal listens."""
    width = shutil.get_terminal_size().columns if sys.stdout.isatty() else 0
    for line in lines:
        print("\n".join(fitted(line, width)))


def print_answer(command: str, data: Any, said: Sequence[str] = ()) -> None:
    """Print an answer as JSON.

    Parameters
    ----------
    command
        Words that call the command.
    said
        What a writing command said beside its data.
    """
    envelope = {"command": command, "version": VERSION, "answer": plain(data), "said": [*said]}
    print(json.dumps(envelope, ensure_ascii=False, indent=1))
