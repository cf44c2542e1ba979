"""A query narrowed to few or to very many ids or names gives just those; on both databases."""

from __future__ import annotations

import datetime as dt
import json

import pytest
from sqlalchemy import select

from supports.model import Area
from supports.queries.narrowing import FEW, _listed, only

NOW = dt.datetime(2031, 5, 4)  # noqa: DTZ001  the register keeps UTC without zone
MOST_BOUND = 70_000
"""More than either database takes one by one."""


@pytest.fixture
def areas(register):
    """Give a register with some areas, one of them of an awkward name."""
    with register.writing("KK", "", NOW, action="areas") as writing:
        writing.session.add_all([Area(code=code) for code in ("A1", "B{1},\"2'", "C3")])
    return register


@pytest.mark.parametrize("others", [0, FEW, MOST_BOUND])
def test_just_what_is_wanted_is_found_however_much_is_asked_for(areas, others):
    ids, names = {2, *range(10, others)}, {"B{1},\"2'", *(f"X{n}" for n in range(others))}
    with areas.reading() as session:
        assert list(session.scalars(only(select(Area.id), Area.id, ids))) == [2]
        assert list(session.scalars(only(select(Area.id), Area.code, names))) == [2]
        assert list(session.scalars(only(select(Area.id), Area.id, ()))) == []
        assert len(session.scalars(only(select(Area.id), Area.id, None)).all()) == 3


def test_half_a_character_among_many_names_finds_nothing_and_stops_nothing():
    """A name with one comes from a damaged file; no database can hold it."""
    assert "X" in _listed(["X", "\ud800"])
    assert json.loads(_listed(["X", "Ü", "\ud800"])) == ["X", "Ü", "\ud800"]
