"""How often a page asks the register: once for what it gathers, hardly at all when seen again."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from sqlalchemy import event, select

from supports.model import Line, Person
from supports.operations.changes import add_weights
from supports.queries.asked_once import each_asked_once
from tests.operations.days import START
from tests.rules.planning_lines import NUMBER, valve
from tests.web.at_work import CHANGE, ORDER, PLAN
from tests.web.desks import signed_in

SEEN_AGAIN = 12
"""Seven of them know the visitor; the others find the thing and the newest batch of the trail."""
FIRST = {
    f"/changes/{CHANGE}": 56,
    f"/changes/{CHANGE}/supports": 56,
    f"/changes/{CHANGE}/lines": 73,
    f"/changes/{CHANGE}/history": 90,
    f"/plans/{PLAN}": 31,
}
"""Pages that are kept until the register is written to, each looked at after a start."""
EACH_TIME = {"/changes": 36, f"/work-orders/{ORDER}": 44, "/start-up": 32}


@contextmanager
def counted(register) -> Iterator[list[str]]:
    """Count what is asked of the database."""
    asked: list[str] = []

    def ask(_connection, _cursor, statement, *_rest):
        asked.append(statement)

    event.listen(register.engine, "before_cursor_execute", ask)
    try:
        yield asked
    finally:
        event.remove(register.engine, "before_cursor_execute", ask)


@pytest.mark.parametrize("page", FIRST)
def test_a_page_that_was_seen_asks_hardly_anything_until_something_is_written(at_work, page):
    visitor = signed_in(at_work, "S1")
    with counted(at_work) as first:
        shown = visitor.look(page).text
    with counted(at_work) as again:
        assert visitor.look(page).text == shown
    assert len(first) <= FIRST[page]
    assert len(again) <= SEEN_AGAIN


@pytest.mark.parametrize("page", EACH_TIME)
def test_a_page_asks_no_more_often_than_it_did(at_work, page):
    visitor = signed_in(at_work, "S1")
    with counted(at_work) as asked:
        assert visitor.look(page).status_code == 200
    assert len(asked) <= EACH_TIME[page]


def test_what_was_written_since_is_shown(at_work):
    visitor = signed_in(at_work, "S1")
    number = visitor_notes(visitor)
    assert "a heavier flange" not in visitor.look(f"/changes/{number}").text
    flange = valve(line=NUMBER)
    add_weights(
        at_work, number, [type(flange)(NUMBER, "a heavier flange", 40.0, 5.0)],
        acting="S1", now=START,
    )  # fmt: skip
    assert "a heavier flange" in visitor.look(f"/changes/{number}").text


def visitor_notes(visitor) -> str:
    """Note a change at the desk; return its number."""
    columns = ("line", "description", "way", "mass", "along", "off_axis", "above_axis", "source")
    visitor.look("/changes/new")
    noted = visitor.hand_in(
        "/changes/new", title="a flange", reason="", lines=NUMBER, duration="permanent", until="",
        wanted="", number="", **{name: "added" if name == "way" else "" for name in columns},
    )  # fmt: skip
    return noted.headers["location"].rpartition("/")[2]


def test_the_same_question_is_put_once_and_another_is_not_taken_for_it(at_work):
    with at_work.reading() as session, each_asked_once(session), counted(at_work) as asked:
        named = [session.scalar(select(Person.id).where(Person.name == "S1")) for _ in range(3)]
        other = session.scalar(select(Person.id).where(Person.name == "S2"))
        lines = [session.scalars(select(Line)).all() for _ in range(2)]
        two = [session.scalars(select(Person).where(Person.id.in_(ids))).all() for ids in
               ([named[0]], [named[0], other])]  # fmt: skip
    assert len(set(named)) == 1
    assert other not in named
    assert lines[0] == lines[1]
    assert [len(found) for found in two] == [1, 2]
    assert len([one for one in asked if one.startswith("SELECT")]) == 5
