"""How often a page asks the register: once for what it gathers, hardly at all when seen again."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from sqlalchemy import event, select

from supports.database import Register
from supports.model import Line, Person
from supports.operations.changes import add_weights
from supports.operations.travel_stops import StopMove, move_stop
from supports.queries.asked_once import each_asked_once
from tests.operations.days import START
from tests.rules.planning_lines import NUMBER, valve
from tests.web.at_work import CHANGE, ORDER, PLAN
from tests.web.desks import signed_in
from tests.web.growing import grow
from tests.web.tablets import WALK

SEEN_AGAIN = 7
"""Two of them know the plant and the visitor; the others find the thing and the newest batch of the
trail. On SQLite each session begins with a word of its own, which is counted."""
FIRST = {
    "/changes": 23,
    f"/changes/{CHANGE}": 29,
    f"/changes/{CHANGE}/supports": 29,
    f"/changes/{CHANGE}/lines": 50,
    f"/changes/{CHANGE}/history": 70,
    f"/plans/{PLAN}": 17,
    f"/work-orders/{ORDER}": 27,
}
"""Pages that are kept until the register is written to, each looked at after a start."""
EACH_TIME = {"/": 12, "/start-up": 22, "/travel-stops": 9, f"/walkdowns/{WALK}": 45}

GROWING = (
    "/", "/changes", "/changes?over=1", "/start-up", "/start-up?line=L-1", "/travel-stops",
    "/work-orders", "/lines", "/lines/L-1", "/lines/L-1/change", "/supports", "/supports/C1",
    "/walkdowns", f"/walkdowns/{WALK}", "/findings", "/accounts", f"/plans/{PLAN}", "/record",
    f"/changes/{CHANGE}", f"/work-orders/{ORDER}", "/changes/CH-1 0 being done",
)  # fmt: skip
"""Pages of a register that grows."""


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


def test_a_page_asks_as_often_when_the_register_has_grown(at_work):
    visitor = signed_in(at_work, "S1")
    grow(at_work, range(2))
    few = {page: _asked(at_work, visitor, page) for page in GROWING}
    grow(at_work, range(2, 7))
    many = {page: _asked(at_work, visitor, page) for page in GROWING}
    assert many == few


def _asked(register, visitor, page: str) -> int:
    with counted(register) as asked:
        assert visitor.look(page).status_code == 200, page
    return len(asked)


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


def test_what_another_process_wrote_since_is_shown(at_work):
    visitor = signed_in(at_work, "S1")
    pages = (f"/changes/{CHANGE}", "/start-up", "/travel-stops")
    assert not any("99" in _words(visitor, page) for page in pages)
    other = Register(at_work.url)
    move_stop(other, StopMove("C1", "", "99", "in", "weight is off"), acting="T1", now=START)
    other.close()
    assert all("99" in _words(visitor, page) for page in pages)


def _words(visitor, page: str) -> str:
    """Return a page without what differs at each look."""
    return re.sub(r'value="[^"]*"|content="[^"]*"', "", visitor.look(page).text)


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
