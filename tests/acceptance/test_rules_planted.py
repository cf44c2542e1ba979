"""Faults planted in a plant of 5,000 supports are found to the last one, and nothing else is."""

from __future__ import annotations

from collections import Counter
from datetime import datetime, time

import pytest
from sqlalchemy import insert

from supports.database import Register
from supports.freezing import to_plain
from supports.model import Base, LineScreening
from supports.operations.line_standings import screened_anew
from supports.queries.rule_runs import ask_register
from supports.rules.rule import Code
from supports.rules.run import counts, found_in
from tests.acceptance.planted_lines import LINE_FAULTS, lines, store_lines
from tests.acceptance.planted_plant import FAULTS, TODAY, plant
from tests.acceptance.planted_rows import store
from tests.acceptance.planted_stories import PLOTS, store_stories, stories

SIZE, EVERY, ROUTED = 5_000, 7, 40
NOW = datetime.combine(TODAY, time(8))


@pytest.fixture
def planted(register: Register):
    supports, wanted = plant(SIZE, EVERY)
    made, on_lines = lines(ROUTED)
    told, of_stories = stories()
    with register.engine.begin() as connection:
        store(connection, Base.metadata.tables, supports)
        store_lines(connection, Base.metadata.tables, made)
        store_stories(connection, Base.metadata, told)
    return register, wanted | on_lines | of_stories


def test_every_planted_fault_is_found_and_nothing_else(planted):
    register, wanted = planted
    screened = screened_anew(register)
    assert len(screened) == ROUTED
    with register.engine.begin() as connection:
        connection.execute(
            insert(LineScreening),
            [
                {"line_id": one.line, "screened_at": NOW, "screened_by": "Ada", "mark": one.mark,
                 "content": to_plain(one.standing)}
                for one in screened
            ],
        )  # fmt: skip
    with register.reading() as session:
        asked = ask_register(session, TODAY)
    found = {(f.rule, f.name) for f in found_in(asked.asked, asked.limits) if f.fails}
    missed, false = wanted - found, found - wanted
    assert not missed, Counter(rule for rule, _ in missed)
    assert not false, Counter(rule for rule, _ in false)
    assert len(wanted) > 650


def test_every_answer_is_counted(planted):
    register, _ = planted
    with register.reading() as session:
        asked = ask_register(session, TODAY)
    for one, count in zip(asked.asked, counts(asked.asked), strict=True):
        answers = count.fails + count.passes + count.not_applicable + count.cannot_judge
        assert answers == one.rows.size
        assert count.cannot_judge == one.count(Code.CANNOT_JUDGE)


def test_a_sound_plant_raises_nothing(register):
    supports, _ = plant(400, 10_000)
    with register.engine.begin() as connection:
        store(connection, Base.metadata.tables, supports)
    with register.reading() as session:
        asked = ask_register(session, TODAY)
    assert [f for f in found_in(asked.asked, asked.limits) if f.fails] == []


def test_one_support_alone_gets_the_same_answers_as_in_the_plant(register):
    supports, wanted = plant(300, 7)
    with register.engine.begin() as connection:
        store(connection, Base.metadata.tables, supports)
    alone = set()
    with register.reading() as session:
        for support in supports[7::7]:
            asked = ask_register(session, TODAY, [support.number])
            alone |= {(f.rule, f.name) for f in found_in(asked.asked, asked.limits) if f.fails}
    assert alone == wanted


def test_every_kind_of_fault_is_planted():
    wanted = plant(SIZE, EVERY)[1] | lines(ROUTED)[1] | stories()[1]
    planted_rules = {rule for rule, _ in wanted}
    assert len(planted_rules) >= 80
    assert sum(len(faults) for faults in (*FAULTS.values(), LINE_FAULTS, PLOTS)) >= 90
