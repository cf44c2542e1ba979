"""What a sheet says held against what the register says: create, change or same."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from supports.findings import Place
from supports.proposals import (
    Plan,
    Record,
    SourceCell,
    SourceLine,
    Verb,
    alike,
    compare,
    differences,
)

LINE = SourceLine("plant.xlsx", "Units", 7, {"load": SourceCell("D", "20,0", "kN")})


def record(**values):
    return Record("unit", ("PS-1", "A"), values, LINE)


def verbs(records, existing=None):
    return [p.verb for p in compare(records, existing or {})]


def test_what_is_not_there_is_created_and_what_is_there_is_left():
    existing = {("unit", ("PS-1", "A")): {"load": 20.0}}
    assert verbs([record(load=20.0)]) == [Verb.CREATE]
    assert verbs([record(load=20.0)], existing) == [Verb.SAME]
    assert verbs([record(load=21.0)], existing) == [Verb.CHANGE]


def test_a_blank_wipes_nothing_out():
    existing = {("unit", ("PS-1", "A")): {"load": 20.0, "serial": "7"}}
    (proposal,) = compare([record(serial="8")], existing)
    assert [(c.field, c.before, c.after) for c in proposal.changes] == [("serial", "7", "8")]


def test_a_later_record_sees_what_an_earlier_one_proposes():
    assert verbs([record(load=20.0), record(load=20.0), record(load=21.0), record()]) == [
        Verb.CREATE,
        Verb.SAME,
        Verb.CHANGE,
        Verb.SAME,
    ]


@given(st.dictionaries(st.text(max_size=3), st.floats(allow_nan=False) | st.text(max_size=3)))
def test_what_was_stored_proposes_nothing_again(values):
    assert verbs([record(**values)], {("unit", ("PS-1", "A")): values}) == [Verb.SAME]


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (20_017.0, 20_017.000000000004, True),  # the last digit of a way through a unit and back
        (20_017.0, 20_017.001, False),
        (0.0, 1e-300, False),
        (0.0, None, False),
        (20.0, 20, True),
        ("20", 20.0, False),
        (date(2031, 5, 4), date(2031, 5, 4), True),
        ([[1.0, 2.0]], [[1.0, 2.0 + 4e-16]], True),
        ([[1.0, 2.0]], [[1.0, 2.0, 3.0]], False),
        ([[1.0, 2.0]], [[1.0, 2.0], [3.0, 4.0]], False),
        ([[1.0]], None, False),
    ],
)
def test_alike_forgives_the_last_digits_and_nothing_else(one, other, same):
    assert alike(one, other) is same


def test_only_fields_spoken_of_differ():
    changes = differences({"a": 1.0, "b": "x"}, {"a": 1.0, "b": "y", "c": 3.0})
    assert [(c.field, c.before, c.after) for c in changes] == [("b", "y", "x")]


def test_a_plan_counts_by_verb_and_subject():
    line = Record("line", ("L-1",), {}, LINE)
    plan = Plan(compare([line, record(load=1.0)], {("line", ("L-1",)): {}}))
    assert (plan.count(Verb.CREATE), plan.count(Verb.CREATE, "line")) == (1, 0)
    assert plan.subjects == ("line", "unit")
    assert not plan.changes_nothing
    assert Plan(compare([line], {("line", ("L-1",)): {}})).changes_nothing


def test_a_value_knows_its_cell_and_a_field_without_one_its_row():
    assert LINE.place("load") == Place("plant.xlsx", "Units", "D7")
    assert LINE.place("serial") == Place("plant.xlsx", "Units", "7")
