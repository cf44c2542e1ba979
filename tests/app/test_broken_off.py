"""Whatever a deed is broken off by, the register holds a state that it passes through anyway.

A sample, the same each time; `bench.faults` tries more of it, and at random moments.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys

from tests.app.conftest import ROOT
from tests.postgres import NAMED_BY

SEED = 4
ENOUGH = 12
"""An import writes into at least as many tables, and each is a point."""


def tried(database: str, request, *words: str) -> list[dict]:
    """Break deeds off in a process of its own, which has no threads to trouble a fork."""
    environment = dict(os.environ)
    if database == "postgresql":
        server = request.getfixturevalue("postgres_server")
        environment[NAMED_BY] = server.render_as_string(hide_password=False)
    done = subprocess.run(
        [sys.executable, "-m", "tests.broken_off", database, f"{SEED}", *words], cwd=ROOT,
        env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


def whole(tries: list[dict]) -> None:
    """Hold that nothing was lost, half-written or double, and that all was told in a sentence."""
    assert [one for one in tries if not (one["sound"] and one["same_end"])] == []
    assert [one for one in tries if one["ended"] == "went wrong"] == []


def named(tries: list[dict], how: str) -> list[dict]:
    return [one for one in tries if one["how"] == how]


def test_a_deed_killed_or_out_of_disk_is_stored_by_whole_transactions(request):
    deeds = ("returned form", "upgrade", "backup")
    tries = tried("sqlite", request, "killed=1", "full=1", "--", *deeds)
    whole(tries)
    assert {one["deed"] for one in tries} == set(deeds)
    assert {one["ended"] for one in named(tries, "killed")} == {"killed"}
    for one in named(tries, "full"):
        assert one["ended"] == "told"
        assert "the disk of the register is full, or refuses to be written" in one["said"]
        assert "Make room, then repeat" in one["said"]


def test_an_import_killed_at_any_statement_has_written_all_or_nothing(request):
    tries = tried("sqlite", request, "killed=0", "--", "import")
    whole(tries)
    assert len(tries) >= ENOUGH
    assert all(one["untouched"] for one in tries)


def test_a_deed_killed_or_cut_off_on_a_server_is_stored_by_whole_transactions(request):
    """A form is several transactions: some of its rows are stored, and the rest when repeated."""
    tries = tried("postgresql", request, "killed=1", "cut=2", "--", "import", "returned form")
    whole(tries)
    assert {one["untouched"] for one in tries} == {True, False}
    for one in named(tries, "cut"):
        assert one["ended"] == "told"
        assert "the connection to the database was lost" in one["said"]
