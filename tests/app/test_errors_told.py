"""What goes wrong is told in one sentence, with its exit code, and nothing is stored."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import psycopg
import pytest
from sqlalchemy import func, select, text

from supports.model import AuditBatch
from tests.acceptance.sheets import SUPPORTS, one_constant
from tests.app.conftest import ROOT
from tests.postgres import address

SETTING = ["Support tag", "Set on", "Set load [kN]", "Method", "Set by"]


def told(typed, code: int, *words: str) -> None:
    """Hold what a command left behind against the rule."""
    assert typed.code == code, typed
    assert "Traceback" not in typed.err + typed.out
    last = typed.err.rstrip().splitlines()[-1]
    assert last.startswith("supports: "), typed.err
    for word in words:
        assert word in last


@pytest.fixture
def unchanged(register):
    """Hold that a test writes nothing."""

    def batches():
        with register.reading() as session:
            return session.scalar(select(func.count(AuditBatch.id)))

    return batches


def test_wrong_files_sheets_columns_and_cells_store_nothing(terminal, unchanged):
    site, before = terminal.site, unchanged()
    note = site.folder / "note.docx"
    note.write_text("no workbook")
    cases = {
        "absent.xlsx": ("absent.xlsx", "cannot be opened"),
        note.name: ("note.docx", "not a workbook"),
        site.write("sheet.xlsx", {"Sheet9": [["a", "b"], ["1", "2"]]}).name: ("'Sheet9'",),
        site.write("column.xlsx", {"Settings": [["Support tag", "Set on"], ["PS-1024", "x"]]}).name:
            ("column.xlsx Settings",),
    }  # fmt: skip
    for name, words in cases.items():
        path = str(site.folder / name)
        told(terminal("sheets", "import", path, "--as", "KK"), 2, *words)
    bad = site.write("cell.xlsx", {"Settings": [SETTING, ["PS-1024", "2030-01-01", "many", "scale",
                                                          "N. N."]]})  # fmt: skip
    typed = terminal("sheets", "import", str(bad), "--as", "KK")
    told(typed, 2, "nothing was stored")
    assert "cell.xlsx Settings C2" in typed.out
    assert "found 'many'" in typed.out
    assert unchanged() == before


def test_one_bad_row_does_not_stop_the_good_ones_if_so_wished(terminal):
    rows = [["PS-1024", "2030-01-01", "many", "scale", "N."], ["PS-1024", "2030-01-02", 21, "scale",
                                                              "N."]]  # fmt: skip
    path = terminal.site.write("some.xlsx", {"Settings": [SETTING, *rows]})
    typed = terminal("sheets", "import", str(path), "--accept-the-good", "--as", "KK")
    assert (typed.code, typed.err) == (0, "")
    history = terminal("unit", "history", "PS-1024").out
    assert "2030-01-02" in history
    assert "2030-01-01" not in history


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["support", "show", "PS-1204"], 3, "Did you mean PS-1024"),
        (["support", "list", "--line", "L-11"], 3, "Did you mean L-1"),
        (["unit", "history", "PS-1024/B"], 3, "no unit in position B"),
        (["change", "show", "CH-7"], 3, "change 'CH-7' is not in the register"),
        (["change", "close", "CH-7"], 4, "nobody is named as acting"),
        (["change", "close", "CH-7", "--as", "Nobody"], 4, "person 'Nobody'"),
        (["people", "add", "X", "--role", "technishian", "--as", "KK"], 2, "technician"),
        (["people", "add", "X", "--role", "technician", "--as", "T1"], 4, "register keeper"),
        (["people", "add", "Person T1", "--role", "technician", "--as", "KK"], 6, "already"),
        (["sheets", "blank", "/proc/none/blank.xlsx"], 2, "/proc/none/blank.xlsx"),
        (["register", "export", "--into", "/proc/none"], 2, "/proc/none"),
        (["support", "list", "--register", "other://x"], 2, "SQLite or PostgreSQL"),
        (["support", "list", "--register", "://"], 2, "address of the register"),
        (["support", "list", "--register", "/nowhere/x.db"], 2, "no register here"),
        (["support", "list", "--register", "postgresql://127.0.0.1:9/x"], 7, "127.0.0.1:9"),
    ],
)
def test_each_fault_has_its_sentence_and_exit_code(terminal, words, code, said):
    told(terminal(*words), code, said)


def test_a_file_that_is_no_register_is_named(terminal, tmp_path):
    (tmp_path / "notes.db").write_text("shopping list\n" * 100)
    told(terminal("support", "list", "--register", str(tmp_path / "notes.db")), 7,
         "notes.db", "not a register")  # fmt: skip


def test_a_register_of_another_revision_is_named(terminal, register):
    with register.engine.execution_options(writes=True).begin() as connection:
        present = connection.execute(text("SELECT version_num FROM alembic_version")).scalar_one()
        connection.execute(text("UPDATE alembic_version SET version_num = '0000'"))
    told(terminal("support", "list"), 7, "another revision", "0000", "supports register upgrade")
    with register.engine.execution_options(writes=True).begin() as connection:
        back = {"present": present}
        connection.execute(text("UPDATE alembic_version SET version_num = :present"), back)


def test_a_locked_register_is_told_after_a_short_wait(terminal, register, unchanged):
    before = unchanged()
    add = ("people", "add", "New", "--role", "technician", "--as", "KK")
    with held(register):
        told(terminal(*add, SUPPORTS_LOCK_WAIT="0.2"), 7, "another program is writing")
    assert unchanged() == before
    told(terminal(*add, SUPPORTS_LOCK_WAIT="soon"), 2, "SUPPORTS_LOCK_WAIT", "soon")
    assert terminal(*add).code == 0


def held(register):
    """Hold the right to write, as another program would."""
    if register.url.get_backend_name() == "sqlite":
        return register.engine.execution_options(writes=True).begin()
    connection = psycopg.connect(address(register.url))
    connection.execute("LOCK TABLE person IN ACCESS EXCLUSIVE MODE")
    return connection


def test_a_clock_that_is_no_time_is_told(terminal):
    told(terminal("sheets", "check", "x.xlsx", SUPPORTS_CLOCK="noon"), 2, "SUPPORTS_CLOCK", "noon")


@pytest.mark.parametrize(
    "words", [["nonsense"], ["support", "show"], ["support", "list", "--colour"], ["change", "new",
              "t", "--line", "L-1", "--until", "soon"]]
)  # fmt: skip
def test_wrong_usage_is_told_with_the_way_to_help(terminal, words):
    typed = terminal(*words)
    assert typed.code == 2
    assert typed.err.startswith("Usage: ")
    assert "--help" in typed.err
    assert typed.err.splitlines()[-1].startswith("Error: ")


def test_a_reader_that_goes_away_is_no_fault(terminal, tmp_path):
    rows = [[f"PS-{n}", "L-1"] for n in range(2000)]
    terminal.site.bring("many.xlsx", {"Supports": [SUPPORTS[:2], *rows]})
    command = "from app.cli.main import main; main()"
    listing = subprocess.Popen(
        [sys.executable, "-c", command, "support", "list"],
        cwd=ROOT, env=terminal.environment({}), stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        text=True,
    )  # fmt: skip
    with listing:
        assert listing.stdout.readline().strip()
        listing.stdout.close()
        complaint = listing.stderr.read()
    assert complaint == ""


def test_an_interrupted_command_stores_nothing_and_says_little(terminal, register, unchanged):
    before = unchanged()
    interrupt = (
        "import app.intake, os, signal\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "def stop(*_, **__): os.kill(os.getpid(), signal.SIGINT)\n"
        "app.intake.bring_in = stop\n"
        "from app.cli.main import main; main()"
    )
    sheets = one_constant("PS-2", 20.0, 22.1, rod=40.0)
    sheets["Supports"][1][2] = 2
    path = terminal.site.write("late.xlsx", {name: sheets[name] for name in ("Lines", "Supports")})
    done = subprocess.run(
        [sys.executable, "-c", interrupt, "sheets", "import", str(path), "--as", "KK"],
        cwd=ROOT, env=terminal.environment({}), capture_output=True, text=True, timeout=60,
        check=False,
    )  # fmt: skip
    assert done.returncode in {1, 130, -signal.SIGINT}, done.stdout + done.stderr
    assert "Traceback" not in done.stderr
    assert unchanged() == before


def test_nobody_reads_paths_of_this_machine_in_a_message(terminal):
    typed = terminal("sheets", "import", "absent.xlsx", "--as", "KK")
    assert str(Path(os.sep, "work")) not in typed.err
