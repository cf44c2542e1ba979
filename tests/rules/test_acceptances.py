"""Findings accepted for a time, and compared with an earlier run; common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from supports.errors import BadInput, NotAllowed
from supports.findings import Answer, Severity
from supports.rules.acceptances import (
    Acceptance,
    Standing,
    require_may_accept,
    standing_of,
    stood,
)
from supports.rules.frame import Subject
from supports.rules.run import Found, compare_runs, worst
from supports.vocabulary import Role

DAY = date(2027, 1, 18)
FOUND = Found(
    "variability-high", Subject.UNIT, 7, "PS-1", "PS-1", Severity.ACT, Answer.FAILS, 0.30, "mark"
)
WORD = Acceptance(
    "variability-high", Subject.UNIT, 7, "PS-1", "mark", "A. Person", "stress engineer",
    date(2027, 1, 1), date(2027, 6, 30), "softer spring ordered",
)  # fmt: skip


@pytest.mark.parametrize(
    ("word", "standing"),
    [
        (None, Standing.OPEN),
        (WORD, Standing.ACCEPTED),
        (replace(WORD, until=DAY), Standing.ACCEPTED),
        (replace(WORD, until=date(2027, 1, 17)), Standing.RUN_OUT),
        (replace(WORD, inputs="other"), Standing.OVERTAKEN),
        (replace(WORD, until=date(2026, 12, 31)), Standing.OPEN),
    ],
)
def test_an_acceptance_holds_until_its_day_and_on_its_facts(word, standing):
    assert standing_of(FOUND, word, DAY) is standing


def test_accepted_findings_stay_in_the_list():
    assert [s.found for s in stood([FOUND], {WORD.place: WORD}, DAY)] == [FOUND]


@pytest.mark.parametrize(
    ("severity", "role", "may"),
    [
        (Severity.STOP, Role.RESPONSIBLE_ENGINEER, True),
        (Severity.STOP, Role.STRESS_ENGINEER, False),
        (Severity.ACT, Role.STRESS_ENGINEER, True),
        (Severity.ACT, Role.INSPECTOR, False),
        (Severity.LOOK, Role.INSPECTOR, True),
        (Severity.NOTE, Role.TECHNICIAN, False),
    ],
)
def test_the_role_goes_with_the_severity(severity, role, may):
    found = replace(FOUND, severity=severity)
    if may:
        assert require_may_accept(found, {role}, "why", DAY, DAY) == role
    else:
        with pytest.raises(NotAllowed):
            require_may_accept(found, {role}, "why", DAY, DAY)


@pytest.mark.parametrize(("reason", "until"), [(" ", DAY), ("why", date(2027, 1, 17))])
def test_a_reason_and_an_end_are_asked_for(reason, until):
    with pytest.raises(BadInput):
        require_may_accept(FOUND, {Role.RESPONSIBLE_ENGINEER}, reason, until, DAY)


def test_two_runs_are_compared_finding_by_finding():
    worse, better, same, gone, new = (replace(FOUND, key=k, name=f"PS-{k}") for k in range(5))
    unjudged = replace(FOUND, key=9, answer=Answer.CANNOT_JUDGE, measure=None)
    since = compare_runs(
        [worse, better, same, gone],
        [replace(worse, measure=0.31), replace(better, measure=0.29), same, new, unjudged],
    )
    assert [f.key for f in since.new] == [4]
    assert [f.key for f in since.gone] == [3]
    assert [now.key for _, now in since.worse] == [0]
    assert [now.key for _, now in since.better] == [1]
    assert since.newly_unjudged == (unjudged,)


def test_a_graver_severity_is_worse_and_losing_the_facts_is_no_repair():
    graver = replace(FOUND, severity=Severity.STOP)
    assert compare_runs([FOUND], [graver]).worse == ((FOUND, graver),)
    blind = replace(FOUND, answer=Answer.CANNOT_JUDGE)
    since = compare_runs([FOUND], [blind])
    assert since.gone == ()
    assert since.newly_unjudged == (blind,)
    assert compare_runs([FOUND], [FOUND]).is_empty


def test_the_worst_are_those_with_the_gravest_findings():
    mild = [replace(FOUND, tag="PS-2", rule=f"r{n}", severity=Severity.LOOK) for n in range(9)]
    grave = [replace(FOUND, tag="PS-3", severity=Severity.STOP)]
    assert [w.name for w in worst([*mild, *grave, FOUND])] == ["PS-3", "PS-1", "PS-2"]
    third = replace(FOUND, name="PS-10", tag="PS-10")
    second = replace(FOUND, name="PS-2", tag="PS-2")
    assert [w.name for w in worst([third, second])] == ["PS-2", "PS-10"]
