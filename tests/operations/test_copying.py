"""A copy of a register is the same on either database, or it is not there at all."""

from __future__ import annotations

import pytest
from sqlalchemy import func, select

from app.copies import bring_back, keep_copy
from supports.audit import first_break, head
from supports.database import Register, sqlite_url
from supports.errors import BadInput, Conflict, SupportsError
from supports.model import Base, Campaign, Person
from supports.operations import copying
from supports.operations.copying import compare_registers, copy_register
from tests.operations.days import day
from tests.operations.road import road_on

LATER = day(3)


def tables(register: Register) -> int:
    with register.reading() as session:
        counts = (session.scalar(select(func.count(t.c.id))) for t in Base.metadata.sorted_tables)
        return sum(count or 0 for count in counts)


@pytest.fixture
def filled(register) -> Register:
    """Give a register in the middle of a change, with rows that point at later rows."""
    road_on(register).given_out().found("C1")
    return register


def test_a_copy_holds_the_same_rows_and_the_same_chain(filled, tmp_path):
    copied = keep_copy(filled, tmp_path / "kept.db")
    assert not list(tmp_path.glob("*.unfinished*"))
    assert not list(tmp_path.glob("kept.db-*"))
    kept = Register(sqlite_url(tmp_path / "kept.db"))
    kept.check()
    assert copied.total == tables(filled) == tables(kept) > 100
    one, other = compare_registers(filled, kept)
    assert one == other == copied
    with filled.reading() as first, kept.reading() as second:
        assert head(first) == head(second)
        assert first_break(second) is None


def test_a_copy_of_one_database_comes_back_into_the_other(both, tmp_path):
    sqlite, postgres = both
    road_on(sqlite).given_out().found("C1")
    there = copy_register(sqlite, postgres)
    back = keep_copy(postgres, tmp_path / "back.db")
    assert there == back
    with postgres.writing("KK", "", LATER, action="go on") as writing:
        writing.session.add(Person(name="somebody new"))
    with postgres.reading() as session:
        assert first_break(session) is None


def test_nothing_is_copied_over_a_register_that_is_there(filled, tmp_path):
    kept = tmp_path / "kept.db"
    keep_copy(filled, kept)
    before = kept.read_bytes()
    with pytest.raises(BadInput, match="something here already"):
        keep_copy(filled, kept)
    with pytest.raises(Conflict, match="a register here already"):
        copy_register(filled, Register(sqlite_url(kept)))
    assert kept.read_bytes() == before
    with pytest.raises(BadInput, match="the folder is not there"):
        keep_copy(filled, tmp_path / "nowhere" / "kept.db")


def test_a_copy_that_lost_a_row_is_not_kept(filled, tmp_path, monkeypatch):
    honest = copying._copy_table

    def forgetful(table, given, taken):
        if table.name != "person_role":
            honest(table, given, taken)

    monkeypatch.setattr(copying, "_copy_table", forgetful)
    with pytest.raises(Conflict, match="not the same as the register"):
        keep_copy(filled, tmp_path / "kept.db")
    assert not list(tmp_path.glob("kept.db*"))


def test_a_row_may_point_at_a_later_one_of_its_table(register, tmp_path):
    with register.writing("KK", "", LATER, action="plan") as writing:
        first, second = (
            Campaign(
                number=number, title="pair", half="operating", state_wanted="operating, steady",
                scope={}, walk_on=LATER.date(), state="planned", planned_by="KK",
                planned_on=LATER.date(),
            )
            for number in ("WD-1", "WD-2")
        )  # fmt: skip
        writing.session.add_all([first, second])
        writing.session.flush()
        first.pair_id, second.pair_id = second.id, first.id
    keep_copy(register, tmp_path / "kept.db")
    with Register(sqlite_url(tmp_path / "kept.db")).reading() as session:
        pairs = session.execute(select(Campaign.id, Campaign.pair_id).order_by(Campaign.id)).all()
    assert [tuple(row) for row in pairs] == [(1, 2), (2, 1)]


def test_a_damaged_copy_is_told_in_a_sentence(filled, tmp_path):
    kept = tmp_path / "kept.db"
    keep_copy(filled, kept)
    kept.write_bytes(kept.read_bytes()[: kept.stat().st_size // 2])
    with pytest.raises(SupportsError):
        bring_back(kept, sqlite_url(tmp_path / "back.db"))
    assert not list(tmp_path.glob("back.db*"))
