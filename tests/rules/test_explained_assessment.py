"""An assessment's rule appendix: every answer filled in, counted, from what was frozen alone."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reports.contents.explained import explained_assessment
from supports.findings import Answer
from supports.freezing import from_plain, to_plain
from supports.rules.assessment import AssessmentContent, assess
from supports.rules.rule import Override
from supports.rules.site_settings import proposed_settings
from tests.rules.planning_lines import judged, worked_line


@pytest.fixture(scope="module")
def content() -> AssessmentContent:
    return judged(worked_line())


def test_the_appendix_says_the_same_after_it_was_stored_and_read(content):
    again = from_plain(AssessmentContent, to_plain(content))
    assert explained_assessment(again, every=True) == explained_assessment(content, every=True)


def test_every_answer_of_every_support_is_counted_and_printed_on_demand(content):
    whole = explained_assessment(content, every=True)
    answers = [one for support in whole.supports for one in support.answers]
    for name, answer in (
        ("fails", Answer.FAILS), ("cannot_judge", Answer.CANNOT_JUDGE), ("passes", Answer.PASSES),
    ):  # fmt: skip
        assert sum(getattr(t, name) for t in whole.tallies) == sum(
            one.answer is answer for one in answers
        )
    short = explained_assessment(content)
    assert short.tallies == whole.tallies
    printed = [one for support in short.supports for one in support.answers]
    assert printed == [one for one in answers if one.answer is not Answer.PASSES]
    assert [s.tag for s in short.supports] == [s.tag for s in content.supports]
    assert {s.tag: s.verdict for s in short.supports} == {
        j.tag: str(j.verdict) for j in content.judgements
    }


def test_inputs_are_filled_in_to_the_last_digit():
    # C1 set 15.0 kN, required 15.0 + 4.801 kN: 32.0 % over 15.0; range ±15 % is 12.75 to 17.25
    from tests.rules.planning_lines import worked_route

    whole = explained_assessment(judged(worked_route()), every=True)
    (said,) = [
        one
        for support in whole.supports
        if support.tag == "C1"
        for one in support.answers
        if one.rule == "load-outside-field-range"
    ]
    text = "\n".join(said.lines)
    assert "required = 19.80 kN" in text
    assert "(19.80 kN − 15.00 kN) / 15.00 kN = 32.0 %" in text
    assert whole.sentence.count("rules spoke of 4 supports") == 1


def test_broken_rules_stand_before_what_cannot_be_judged(content):
    for support in explained_assessment(content, every=True).supports:
        order = [one.answer for one in support.answers]
        rank = [Answer.FAILS, Answer.CANNOT_JUDGE, Answer.PASSES]
        assert order == sorted(order, key=rank.index)


def test_limits_are_those_that_were_frozen_with_their_place_and_their_trust():
    base = judged(worked_line(reach=0.9))
    settings = replace(proposed_settings(), tolerance=0.03)
    own = assess(
        base.change, base.calculation, base.supports, base.nozzles, settings,
        (Override("band", "line:L-1", 0.05),),
    )  # fmt: skip
    whole = explained_assessment(own, every=True)
    limits = {(used.name, used.scope): used for used in whole.limits}
    assert limits["tolerance", ""].value == "3.0 %"
    assert limits["tolerance", ""].proposed == "2.0 %"
    assert limits["tolerance", ""].source == "laid down by the site"
    assert limits["band", ""].trust == "from memory"
    assert limits["band", "line L-1"].value == "5.0 %"
    lines = "\n".join(
        line for support in whole.supports for one in support.answers for line in one.lines
    )
    assert "tolerance = 3.0 %   [laid down by the site; proposed 2.0 %]" in lines
    assert "band = 5.0 %   [laid down by the site for line L-1; proposed 6.0 %]" in lines


def test_the_frozen_limits_decide_and_no_others():
    content = judged(worked_line(reach=0.9))
    stricter = replace(content, settings={**content.settings, "tolerance": 9.0})
    was, now = (explained_assessment(one, every=True) for one in (content, stricter))
    assert _count(was, "difference-inside-tolerance") != _count(now, "difference-inside-tolerance")


def _count(appendix, rule):
    return next(tally.fails for tally in appendix.tallies if tally.rule == rule)
