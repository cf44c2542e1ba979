"""Lines screened for the rules: figures of a handbook beam, and a mark that any change breaks."""

from __future__ import annotations

from datetime import datetime

import pytest
from sqlalchemy import insert, select, text

from supports.model import Base, LineScreening, Nameplate, SettingEvent, UnitPlacement
from supports.operations.people import add_person
from supports.operations.rule_runs import run_rules
from supports.queries.line_standings import NO_ROUTE, STALE, marks, standings
from supports.queries.rule_runs import ask_register
from supports.rules.catalogue import rule_of
from supports.rules.rule import Code, missing_words
from supports.vocabulary import Role
from tests.acceptance.planted_lines import END_MOMENT, REST_LOAD, RESTS, lines, store_lines
from tests.acceptance.planted_plant import TODAY, ago, plant
from tests.acceptance.planted_rows import store

NOW = datetime(2031, 5, 6, 8)  # noqa: DTZ001  the register keeps UTC without zone
RULES = ("sum-does-not-close", "nozzle-over-limit")


@pytest.fixture
def routed(register):
    made, _ = lines(1)
    supports, _ = plant(20, 1_000)
    with register.engine.begin() as connection:
        store_lines(connection, Base.metadata.tables, made)
        store(connection, Base.metadata.tables, supports)
    add_person(register, "Ada", [Role.STRESS_ENGINEER, Role.REGISTER_KEEPER], acting="", now=NOW)
    return register, made[0]


def run(register) -> int:
    return run_rules(register, acting="Ada", now=NOW).screened


def answers(register, line: str) -> list[tuple[Code, tuple[str, ...]]]:
    with register.reading() as session:
        asked = ask_register(session, TODAY, rules=tuple(map(rule_of, RULES))).asked
    return [
        (Code(one.codes[row]), missing_words(one, row))
        for one in asked
        for row, number in enumerate(one.rows.text("line"))
        if number == line
    ]


def test_a_line_is_screened_to_the_figures_of_a_handbook(routed):
    register, one = routed
    assert run(register) == 1
    with register.reading() as session:
        kept = standings(session)[one.number]
    # weight w·36 m; ends w·L/2 each; moment w·L²/12 (beam with both ends built in, any handbook)
    assert kept.standing.weight == pytest.approx(6.0 * REST_LOAD, rel=1e-9)
    assert kept.standing.at_ends == pytest.approx(REST_LOAD, rel=1e-6)
    assert kept.standing.on_record == pytest.approx(RESTS * REST_LOAD)
    (nozzle,) = kept.standing.nozzles
    assert nozzle.use == pytest.approx(END_MOMENT / 4_000.0, rel=1e-6)
    assert kept.source == "screened 2031-05-06 by Ada; no stress analysis"
    assert answers(register, one.name) == [(Code.PASSES, ()), (Code.PASSES, ())]


def test_what_was_never_screened_is_not_judged_and_a_second_run_screens_nothing(routed):
    register, one = routed
    assert answers(register, one.name) == [(Code.CANNOT_JUDGE, (STALE,))] * 2
    assert (Code.CANNOT_JUDGE, (NO_ROUTE,)) in answers(register, "L-0001")
    assert [run(register), run(register)] == [1, 0]


CHANGES = (
    "UPDATE line SET row_version = row_version + 1 WHERE id = :line",
    "UPDATE line_node SET row_version = row_version + 1 WHERE line_id = :line AND node = '3'",
    "UPDATE line_element SET row_version = row_version + 1 WHERE line_id = :line",
    "UPDATE line_end SET row_version = row_version + 1 WHERE line_id = :line AND node = '0'",
    "UPDATE nozzle_limit SET row_version = row_version + 1 WHERE line_id = :line",
    "UPDATE attachment SET row_version = row_version + 1 WHERE line_id = :line",
    "UPDATE required_load SET row_version = row_version + 1 WHERE line_id = :line",
    "UPDATE support_point SET row_version = row_version + 1 WHERE id = :point",
    "UPDATE assembly SET row_version = row_version + 1 WHERE point_id = :point",
    "UPDATE calculation SET status = 'superseded' WHERE id = :line",
)


@pytest.mark.parametrize("change", CHANGES)
def test_any_change_of_its_data_makes_a_screening_stale(routed, change):
    register, one = routed
    run(register)
    keys = {"line": one.number, "point": one.points[0]["id"]}
    with register.engine.begin() as connection:
        statement = text(change)
        wanted = {k: v for k, v in keys.items() if f":{k}" in change}
        assert connection.execute(statement, wanted).rowcount
    assert answers(register, one.name)[1] == (Code.CANNOT_JUDGE, (STALE,))
    assert run(register) == 1


def test_units_their_plates_settings_and_places_are_part_of_the_mark(routed):
    register, _ = routed
    with register.engine.begin() as connection:
        connection.execute(
            Base.metadata.tables["line_node"].insert(),
            {"line_id": 1, "node": "a", "east": 0.0, "north": 0.0, "elevation": 0.0,
             "row_version": 1},
        )  # fmt: skip
    seen = set()
    event = {"unit_id": 1, "happened_on": ago(1), "load": 1.0, "method": "scale",
             "plant_state": "unknown", "set_by": "x"}  # fmt: skip
    for statement in (
        None,
        insert(SettingEvent).values(**event),
        Nameplate.__table__.update().where(Nameplate.unit_id == 1).values(row_version=2),
        Base.metadata.tables["unit"].update().values(row_version=2),
        Base.metadata.tables["hardware_piece"].update().values(row_version=2),
        UnitPlacement.__table__.update().where(UnitPlacement.unit_id == 2).values(until=ago(1)),
    ):
        if statement is not None:
            with register.engine.begin() as connection:
                assert connection.execute(statement).rowcount
        with register.reading() as session:
            seen.add(marks(session)[1])
    assert len(seen) == 6


def test_a_line_that_cannot_be_screened_says_what_it_lacks(routed):
    register, one = routed
    with register.engine.begin() as connection:
        connection.execute(text("UPDATE line SET material = NULL WHERE id = :n"), {"n": one.number})
    run(register)
    assert answers(register, one.name)[0] == (Code.CANNOT_JUDGE, (f"{one.name}: material",))
    with register.reading() as session:
        assert len(session.scalars(select(LineScreening)).all()) == 1
