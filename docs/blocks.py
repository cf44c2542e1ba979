"""Blocks of the pages that are run: commands after ``$``, Python after ``>>>``.

Each page runs from top to bottom beside its own copy of the invented plant.
``python -m docs.blocks FOLDER`` runs all of them at the plant in that folder (made by the first run
and the walkdown) and writes what they answer into the pages; a test holds the pages against it.
"""

from __future__ import annotations

import code
import io
import os
import re
import shlex
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import chdir, contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path

from app.cli.main import run
from app.settings import CLOCK, PERSON, REGISTER
from supports.errors import SupportsError

PAGES = Path(__file__).parent / "pages"
TODAY = "2026-10-27T08:00:00"
LONGEST = 30
"""Lines of an answer that a page shows; the rest is left out, and said so."""

_BLOCK = re.compile(r"^```(console|python)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_LEFT_OUT = "..."


def answered(text: str) -> str:
    """Return a page with the answers of its blocks as they are now, in the folder at hand."""
    python = code.InteractiveInterpreter({"__name__": "__page__"})

    def anew(block: re.Match[str]) -> str:
        kind, body = block.groups()
        lines = _typed(body) if kind == "console" else _python(body, python)
        return f"```{kind}\n" + "".join(f"{line}\n" for line in lines) + "```"

    return _BLOCK.sub(anew, text)


def _typed(body: str) -> Iterator[str]:
    for line in body.splitlines():
        if line.startswith("$ "):
            yield line
            yield from _short(_output_of(line[2:]))


def _output_of(line: str) -> str:
    words = shlex.split(line)
    if words[0] != "supports":
        raise ValueError(f"a page types a command that is none of ours: {line}")
    heard = io.StringIO()
    with redirect_stdout(heard):
        try:
            run(words[1:])
        except SupportsError as error:
            heard.write(f"supports: {error}\n")
    return heard.getvalue()


def _python(body: str, python: code.InteractiveInterpreter) -> Iterator[str]:
    pending: list[str] = []
    for line in [*body.splitlines(), ""]:
        if line.startswith("... "):
            pending.append(line[4:])
            yield line
            continue
        if pending:
            yield from _short(_value_of("\n".join(pending), python))
            pending = []
        if line.startswith(">>> "):
            pending.append(line[4:])
            yield line


def _value_of(source: str, python: code.InteractiveInterpreter) -> str:
    heard = io.StringIO()
    with redirect_stdout(heard), redirect_stderr(heard):
        python.runsource(source + ("\n" if "\n" in source else ""), symbol="single")
    return heard.getvalue()


_EACH_TIME_ANOTHER = {
    r"\b[0-9A-F]{4}-[0-9A-F]{4}-[0-9A-F]{4}\b": "0123-4567-89AB",
    r"\b[0-9A-F]{12}\b": "0123456789AB",
    r"[\d,]+ rows of \d+ tables": "23,000 rows of 85 tables",
    r"[\d,]+ rows are back": "23,000 rows are back",
}
"""Marks and counts that depend on the register's own key and size, and what pages show instead."""


def _short(answer: str) -> Iterator[str]:
    for found, shown in _EACH_TIME_ANOTHER.items():
        answer = re.sub(found, shown, answer)
    lines = [line.rstrip() for line in answer.strip("\n").splitlines()]
    yield from lines[:LONGEST]
    if len(lines) > LONGEST:
        yield _LEFT_OUT


@contextmanager
def beside_the_plant(plant: Path, folder: Path) -> Iterator[None]:
    """Stand in a folder with a copy of the plant's register, which the environment names."""
    shutil.copy(plant / "register.db", folder / "register.db")
    shutil.copytree(plant / "sheets", folder / "sheets", dirs_exist_ok=True)
    before = dict(os.environ)
    os.environ |= {REGISTER: "register.db", CLOCK: TODAY}
    os.environ.pop(PERSON, None)
    try:
        with chdir(folder):
            yield
    finally:
        os.environ.clear()
        os.environ.update(before)


def pages_with_blocks() -> list[Path]:
    """Return the pages that hold blocks to run."""
    return [path for path in sorted(PAGES.rglob("*.md")) if _BLOCK.search(path.read_text("utf-8"))]


def main() -> None:
    """Write what the blocks answer into every page."""
    plant = Path(sys.argv[1]).resolve()
    for path in pages_with_blocks():
        with tempfile.TemporaryDirectory() as folder, beside_the_plant(plant, Path(folder)):
            text = answered(path.read_text("utf-8"))
        path.write_text(text, encoding="utf-8")
        sys.stdout.write(f"{path.name}\n")


if __name__ == "__main__":
    main()
