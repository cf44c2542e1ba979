"""Which calculation holds for a line: never one that is only planned, until its change is done."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from sqlalchemy import insert, select, update

from supports.model import (
    Assessment,
    Base,
    Calculation,
    Change,
    ChangeLine,
    RequiredLoad,
    WeightItem,
)
from supports.queries.change_record import superseded_by
from supports.queries.change_views import loads_apply_from
from supports.queries.holding import calculations_by_line, holding_calculations
from supports.queries.route_views import calculations_on_record
from supports.queries.rule_runs import ask_register
from supports.rules.frame import Subject
from supports.rules.workflow import ChangeState
from supports.vocabulary import CalculationMethod, CalculationStatus
from tests.acceptance.planted_plant import LOAD, TODAY, ago, plant
from tests.acceptance.planted_rows import store

ISSUED, PLANNED = 1, 77
"""The calculation that came with the register, and a what-if kept for a change."""
MOMENT = datetime(2031, 5, 1, 8)  # noqa: DTZ001  the register keeps UTC without zone


@pytest.fixture
def planned(register):
    """Give a line with a newer screening by which everything would carry twice as much."""
    supports, _ = plant(20, 1_000)
    with register.engine.begin() as connection:
        store(connection, Base.metadata.tables, supports)
        kept = {
            "id": PLANNED, "number": "SCREENING-CH-1", "revision": "1", "row_version": 1,
            "method": CalculationMethod.SCREENING, "status": CalculationStatus.PLANNED,
            "issued_on": ago(1),
        }  # fmt: skip
        connection.execute(insert(Calculation), kept)
        rows = connection.execute(select(RequiredLoad.__table__)).mappings()
        twice = [
            {**row, "id": None, "calculation_id": PLANNED, "load": 2.0 * row["load"]}
            for row in rows
        ]
        for row in twice:
            del row["id"]
        connection.execute(insert(RequiredLoad), twice)
        change = {
            "id": 1, "number": "CH-1", "title": "t", "reason": "r", "duration": "permanent",
            "state": ChangeState.CLEARED, "requested_by": "N. N.", "requested_on": ago(9),
            "row_version": 1,
        }  # fmt: skip
        connection.execute(insert(Change), change)
        connection.execute(insert(ChangeLine), {"change_id": 1, "line_id": 1})
        for revision, calculation in ((1, ISSUED), (2, PLANNED)):
            connection.execute(
                insert(Assessment),
                {"change_id": 1, "revision": revision, "calculation_id": calculation,
                 "made_at": MOMENT, "prepared_by": "N. N.", "content": {}, "fingerprint": "x"},
            )  # fmt: skip
    return register


def standing_at(register, state: ChangeState) -> None:
    with register.engine.begin() as connection:
        connection.execute(update(Change).values(state=state))


def holding(register) -> set[int]:
    """Return what each of the four ways to ask says; they must agree."""
    with register.reading() as session:
        points = [1, 2, 3]
        return {
            holding_calculations(session)[1],
            calculations_by_line(session, [1])[1][0],
            loads_apply_from(session, points, None)["L-0001"],
            calculations_on_record(session, "L-0001")["L-0001"],
        }


def required(register) -> float:
    with register.reading() as session:
        rows = ask_register(session, TODAY, [1], rules=()).plant.frames[Subject.UNIT]
    return float(rows["required"][0])


def test_a_planned_calculation_holds_for_nothing_before_its_change_is_done(planned):
    for state in (ChangeState.BEING_WORKED_OUT, ChangeState.CLEARED, ChangeState.BEING_DONE):
        standing_at(planned, state)
        assert holding(planned) == {ISSUED}
    assert required(planned) == pytest.approx(LOAD)


@pytest.mark.parametrize(
    "state", [ChangeState.TO_BE_PROVED, ChangeState.IN_FORCE, ChangeState.CLOSED]
)
def test_it_holds_once_the_work_is_done(planned, state):
    standing_at(planned, state)
    assert holding(planned) == {PLANNED}
    assert required(planned) == pytest.approx(2.0 * LOAD)


def test_it_may_be_preferred_for_its_own_change_at_any_time(planned):
    with planned.reading() as session:
        assert loads_apply_from(session, [1], PLANNED) == {"L-0001": PLANNED}


def made_for_the_change(register, *, weight: bool) -> None:
    """Let the newest assessment rest on a full analysis that was issued for the change."""
    with register.engine.begin() as connection:
        full = {"method": CalculationMethod.FULL, "status": CalculationStatus.ISSUED}
        connection.execute(update(Calculation).where(Calculation.id == PLANNED).values(**full))
        if weight:
            item = {"change_id": 1, "line_id": 1, "description": "valve", "mass": 400.0}
            connection.execute(insert(WeightItem), item)


def test_loads_of_an_issued_calculation_made_for_a_weight_hold_once_the_weight_is_built(planned):
    made_for_the_change(planned, weight=True)
    for state in (ChangeState.BEFORE_THE_APPROVER, ChangeState.BEING_DONE, ChangeState.CALLED_OFF):
        standing_at(planned, state)
        assert holding(planned) == {ISSUED}
    standing_at(planned, ChangeState.TO_BE_PROVED)
    assert holding(planned) == {PLANNED}


def test_a_re_set_to_loads_that_hold_already_leaves_them_in_force(planned):
    made_for_the_change(planned, weight=False)
    standing_at(planned, ChangeState.BEING_DONE)
    assert holding(planned) == {PLANNED}


def test_a_calculation_made_for_a_weight_holds_where_there_is_no_other(planned):
    made_for_the_change(planned, weight=True)
    standing_at(planned, ChangeState.BEING_DONE)
    with planned.engine.begin() as connection:
        taken_back = {"status": CalculationStatus.SUPERSEDED}
        connection.execute(update(Calculation).where(Calculation.id == ISSUED).values(**taken_back))
    assert holding(planned) == {PLANNED}


def test_a_what_if_takes_the_place_of_nothing_that_is_issued(planned):
    with planned.engine.begin() as connection:
        connection.execute(
            insert(Calculation),
            {"id": 78, "number": "C-1", "revision": "B", "method": CalculationMethod.FULL,
             "status": CalculationStatus.PLANNED, "issued_on": date(2031, 5, 2),
             "row_version": 1},
        )  # fmt: skip
    with planned.reading() as session:
        assert superseded_by(session, session.get_one(Calculation, ISSUED)) == ""
    with planned.engine.begin() as connection:
        connection.execute(update(Calculation).where(Calculation.id == 78).values(status="issued"))
    with planned.reading() as session:
        assert superseded_by(session, session.get_one(Calculation, ISSUED)) == "C-1 rev. B"
