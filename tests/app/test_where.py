"""Where somebody stands, at any terminal: no register, an empty one, one with work waiting."""

from __future__ import annotations

import json
import os
import pty
import subprocess
import sys

from tests.app.conftest import ROOT

PROGRAM = "from app.cli.main import main; main()"


def test_without_a_register_the_way_to_make_one_is_named(tmp_path):
    nowhere = str(tmp_path / "none.db")
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM],
        cwd=ROOT, env=os.environ | {"SUPPORTS_REGISTER": nowhere}, capture_output=True, text=True,
        check=True,
    )  # fmt: skip
    assert done.stdout.startswith(f"There is no register at {nowhere} yet.")
    assert "    supports begin" in done.stdout


def test_with_a_register_what_it_holds_and_what_waits_is_counted(terminal):
    terminal("stops", "in", "PS-1024", "7", "--reason", "cleaning", "--as", "T1")
    typed = terminal()
    assert typed.code == 0, typed.err
    assert "1 line, 1 support, 1 unit" in typed.out
    assert "1 travel stop in" in typed.out
    assert "    supports stops count" in typed.out
    told = json.loads(terminal("where", "--json").out)["answer"]
    assert (told["holds"]["stops_in"], told["holds"]["rules_run_at"]) == (1, None)
    assert told["next"][0]["command"] == "supports stops count"


def test_the_next_commands_name_the_register_that_was_named_and_the_person_known(terminal):
    typed = terminal("where", "--register", terminal.site.url, SUPPORTS_PERSON="Person T1")
    assert f"supports rules run --as 'Person T1' --register {terminal.site.url}" in typed.out


def test_a_narrow_terminal_folds_lines_and_nothing_is_coloured(terminal):
    shell, screen = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-c", PROGRAM, "support", "show", "PS-1024"],
        cwd=ROOT, env=terminal.environment({"COLUMNS": "32"}), stdout=screen,
    ) as typed:  # fmt: skip
        typed.wait(60)
    os.close(screen)
    told = os.read(shell, 100_000).decode()
    os.close(shell)
    lines = told.splitlines()
    assert max(map(len, lines)) <= 32
    assert "\x1b" not in told
    assert len(lines) > len(terminal("support", "show", "PS-1024").out.splitlines())
