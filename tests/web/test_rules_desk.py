"""The rules at the desk: the same answers as on the command line, read by everybody."""

from __future__ import annotations

import re
from collections import Counter
from datetime import timedelta

import pytest

from app.web.routes import rules as rules_routes
from supports.operations.limits import Wanted, lay_down_limit
from supports.operations.rule_runs import run_rules
from supports.queries.rule_runs import runs
from supports.rules.catalogue import RULES
from supports.rules.run import compare_runs
from supports.rules.site_settings import limit_of
from tests.operations.days import START
from tests.web.desks import Visitor, desk_on, signed_in
from tests.web.test_supports_list import many

LOOKS = (
    "/rules", "/rules/explained?name=C1&every=true", "/rules/limits", "/rules/limits/tolerance",
    *(f"/rules/of/{rule.id}" for rule in RULES[::15]),
)  # fmt: skip


def test_before_the_first_run_the_screen_says_so(staffed):
    assert "No run is kept yet." in signed_in(staffed, "IN").look("/rules").text


def test_a_run_is_kept_from_the_desk_and_counted_as_it_was_found(staffed):
    visitor = signed_in(staffed, "IN")
    visitor.look("/rules")
    assert visitor.hand_in("/rules/runs", reason="weekly look").status_code == 303
    with staffed.reading() as session:
        (run,) = runs(session)
    kept = run_rules(staffed, acting="KK", now=START)
    text = visitor.look(f"/rules?number={run.id}").text
    assert "weekly look" in text
    counted = Counter(one.severity for one in kept.found if one.fails)
    figures = re.findall(r"<b>(\d+)</b><span class=\"mark (\w+)", text)
    assert {word.upper(): int(number) for number, word in figures} == {
        word: counted[word] for word in ("STOP", "ACT", "LOOK", "NOTE")
    }


def test_what_changed_since_the_run_before_is_told(staffed):
    before = run_rules(staffed, acting="KK", now=START)
    many(staffed)
    now = run_rules(staffed, acting="KK", now=START + timedelta(hours=1))
    since = compare_runs(before.found, now.found)
    assert not since.is_empty
    text = signed_in(staffed, "IN").look("/rules").text
    assert "Since run 1" in text
    told = {"new": since.new, "gone": since.gone, "worse": since.worse, "better": since.better,
            "no longer judged": since.newly_unjudged}  # fmt: skip
    for words, found in told.items():
        assert (f">{words}: {len(found)}</summary>" in text) is bool(found)
    assert "Nothing changed." not in text


def test_the_history_of_a_limit_is_shown_with_owner_and_source(staffed):
    limit = Wanted("tolerance", 1.5, "site standard, page 4")
    lay_down_limit(staffed, limit, acting="RE", now=START)
    visitor = signed_in(staffed, "IN")
    for address in ("/rules/limits", "/rules/limits/tolerance"):
        text = visitor.look(address).text
        assert "site standard, page 4" in text
        assert limit_of("tolerance").shown(0.015) in text
    assert limit_of("tolerance").shown(limit_of("tolerance").si) in text


@pytest.mark.parametrize("address", LOOKS)
def test_the_screens_are_read_in_german_too_and_light(staffed, address):
    visitor = signed_in(staffed, "IN")
    visitor.look("/own-account")
    visitor.hand_in("/language", language="de")
    answer = visitor.look(address)
    assert answer.status_code == 200
    assert len(answer.text) < 150_000


def test_what_is_not_there_is_said_on_the_page(staffed):
    visitor = signed_in(staffed, "IN")
    answer = visitor.look("/rules/explained?name=no-such")
    assert answer.status_code == 404
    assert "no-such" in answer.text
    assert visitor.look("/rules/of/no-such").status_code == 404
    assert visitor.look("/rules?number=99").status_code == 404


def test_nobody_reads_them_or_asks_without_signing_in(staffed):
    stranger = Visitor(desk_on(staffed))
    for address in LOOKS:
        assert stranger.look(address).headers["location"].startswith("/sign-in")
    stranger.look("/sign-in")
    assert stranger.hand_in("/rules/runs").status_code == 303
    with staffed.reading() as session:
        assert runs(session) == []


def test_where_every_rule_passes_the_desk_says_so_calmly(staffed, monkeypatch):
    asked = rules_routes.explanations

    times = []

    def passing(session, name, today, *, every):
        times.append(name)
        said = [one for one in asked(session, name, today, every=True) if one.answer == "passes"]
        return tuple(said) if every else ()

    monkeypatch.setattr(rules_routes, "explanations", passing)
    page = signed_in(staffed, "IN").look("/rules/explained?name=C1")
    assert page.status_code == 200
    assert "Here no rule is broken, and none lacks a value." in page.text
    assert times == ["C1"], "the rules are asked once"
    passes = signed_in(staffed, "IN").look("/rules/explained?name=C1&every=true").text
    assert "passes" in passes  # a rule that passes bears no mark of how grave it would be
    assert '<span class="mark' not in passes
    monkeypatch.undo()
    unknown = signed_in(staffed, "IN").look("/rules/explained?name=PS-9999")
    assert unknown.status_code == 404
    assert "Here no rule is broken" not in unknown.text
