"""Who is who: roles with dates, deputies, and who may enter whom."""

from __future__ import annotations

from datetime import timedelta

import pytest

from supports.errors import BadInput, Conflict, NotAllowed, NotReady
from supports.operations.acting import actor
from supports.operations.changes import Decision
from supports.operations.people import Deputy, add_person, end_role, give_role, name_deputy
from supports.vocabulary import Role


def roles(road, name: str) -> set[Role]:
    with road.register.reading() as session:
        return set(actor(session, name, road.now.date()).roles)


def deputy(road, *, name="S2", instead_of="RE", role=Role.RESPONSIBLE_ENGINEER, days=(0, 5)):
    first, last = (road.now.date() + timedelta(days=n) for n in days)
    return Deputy(name, instead_of, role, first, last)


def test_the_first_person_enters_themself_and_only_keepers_the_others(register):
    from tests.operations.days import START

    add_person(register, "Ada", [Role.REGISTER_KEEPER], acting="", now=START)
    add_person(register, "Bea", [Role.TECHNICIAN], acting="Ada", now=START, initials="B")
    for acting in ("", "Bea", "Nobody"):
        with pytest.raises(NotAllowed):
            add_person(register, "Cleo", [Role.PLANNER], acting=acting, now=START)
    with pytest.raises(Conflict, match="in the register already"):
        add_person(register, "Bea", [Role.PLANNER], acting="Ada", now=START)


def test_a_deputy_acts_in_the_role_from_the_first_to_the_last_day(road):
    name_deputy(road.register, deputy(road, days=(1, 2)), acting="RE", now=road.now)
    held = []
    for _ in range(4):
        held.append(Role.RESPONSIBLE_ENGINEER in roles(road, "S2"))
        road.later()
    assert held == [False, True, True, False]


def test_a_deputy_is_counted_as_the_person_they_are(road):
    name_deputy(road.register, deputy(road), acting="RE", now=road.now)
    road.prepared()
    road.say(Decision.CHECK, by="S2")
    with pytest.raises(NotAllowed, match="S2 may not approve it"):
        road.say(Decision.APPROVE, by="S2")


def test_only_the_person_or_a_keeper_names_a_deputy_and_deputies_name_none(road):
    with pytest.raises(NotAllowed, match="name deputies of others"):
        name_deputy(road.register, deputy(road), acting="T1", now=road.now)
    name_deputy(road.register, deputy(road), acting="KK", now=road.now)
    further = deputy(road, name="S1", instead_of="S2")
    with pytest.raises(NotAllowed, match="cannot hand it on"):
        name_deputy(road.register, further, acting="S2", now=road.now)
    with pytest.raises(BadInput, match="last day is before the first"):
        name_deputy(road.register, deputy(road, days=(3, 1)), acting="RE", now=road.now)


def test_a_role_ends_at_the_end_of_the_day_and_the_last_keeper_stays(road):
    end_role(road.register, "S1", Role.STRESS_ENGINEER, acting="KK", now=road.now)
    assert roles(road, "S1") == {Role.STRESS_ENGINEER}
    road.later()
    assert roles(road, "S1") == set()
    with pytest.raises(NotReady, match="does not hold the role"):
        end_role(road.register, "S1", Role.STRESS_ENGINEER, acting="KK", now=road.now)
    end_role(road.register, "CO", Role.COORDINATOR, acting="KK", now=road.now)
    with pytest.raises(NotReady, match="nobody would be left"):
        end_role(road.register, "KK", Role.REGISTER_KEEPER, acting="KK", now=road.now)
    give_role(road.register, "PL", Role.REGISTER_KEEPER, acting="KK", now=road.now)
    end_role(road.register, "KK", Role.REGISTER_KEEPER, acting="KK", now=road.now)


def test_a_role_is_given_once(road):
    with pytest.raises(Conflict, match="already"):
        give_role(road.register, "PL", Role.PLANNER, acting="KK", now=road.now)
