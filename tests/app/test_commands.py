"""Every command says what it does, and saying so costs little."""

from __future__ import annotations

import subprocess
import sys

import pytest

from app.cli.main import whole_tree
from app.cli.options import tag_and_position
from tests.app.conftest import ROOT

HEAVY = ("sqlalchemy", "alembic", "pandas", "numpy", "scipy", "pint", "typst", "openpyxl",
         "xlsxwriter", "pydantic", "psycopg", "fluids", "rich")  # fmt: skip


def commands(group=None, path=()):
    """Yield each command with the words that call it."""
    group = group or whole_tree()
    for name, command in group.commands.items():
        if hasattr(command, "commands"):
            yield from commands(command, (*path, name))
        else:
            yield (*path, name), command


ALL = dict(commands())


@pytest.mark.parametrize("words", ALL, ids=" ".join)
def test_every_command_says_what_it_does(words):
    said = ALL[words].help.strip().splitlines()[0]
    assert len(said) > 10
    assert said.endswith(".")


@pytest.mark.parametrize("words", ALL, ids=" ".join)
def test_every_option_and_argument_says_what_it_is(words):
    silent = [p.name for p in ALL[words].params if p.name != "help" and not getattr(p, "help", "")]
    assert silent == []


def test_every_noun_says_what_it_is_about():
    groups = whole_tree().commands
    assert [name for name, group in groups.items() if not group.help] == []


def test_help_imports_nothing_heavy():
    script = (
        "import sys\n"
        "sys.argv = ['supports', '--help']\n"
        "from app.cli.main import main\n"
        "try: main()\n"
        "except SystemExit: pass\n"
        f"print([name for name in {HEAVY} if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert "Pipe supports" in done.stdout
    assert done.stdout.splitlines()[-1] == "[]"


def test_a_page_about_a_unit_waits_for_no_library_that_it_does_not_use():
    unused = ("alembic", "pandas", "scipy", "pint", "openpyxl", "xlsxwriter", "fluids", "rich")
    script = (
        "import sys\n"
        "import app.making.supports_, app.settings, reports.pdf.document\n"
        f"print([name for name in {unused} if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "[]"


@pytest.mark.parametrize(
    ("typed", "place"),
    [("PS-12/B", ("PS-12", "B")), ("PS-12/b", ("PS-12", "B")), ("PS-12", ("PS-12", "")),
     ("1/2-PS-12", ("1/2-PS-12", ""))],
)  # fmt: skip
def test_a_tag_may_name_its_unit(typed, place):
    assert tag_and_position(typed) == place
