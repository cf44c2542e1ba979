"""Days are those of the plant's clock, where one is laid down; moments stay in UTC."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from app.past import as_of_day
from supports.database import Register
from supports.errors import BadInput, Conflict, NotAllowed
from supports.operations.acting import deed
from supports.operations.people import add_person, end_role
from supports.operations.site import found_register, lay_down_time_zone
from supports.plant_time import zone_named
from supports.queries.plant_days import clock_at, day_at, end_of_day
from supports.queries.record import RecordAsked, batch_page
from supports.queries.site import settings_in_force
from supports.vocabulary import Role

NIGHT = datetime(2031, 5, 5, 2, 30)  # noqa: DTZ001  the register keeps UTC without zone
"""21:30 on the day before at the Gulf coast, 04:30 in Berlin, 12:30 in Brisbane."""
SITE = {"plant": "Test Works", "form_key": "k" * 32, "acting": "maker"}


@pytest.fixture
def founded(register):
    found_register(register, **SITE, now=NIGHT, zone="America/Chicago")
    add_person(register, "Kay Keeper", [Role.REGISTER_KEEPER], acting="", now=NIGHT)
    return register


def test_the_night_shift_works_on_the_day_that_the_plant_has(founded):
    with deed(founded, "Kay Keeper", NIGHT, action="try") as act:
        assert act.today == date(2031, 5, 4)
        assert act.now == NIGHT
        assert clock_at(act.session, act.now).isoformat() == "2031-05-04T21:30:00-05:00"


def test_without_a_zone_days_are_those_of_utc(register):
    found_register(register, **SITE, now=NIGHT)
    with register.reading() as session:
        assert day_at(session, NIGHT) == date(2031, 5, 5)
        assert clock_at(session, NIGHT) == NIGHT


def test_a_register_opened_anew_knows_its_zone(founded):
    again = Register(founded.url)
    assert again.zone is None
    again.check()
    assert again.zone == zone_named("America/Chicago")
    with again.reading() as session:
        settings_in_force(session, date(2031, 5, 4))


def test_a_role_ends_with_the_day_at_the_plant(founded):
    add_person(founded, "Lee", [Role.PLANNER], acting="Kay Keeper", now=NIGHT)
    end_role(founded, "Lee", Role.PLANNER, acting="Kay Keeper", now=NIGHT)
    still, over = NIGHT.replace(hour=4), NIGHT.replace(hour=5, minute=30)
    for moment, held in ((still, {Role.PLANNER}), (over, set())):
        with deed(founded, "Lee", moment, action="try") as act:
            assert act.person.roles == held


def test_the_record_is_cut_at_the_plants_midnight(founded):
    add_person(founded, "Late", [], acting="Kay Keeper", now=NIGHT.replace(hour=4, minute=59))
    add_person(founded, "Early", [], acting="Kay Keeper", now=NIGHT.replace(hour=5, minute=0))
    with founded.reading() as session:
        assert end_of_day(session, date(2031, 5, 4)).isoformat() == "2031-05-05T04:59:59.999999"
        asked = RecordAsked(since=date(2031, 5, 5), until=date(2031, 5, 5))
        (early,) = batch_page(session, asked).batches
        assert early.written_at == NIGHT.replace(hour=5, minute=0)
        with pytest.raises(BadInput):
            as_of_day(session, end_of_day(session, date(2031, 5, 4)), ("", "", ""))


def test_a_zone_that_a_machine_does_not_know_is_named_in_a_sentence():
    for name in ("Mars/Olympus", "Europe", "../etc/passwd"):
        with pytest.raises(BadInput, match="no such time zone"):
            zone_named(name)


def test_the_zone_is_laid_down_by_the_keeper_once_a_day(founded):
    day_after = NIGHT.replace(day=6)
    who = {"acting": "Kay Keeper", "reason": "moved"}
    with pytest.raises(BadInput, match="no such time zone"):
        lay_down_time_zone(founded, "Mars/Olympus", **who, now=day_after)
    with pytest.raises(Conflict, match="laid down today already"):
        lay_down_time_zone(founded, "Europe/Berlin", **who, now=NIGHT)
    lay_down_time_zone(founded, "Europe/Berlin", **who, now=day_after)
    with founded.reading() as session:
        assert day_at(session, NIGHT) == date(2031, 5, 5)
    add_person(founded, "Lee", [Role.PLANNER], acting="Kay Keeper", now=day_after)
    with pytest.raises(NotAllowed):
        lay_down_time_zone(founded, "UTC", acting="Lee", reason="", now=NIGHT.replace(day=7))
