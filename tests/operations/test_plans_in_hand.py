"""What was read for a plan is used again when it is stored, unless somebody wrote in between.

Whoever writes in between is met the same whether the plan keeps what was read for it or not: each
test of a second writer runs both ways, and the answer is written out once.
"""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import replace
from datetime import date

import pytest
from sqlalchemy import event, select

from app.intake import read_against
from app.intake import store as store_checked
from importers.template import write_tables
from supports.audit import Trail
from supports.errors import Conflict, NotFound
from supports.model import Nameplate, SupportTag
from supports.operations.intake import bring_in
from supports.proposals import Plan, compare
from supports.queries.existing import today_for
from tests.stored import FILE, LINE, NOW, SUPPORT, UNIT, record, store, with_writer

PLATE = record("nameplate", ("PS-1", "A"), nameplate_load=20_000.0, rate=4_000.0)
OTHER_PLATE = record("nameplate", ("PS-1", "A"), nameplate_load=21_000.0)
FLOOR = record("support", ("PS-1",), floor="2")
ONCE = 2
"""Questions by tag for plates: which there are, and which units they belong to."""


@pytest.fixture
def register(register):
    """Give a register with a hanger of which no plate is known."""
    store(with_writer(register), LINE, SUPPORT, UNIT)
    return register


def planned(register, *records) -> Plan:
    """Return a plan that keeps what was read for it."""
    with register.reading() as session:
        against = today_for(session, records)
    return Plan(compare(records, against.values), against=against)


@pytest.fixture(params=["kept", "read anew"])
def plan(request, register):
    """Give what makes a plan, which keeps what was read for it or does not."""

    def made(*records) -> Plan:
        wanted = planned(register, *records)
        return wanted if request.param == "kept" else replace(wanted, against=None)

    return made


def bring(register, plan: Plan) -> None:
    bring_in(register, plan, FILE, acting="N. N.", reason="a test", now=NOW)


@contextmanager
def heard(register, act):
    """Call `act` with each statement that the register has answered meanwhile."""

    def note(_connection, _cursor, statement, _values, _context, _many):
        act(statement)

    event.listen(register.engine, "after_cursor_execute", note)
    try:
        yield
    finally:
        event.remove(register.engine, "after_cursor_execute", note)


@contextmanager
def asked(register):
    """Give the statements that are put to the register meanwhile."""
    statements: list[str] = []
    with heard(register, statements.append):
        yield statements


def questions_by_tag(statements: list[str]) -> int:
    """Count how often units or plates were looked up by the tags that are there now."""
    return sum(s.startswith("SELECT support_tag.tag") for s in statements)


def loads(register) -> list[float | None]:
    with register.reading() as session:
        return list(session.scalars(select(Nameplate.nameplate_load)))


def test_without_another_writer_the_names_are_read_once(register):
    with asked(register) as checking:
        wanted = planned(register, PLATE)
    with asked(register) as storing:
        bring(register, wanted)
    assert (questions_by_tag(checking), questions_by_tag(storing)) == (ONCE, 0)
    assert loads(register) == [20_000.0]


def test_a_file_that_is_checked_and_stored_is_held_against_the_register_once(register, tmp_path):
    file = tmp_path / "plates.xlsx"
    heads = ("Support tag", "Position", "Unit of load", "Unit of travel", "Nameplate load")
    write_tables(file, {"Nameplates": [heads, ("PS-1", "A", "kN", "mm", 20.0)]})
    result, checked = read_against(register, file, NOW.date())
    with asked(register) as storing:
        store_checked(
            register, result, checked, acting="N. N.", reason="a test", now=NOW,
            accept_the_good=True,
        )  # fmt: skip
    assert questions_by_tag(storing) == 0
    assert loads(register) == [20_000.0]


def test_after_another_writer_the_names_are_read_anew(register):
    wanted = planned(register, PLATE)
    store(register, record("line", ("L-2",)))
    with asked(register) as storing:
        bring(register, wanted)
    assert questions_by_tag(storing) == ONCE
    assert loads(register) == [20_000.0]


def test_a_plan_without_what_was_read_for_it_reads_anew(register):
    wanted = replace(planned(register, PLATE), against=None)
    with asked(register) as storing:
        bring(register, wanted)
    assert questions_by_tag(storing) == ONCE


def test_the_same_plate_stored_meanwhile_is_not_stored_twice(register, plan):
    mine = plan(PLATE)
    store(register, PLATE)
    with pytest.raises(Conflict, match="somebody else stored all of this meanwhile"):
        bring(register, mine)
    assert loads(register) == [20_000.0]


def test_another_plate_stored_meanwhile_is_not_overwritten(register, plan):
    mine = plan(PLATE)
    store(register, OTHER_PLATE)
    said = r"another nameplate load meanwhile; found 21000\.0; expected nothing"
    with pytest.raises(Conflict, match=said):
        bring(register, mine)
    assert loads(register) == [21_000.0]


def test_a_value_changed_meanwhile_is_not_overwritten(register, plan):
    mine = plan(FLOOR)
    store(register, record("support", ("PS-1",), floor="3"))
    with pytest.raises(Conflict, match="another floor meanwhile; found 3; expected nothing"):
        bring(register, mine)


def test_another_value_of_the_same_support_changed_meanwhile_stands_beside_it(register, plan):
    mine = plan(FLOOR)
    store(register, record("support", ("PS-1",), grid="B4"))
    bring(register, mine)
    with register.reading() as session:
        values = today_for(session, [FLOOR]).values["support", ("PS-1",)]
    assert (values["floor"], values["grid"]) == ("2", "B4")


def test_who_writes_while_the_rows_of_a_plan_are_read_is_noticed(register):
    others = [record("support", ("PS-1",), floor="3")]

    def write_once(statement: str) -> None:
        if others and statement.startswith("SELECT support_point.id, support_tag.tag"):
            store(register, others.pop())

    with heard(register, write_once):
        mine = planned(register, FLOOR)
    assert others == []
    assert "floor" not in mine.against.values["support", ("PS-1",)]
    with pytest.raises(Conflict, match="another floor meanwhile; found 3; expected nothing"):
        bring(register, mine)


def test_a_tag_that_was_renamed_meanwhile_is_not_met_under_its_old_name(register, plan):
    mine = plan(PLATE)
    with register.writing("N. N.", "renamed", NOW, action="rename") as writing:
        old = writing.session.scalars(select(SupportTag)).one()
        old.valid_to = date(2031, 5, 3)
        new = SupportTag(point_id=old.point_id, tag="PS-9", matching_key="PS9")
        writing.session.add(new)
    with pytest.raises(NotFound, match="unit PS-1 A is not in the register"):
        bring(register, mine)
    assert loads(register) == []


def test_a_plan_whose_storing_was_broken_off_is_stored_whole_the_next_time(register, monkeypatch):
    mine = planned(register, record("unit", ("PS-1", "B"), kind="constant hanger"), PLATE, FLOOR)
    before = mine.against.copied()

    class BrokenOffError(Exception):
        pass

    def broken_off(*_):
        raise BrokenOffError

    with monkeypatch.context() as patched:
        patched.setattr(Trail, "close", broken_off)
        with pytest.raises(BrokenOffError):
            bring(register, mine)
    assert mine.against == before
    bring(register, mine)
    assert loads(register) == [20_000.0]
