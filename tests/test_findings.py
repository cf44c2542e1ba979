"""Faults in data as values."""

from __future__ import annotations

import pytest

from supports.findings import (
    Answer,
    Finding,
    Place,
    Severity,
    any_forbids,
    counts_by_code,
)

UNIT = Finding(
    "unit-not-stated",
    Severity.ACT,
    "a load has no unit",
    Place("loads.xlsx", "Sheet 1", "F12"),
    found="'4500'",
    expected="a load with its unit",
    remedy="Ask the owner of the sheet",
    subject="PS-7",
)


def test_the_sentence_says_where_what_found_expected_remedy() -> None:
    assert str(UNIT) == (
        "loads.xlsx Sheet 1 F12: a load has no unit; found '4500'; expected a load with its unit. "
        "Ask the owner of the sheet"
    )


def test_parts_not_known_leave_no_trace() -> None:
    assert str(Finding("tag-missing", Severity.LOOK, "a row has no tag")) == "a row has no tag."
    assert str(Place("a.csv", "", "B2")) == "a.csv B2"
    assert str(Place()) == ""


def test_gravest_first() -> None:
    by_rank = sorted(Severity, key=lambda severity: severity.rank)
    assert by_rank == [Severity.STOP, Severity.ACT, Severity.LOOK, Severity.NOTE]


@pytest.mark.parametrize(
    ("severity", "forbids"),
    [
        (Severity.STOP, True),
        (Severity.ACT, False),
        (Severity.LOOK, False),
        (Severity.NOTE, False),
    ],
)
def test_only_stop_forbids_storing(severity: Severity, forbids: bool) -> None:
    finding = Finding("some-code", severity, "something")
    assert finding.forbids_storing is forbids
    assert any_forbids([UNIT, finding]) is forbids


def test_nothing_forbids_nothing() -> None:
    assert not any_forbids([])


def test_counts_are_most_frequent_first() -> None:
    other = Finding("same-tag-twice", Severity.ACT, "one tag at two places")
    assert list(counts_by_code([UNIT, other, other]).items()) == [
        ("same-tag-twice", 2),
        ("unit-not-stated", 1),
    ]
    assert counts_by_code([]) == {}


def test_findings_are_values() -> None:
    assert len({UNIT, Finding("a", Severity.NOTE, "b"), Finding("a", Severity.NOTE, "b")}) == 2
    with pytest.raises(AttributeError):
        UNIT.code = "other"  # type: ignore[misc]


def test_cannot_judge_is_an_answer_of_its_own() -> None:
    assert {str(answer) for answer in Answer} == {
        "fails",
        "passes",
        "not applicable",
        "cannot judge",
    }
