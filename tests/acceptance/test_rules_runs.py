"""Runs kept and compared, findings accepted, limits laid down, questions asked: both databases."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from sqlalchemy import select, text

from app.cli.rules import explain
from app.question_papers import answer_lines, write_answer
from app.rule_pages import count_lines, since_lines, stood_lines, worst_lines
from supports.errors import BadInput, Conflict, NotAllowed, NotFound
from supports.findings import Answer
from supports.model import Base, RuleRun, SettingEvent
from supports.operations.limits import Wanted, choose_profile, lay_down_limit
from supports.operations.people import add_person
from supports.operations.rule_runs import (
    Word,
    accept_finding,
    run_rules,
    save_question,
    withdraw_acceptance,
)
from supports.queries.explanations import explanations
from supports.queries.limits import in_force, laid_down, limits_in_force
from supports.queries.questions import answer_question, saved_question
from supports.queries.rule_runs import acceptances, found_of, run_since
from supports.queries.tables import findings_table, in_units, units_table
from supports.rules.acceptances import Standing, stood
from supports.rules.catalogue import RULES_VERSION
from supports.rules.questions import Question
from supports.rules.run import compare_runs
from supports.vocabulary import Role
from tests.acceptance.planted_plant import TODAY, plant
from tests.acceptance.planted_rows import store

NOW = datetime(2031, 5, 6, 8)  # noqa: DTZ001  the register keeps UTC without zone
ENGINEER, CHIEF = "Ada Engineer", "Ben Chief"
UNIT = "PS-00022"
"""A variable spring of the invented plant: 9.8 % variability."""
LINE, PIECE = "L-0002", "PS-00001 branch A piece 1"
"""A line, and a piece of hardware strong enough for its load."""


@pytest.fixture
def site(register):
    supports, _ = plant(60, 10_000)
    with register.engine.begin() as connection:
        store(connection, Base.metadata.tables, supports)
    add_person(register, ENGINEER, [Role.STRESS_ENGINEER, Role.REGISTER_KEEPER], acting="", now=NOW)
    add_person(register, CHIEF, [Role.RESPONSIBLE_ENGINEER], acting=ENGINEER, now=NOW)
    return register


def later(days: int) -> datetime:
    return NOW + timedelta(days=days)


def lay_down(site, value, days=0, scope="", who=CHIEF):
    wanted = Wanted("variability", value, "site procedure 12", scope)
    lay_down_limit(site, wanted, acting=who, now=later(days))


def test_a_stricter_limit_shows_in_what_is_new_since_the_last_run(site):
    first = run_rules(site, acting=ENGINEER, now=NOW)
    assert not [f for f in first.found if f.fails]
    lay_down(site, 5.0, scope="line:L-0002")
    second = run_rules(site, acting=ENGINEER, now=later(1))
    assert second.before == first.id
    with site.reading() as session:
        since = compare_runs(found_of(session, first.id), second.found)
        kept = found_of(session, second.id)
    assert {f.name for f in since.new} == {f.name for f in second.found if f.fails}
    assert {f.rule for f in since.new} == {"variability-high"}
    assert UNIT in {f.name for f in since.new}
    assert sorted(kept, key=repr) == sorted(second.found, key=repr)
    lines = "\n".join([*count_lines(second.counts, second.found), *worst_lines(second.found)])
    assert f"ACT {len(since.new)}" in lines
    assert f"{len(since.new)} new:" in "\n".join(since_lines(since))


def test_a_run_is_never_rewritten(site):
    run_rules(site, acting=ENGINEER, now=NOW)
    for table in ("rule_run", "rule_answers"):
        with pytest.raises(Exception, match="history is added"), site.engine.begin() as connection:
            connection.execute(text(f"UPDATE {table} SET id = id + 100"))  # noqa: S608  our names
    with site.reading() as session:
        assert session.scalars(select(RuleRun.rules_version)).one() == RULES_VERSION


def test_without_a_run_there_is_nothing_to_compare_with(site):
    with site.reading() as session, pytest.raises(NotFound, match="supports rules run"):
        run_since(session)


def test_a_line_outranks_its_class_and_the_class_the_site(site):
    lay_down(site, 20.0)
    lay_down(site, 15.0, scope="class:C")
    lay_down(site, 5.0, scope="line:L-0002")
    with site.reading() as session:
        limits = limits_in_force(session, TODAY)
        table = units_table(session, TODAY)
    by_scope = {one.scope: one.value for one in limits.overrides}
    assert limits.settings.variability == pytest.approx(0.20)
    assert by_scope == pytest.approx({"class:C": 0.15, "line:L-0002": 0.05})
    assert set(table.line) >= {"L-0001", "L-0002"}


def test_what_held_before_stays_on_record(site):
    lay_down(site, 20.0)
    lay_down(site, 15.0, days=10)
    with pytest.raises(Conflict, match="later day"):
        lay_down(site, 12.0, days=10)
    with site.reading() as session:
        history = laid_down(session, "variability")
        assert [one.value for one in history] == pytest.approx([0.20, 0.15])
        assert in_force(session, TODAY)["variability", ""].value == pytest.approx(0.20)
        assert all(one.owner == CHIEF and one.source for one in history)


def test_a_profile_lays_down_each_value_with_its_trust(site):
    values = choose_profile(site, "EN 13480-minded", acting=CHIEF, now=NOW)
    with site.reading() as session:
        held = in_force(session, TODAY)
        settings = limits_in_force(session, TODAY).settings
    assert settings.band == pytest.approx(0.05)  # EN 13480-3 clause 13, from memory
    assert {held[v.name, ""].trust for v in values} == {"from memory", "no source"}
    with pytest.raises(NotAllowed):
        choose_profile(site, "B31.1-minded", acting=ENGINEER, now=later(1))


@pytest.mark.parametrize(
    ("wanted", "error"),
    [
        (Wanted("variability", 5.0, ""), BadInput),
        (Wanted("variability", -5.0, "x"), BadInput),
        (Wanted("variability", 5.0, "x", "area:1"), BadInput),
        (Wanted("variability", 5.0, "x", "line:none"), NotFound),
        (Wanted("variabilty", 5.0, "x"), NotFound),
    ],
)
def test_a_limit_without_source_or_place_is_refused(site, wanted, error):
    with pytest.raises(error):
        lay_down_limit(site, wanted, acting=CHIEF, now=NOW)


def accepted(site, days=0, reason="softer spring ordered", until=90):
    word = Word("variability-high", UNIT, reason, later(until).date())
    return accept_finding(site, word, acting=ENGINEER, now=later(days))


def standing(site, days=0):
    run = run_rules(site, acting=ENGINEER, now=later(days))
    with site.reading() as session:
        words = acceptances(session)
    (one,) = [s for s in stood(run.found, words, later(days).date()) if s.found.name == UNIT
              and s.found.rule == "variability-high"]  # fmt: skip
    return one


def test_an_accepted_finding_is_shown_until_its_end_and_lapses_on_other_facts(site):
    lay_down(site, 5.0)
    assert standing(site).standing is Standing.OPEN
    accepted(site, days=1)
    held = standing(site, days=1)
    assert held.standing is Standing.ACCEPTED
    assert "accepted by Ada Engineer" in "\n".join(
        stood_lines([held], lambda _: "numbers", every=True)
    )
    assert standing(site, days=100).standing is Standing.RUN_OUT
    lay_down(site, 6.0, days=2)
    assert standing(site, days=2).standing is Standing.OVERTAKEN


def test_an_acceptance_is_taken_back_with_its_reason(site):
    lay_down(site, 5.0)
    accepted(site)
    withdraw_acceptance(site, "variability-high", UNIT, "wrong unit", acting=ENGINEER, now=later(1))
    assert standing(site, days=1).standing is Standing.OPEN
    with pytest.raises(NotFound, match="does not fail"):
        accept_finding(site, Word("rigid-unloaded", UNIT, "why", TODAY), acting=CHIEF, now=later(1))


def test_one_answer_is_explained_to_the_last_digit(site):
    lay_down(site, 5.0)
    with site.reading() as session:
        (said,) = explanations(session, UNIT, TODAY, rule="variability-high")
    text_of = "\n".join(said.lines)
    # 40 N/mm x 15 mm / 6.10 kN = 9.8 %
    assert "rate × |movement| / required" in text_of
    assert "40.0 N/mm × |15 mm| / 6.10 kN = 9.8 %" in text_of
    assert "set 2023" not in text_of
    assert "C-2 rev. A, operating" in text_of
    assert "laid down by Ben Chief from 2031-05-06; site procedure 12" in text_of
    assert "choose a softer spring" in text_of


def test_nothing_to_say_is_told_from_a_name_of_nothing(site):
    with site.reading() as session:
        assert explanations(session, PIECE, TODAY) == ()
        passes = explanations(session, PIECE, TODAY, every=True)
        assert {one.answer for one in passes} == {Answer.PASSES}
        with pytest.raises(NotFound, match=r"asked of .PS-O0022.;.* Did you mean PS-00022"):
            explanations(session, "PS-O0022", TODAY)
        with pytest.raises(NotFound, match=f"variability-high is not asked of '{LINE}'"):
            explanations(session, LINE, TODAY, rule="variability-high")
        with pytest.raises(NotFound, match="there is no rule 'variability-hihg'"):
            explanations(session, UNIT, TODAY, rule="variability-hihg")
    assert explain(PIECE, register=site.url.render_as_string(hide_password=False)).lines == (
        f"No rule is broken at {PIECE}, and none lacks a value. Add --every for what passes.",
    )


def test_a_question_is_narrowed_kept_and_written(site, tmp_path):
    asked = Question(kind="variable hanger", line="L-0002", room_below=2_200.0)
    save_question(site, "tight", asked.as_words, acting=ENGINEER, now=NOW)
    with site.reading() as session:
        assert saved_question(session, "tight") == asked
        table = answer_question(session, asked, TODAY)
        nothing = answer_question(session, replace(asked, room_below=2_000.0), TODAY)
        judged = answer_question(session, replace(asked, verdict="leave"), TODAY)
        unread = answer_question(session, Question(not_read_since=TODAY), TODAY)
    # 8.2 - 6.1 = 2.1 kN above, 6.1 - 4.0 = 2.1 kN below
    assert table.room_left.tolist() == pytest.approx([2_100.0] * len(table))
    assert len(table) == 7
    assert len(nothing) == 0
    assert set(judged.verdict) == {"leave"}
    assert len(unread) == 60
    assert list(answer_lines(table))[-1] == "7 units."
    path = write_answer(table, asked, "tight", "Plant", tmp_path / "a.xlsx", NOW)
    assert path.stat().st_size > 5_000


def test_a_word_that_nobody_knows_is_answered_with_the_list(site):
    with pytest.raises(BadInput, match="constant hanger"):
        Question(kind="spring").checked()
    with site.reading() as session, pytest.raises(NotFound, match="None is kept yet"):
        saved_question(session, "tight")


def test_tables_name_their_units_and_convert(site):
    with site.reading() as session:
        units = units_table(session, TODAY)
        findings = findings_table(session, TODAY)
    assert units.attrs["units"]["required"] == "N"
    shown = in_units(units, {"required": "kN", "design_travel": "mm"})
    assert shown["required [kN]"].iloc[0] == pytest.approx(6.1)
    assert shown["design_travel [mm]"].iloc[0] == pytest.approx(-100.0)
    assert list(findings.columns)[:3] == ["rule", "group", "severity"]
    with pytest.raises(BadInput):
        in_units(units, {"tag": "kN"})


def test_a_setting_without_an_approved_change_is_found(site):
    with site.writing(ENGINEER, "", NOW, action="read") as writing:
        event = {"unit_id": 1, "happened_on": TODAY, "load": 5_000.0, "method": "scale"}
        more = {"plant_state": "shut down, drained", "set_by": "nobody known"}
        writing.session.add(SettingEvent(**event, **more))
    run = run_rules(site, acting=ENGINEER, now=later(1))
    assert ("work-without-approval", "PS-00001") in {(f.rule, f.name) for f in run.found if f.fails}
