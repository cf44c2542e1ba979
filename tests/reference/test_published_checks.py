"""Every published value of the verification manual, and that a wrong one would be seen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reports.contents.verification_manual import verification_manual
from supports.verification import all_checks, check_all
from supports.verification.check import half_last_digit

CHECKS = all_checks()


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: f"{check.subject}: {check.what}")
def test_published_value(check) -> None:
    checked = check.run()
    assert checked.agrees, f"{check.printed} {check.unit} published, {checked.ours} here"


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: f"{check.subject}: {check.what}")
def test_a_published_value_off_by_a_twentieth_would_be_seen(check) -> None:
    wrong = replace(check, published=check.published * 1.05 + check.tolerance)
    assert not wrong.run().agrees
    assert not replace(check, ours=lambda: float("nan")).run().agrees


def test_every_check_names_source_and_tolerance() -> None:
    assert len(CHECKS) > 200
    assert len({(one.what, one.source, one.printed) for one in CHECKS}) == len(CHECKS)
    for one in CHECKS:
        assert one.source
        assert one.because
        assert one.tolerance > 0.0


def test_half_a_digit() -> None:
    assert half_last_digit("0.14") == pytest.approx(0.005)
    assert half_last_digit("638") == pytest.approx(0.5)
    assert half_last_digit("1.638706E-05") == pytest.approx(0.5e-11)


def test_the_manual_says_no_as_soon_as_one_value_differs() -> None:
    good = check_all()
    assert verification_manual(good)[0].answer == "YES"
    bad = replace(good[0], ours=good[0].ours * 2.0)
    answered = verification_manual((bad, *good[1:]))[0]
    assert (answered.answer, answered.words[:8]) == ("NO", "1 of 325")
