"""A sentence is its English words everywhere, and keeps what another language makes its own of."""

from __future__ import annotations

import copy
import json

import pytest

from reports.languages import texts
from supports.findings import cannot_judge
from supports.rules.answers import cannot_judge_words
from supports.sentences import Sentence, filled, has_words

SAID = Sentence("{tag}: no {what}", tag="PS-1", what=("load", "rate"))


def test_it_is_text_wherever_text_is_wanted():
    assert SAID == "PS-1: no load, rate"
    assert json.dumps([SAID]) == '["PS-1: no load, rate"]'
    assert hash(SAID) == hash("PS-1: no load, rate")


@pytest.mark.parametrize("way", [copy.copy, copy.deepcopy])
def test_a_copy_keeps_the_pattern_and_its_values(way):
    made = way(SAID)
    assert (made, made.pattern, made.values) == (SAID, SAID.pattern, SAID.values)


def test_braces_of_a_stranger_are_no_places():
    said = Sentence("line {line}", line="{oops}")
    assert said == "line {oops}"
    assert texts("de").sentence(said) == "Leitung {oops}"


def test_a_template_says_how_its_values_are_written():
    said = filled("{share:+} of {part}", {"share": 3, "part": SAID, "more": 1})
    assert said == "+3 of PS-1: no load, rate"
    assert said.values == {"share": "+3", "part": SAID}
    assert said.values["part"].pattern == SAID.pattern


def test_what_is_missing_and_what_waits_are_told_apart():
    assert cannot_judge(["a", "b"]) == "cannot judge (missing: a, b)"
    assert cannot_judge([], ["q"]) == "cannot judge (waiting: q)"
    assert cannot_judge_words(["a", "waiting: q"]) == "cannot judge (waiting: q; missing: a)"


def test_a_sum_without_words_is_the_same_in_every_language():
    sum_ = filled("|{load} − {other}| / {other}", {"load": "present setting", "other": "1 kN"})
    assert not has_words(sum_.pattern)
    assert texts("de").sentence(sum_) == "|jetzige Einstellung − 1 kN| / 1 kN"
