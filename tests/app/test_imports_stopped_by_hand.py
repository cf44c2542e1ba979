"""An import that is stopped by hand leaves nothing half-written; on both databases."""

from __future__ import annotations

import contextlib
import os
import pty
import subprocess
import sys

import pytest

from tests.acceptance.sheets import one_constant
from tests.app.conftest import ROOT
from tests.interrupted import counted, typed_until

LATE = 12
"""An import writes into at least as many tables, and each is a point."""


@pytest.fixture
def file(terminal):
    """Give a workbook with one hanger and all that belongs to it."""
    sheets = one_constant("PS-7", 20.0, 20.1, rod=60.0)
    sheets["Supports"][1][2] = 9  # a place of its own along the line
    return terminal.site.write("plant.xlsx", sheets)


@pytest.mark.parametrize("point", [1, LATE])
def test_the_interrupt_key_ends_an_import_with_a_sentence_and_nothing_behind(
    register, terminal, file, point
):
    before = counted(register)
    environment = terminal.environment({"SUPPORTS_PERSON": "KK"})
    done = typed_until(point, ["sheets", "import", str(file)], environment)
    assert done.returncode == 130
    assert "stopped by hand" in done.stderr
    assert "Traceback" not in done.stderr
    assert "Stored" not in done.stdout
    assert counted(register) == before
    assert "Stored" in terminal("sheets", "import", str(file), SUPPORTS_PERSON="KK").out


def test_a_bar_moves_where_somebody_sees_it_and_only_there(terminal, file):
    assert terminal("sheets", "check", str(file)).err == ""
    assert "━" in seen_on_a_screen(terminal, "sheets", "check", str(file))


def seen_on_a_screen(terminal, *words: str) -> str:
    """Return what a command writes to its error channel where that is a terminal."""
    seen, there = pty.openpty()
    command = [sys.executable, "-c", "from app.cli.main import main; main()", *words]
    with subprocess.Popen(
        command, cwd=ROOT, env=terminal.environment({"TERM": "xterm"}), stderr=there,
        stdout=subprocess.DEVNULL,
    ) as child:  # fmt: skip
        os.close(there)
        text = b""
        with contextlib.suppress(OSError):  # a terminal that nobody writes to any more
            while piece := os.read(seen, 4096):
                text += piece
        os.close(seen)
    assert child.returncode == 0
    return text.decode()
