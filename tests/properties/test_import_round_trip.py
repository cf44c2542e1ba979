"""What came in once changes nothing the second time, nor does the register's own export.

Files are drawn by seed with `tests.fuzzing`: sheets of hangers, most of them with odd cells, broken
headings or shuffled rows; what is good of them is stored. A second look knows more than the first,
so it may doubt a value that the first took: doubts may be added, facts never change.
"""

from __future__ import annotations

import random

import pytest

from app.intake import read_against, store
from importers.export import export_csv, export_xlsx
from supports.database import Register
from supports.errors import SupportsError
from supports.model import Person
from supports.queries.existing import today
from tests.fuzzing import NOW, VALUES, WRITER, base_rows, written
from tests.interrupted import counted

SEEDS = range(8)
DOUBTS = {"quarantined_value", "import_run", "audit_batch", "audit_entry"}
"""What keeps a new doubt."""


def facts(register: Register) -> dict[str, int]:
    """Count the rows of every table of facts and their sources."""
    return {name: rows for name, rows in counted(register).items() if name not in DOUBTS}


def bring(register: Register, path) -> bool:
    """Store what is good of a file; return whether anything was written."""
    result, plan = read_against(register, path, NOW.date())
    said = {"acting": WRITER, "reason": "a test", "now": NOW, "accept_the_good": True}
    return store(register, result, plan, **said).stored


@pytest.fixture
def filled(register, tmp_path):
    """Give a register into which several odd files went, as far as they are good."""
    with register.writing(WRITER, "a test", NOW, action="people") as writing:
        writing.session.add(Person(name=WRITER))
    taken = 0
    for seed in SEEDS:
        rng = random.Random(seed)  # noqa: S311  mutations, no secret
        rows = base_rows(rng)
        for _ in range(seed % 2):
            rng.choice(VALUES)(rows, rng)
        path = tmp_path / f"{seed}.xlsx"
        path.write_bytes(written(rows, rng))
        try:
            taken += bring(register, path)
        except SupportsError:
            continue
        before = facts(register)
        assert not bring(register, path)
        assert facts(register) == before
    assert taken >= 2
    return register


def test_what_is_exported_comes_back_without_a_change(filled, tmp_path):
    with filled.reading() as session:
        values = today(session).values
    export_xlsx(tmp_path / "register.xlsx", values)
    export_csv(tmp_path / "csv", values)
    before = facts(filled)
    assert not bring(filled, tmp_path / "register.xlsx")
    assert not bring(filled, tmp_path / "csv")
    assert facts(filled) == before
