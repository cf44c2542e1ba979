"""Faults planted in a plant of 5,000 supports are found to the last one, and nothing else is."""

from __future__ import annotations

from collections import Counter
from datetime import datetime, time

import pytest

from supports.database import Register
from supports.model import Base
from supports.operations.people import add_person
from supports.operations.rule_runs import run_rules
from supports.queries.rule_runs import ask_register
from supports.rules.rule import Code
from supports.rules.run import counts, found_in
from supports.vocabulary import Role
from tests.acceptance.planted_lines import LINE_FAULTS, lines, store_lines
from tests.acceptance.planted_plant import FAULTS, TODAY, plant
from tests.acceptance.planted_rows import store

SIZE, EVERY, ROUTED = 5_000, 7, 40
NOW = datetime.combine(TODAY, time(8))


@pytest.fixture
def planted(register: Register):
    supports, wanted = plant(SIZE, EVERY)
    made, on_lines = lines(ROUTED)
    with register.engine.begin() as connection:
        store(connection, Base.metadata.tables, supports)
        store_lines(connection, Base.metadata.tables, made)
    add_person(register, "Ada", [Role.REGISTER_KEEPER], acting="", now=NOW)
    return register, wanted | on_lines


def test_every_planted_fault_is_found_and_nothing_else(planted):
    register, wanted = planted
    kept = run_rules(register, acting="Ada", now=NOW)
    assert kept.screened == ROUTED
    found = {(f.rule, f.name) for f in kept.found if f.fails}
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
    wanted = plant(SIZE, EVERY)[1] | lines(ROUTED)[1]
    planted_rules = {rule for rule, _ in wanted}
    assert len(planted_rules) >= 50
    assert sum(len(faults) for faults in (*FAULTS.values(), LINE_FAULTS)) >= 60
