"""Stories about starting up: emergencies, travel stops, proofs, and what nobody knows.

The numbers are worked by hand from the plates of the example line (20 kN, 0.25 kN a turn, 17 to
23 kN) with the site's tolerance of 2 %; the rules of who and when are common practice, no source.
"""

from __future__ import annotations

from datetime import timedelta

import pytest

from supports.errors import BadInput, NotAllowed, NotReady
from supports.operations.changes import (
    Emergency,
    SafeAct,
    make_safe,
)
from supports.queries.rule_runs import ask_register
from supports.queries.start_up import start_up_of
from supports.rules.catalogue import RULES
from supports.rules.run import found_in
from supports.rules.workflow.proofs import Proof
from supports.rules.workflow.start_up import MayStart
from tests.operations.road import Road, road_on


@pytest.fixture
def road(register) -> Road:
    return road_on(register)


def start_up(road: Road, line: str = "L-1") -> tuple[MayStart, list[str]]:
    """Ask whether a line may start up; return the answer and the blockers."""
    with road.register.reading() as session:
        answer = start_up_of(session, road.now, line)
    return answer.answer, [f"{b.about}: {b.what}" for b in answer.blockers]


# Emergencies


def emergency(**words: object) -> Emergency:
    said = {"lines": ("L-1",), "reason": "bolt is cracked", "what": SafeAct.STOP_IN,
            "shift_leader": "OP", "engineer": "S1", "tag": "C2", "pin_number": "P-9"}  # fmt: skip
    return Emergency(**(said | words))  # type: ignore[arg-type]  a test's words


def test_an_emergency_makes_safe_and_is_taken_through_within_the_hours(road):
    number = make_safe(road.register, emergency(), acting="T1", now=road.now)
    one = Road(road.register, road.now, number)
    assert one.state() == "made safe, to be taken through"
    answer, named = start_up(road)
    assert answer is MayStart.NO
    assert any("travel stop P-9 is in C2/A" in words for words in named)
    assert any("to be taken through by 2031-05-07 08:00" in words for words in named)
    one.sift()
    assert not any("to be taken through" in words for words in start_up(one)[1])
    one.later(4)
    assert any("to be taken through" in words for words in start_up(one)[1])


def test_an_emergency_left_without_its_change_is_found_by_the_rules(road):
    """72 h from making safe to the approved change: common practice, no source."""
    number = make_safe(road.register, emergency(), acting="T1", now=road.now)
    rule = [one for one in RULES if one.id == "emergency-not-regularised"]

    def found() -> list[str]:
        with road.register.reading() as session:
            asked = ask_register(session, road.now.date(), rules=rule)
            return [one.name for one in found_in(asked.asked, asked.limits) if one.fails]

    road.later(3)
    assert found() == []
    road.later(1)
    assert found() == [number]


def test_an_emergency_is_no_way_to_a_new_value(road):
    to_new = emergency(what=SafeAct.BACK_TO_APPROVED, pin_number="", load=22_100.0)
    with pytest.raises(NotAllowed, match="an emergency sets no new value"):
        make_safe(road.register, to_new, acting="T1", now=road.now)
    assert road.refusals() == [("T1", "make a line safe")]
    back_again = emergency(what=SafeAct.BACK_TO_APPROVED, pin_number="", load=20_200.0)
    make_safe(road.register, back_again, acting="T1", now=road.now)


@pytest.mark.parametrize("who", [{"shift_leader": "T1"}, {"engineer": "OP"}, {"engineer": "PL"}])
def test_an_emergency_is_cleared_by_shift_leader_and_engineer(road, who):
    with pytest.raises(NotAllowed):
        make_safe(road.register, emergency(**who), acting="T1", now=road.now)


# Travel stops


def test_six_in_five_out_is_a_no_that_names_pin_unit_and_person(road):
    pins = [(tag, f"P-{n}{tag[1]}") for tag in ("C1", "C2", "C3") for n in (1, 2)]
    for tag, pin in pins:
        road.stop(tag, pin, "in", by="T2")
    for tag, pin in pins[:-1]:
        road.stop(tag, pin, "out")
    answer, named = start_up(road)
    assert answer is MayStart.NO
    assert len(named) == 1
    assert "travel stop P-23 is in C3/A, put in by T2" in named[0]
    with pytest.raises(BadInput, match="found away from its unit"):
        road.stop("C3", "P-23", "out", found_away="in a tool box")
    with pytest.raises(NotAllowed, match="finder and witness"):
        road.stop("C3", "P-23", "out", found_away="in a tool box", witness="T1", freed_by="IN")
    road.stop("C3", "P-23", "out", found_away="in a tool box", witness="FO", freed_by="IN")
    assert start_up(road) == (MayStart.YES, [])


def test_a_pin_is_in_one_unit_at_a_time_and_comes_out_once(road):
    road.stop("C1", "P-1", "in")
    for tag, direction in (("C1", "in"), ("C2", "in"), ("C2", "out")):
        with pytest.raises(NotReady):
            road.stop(tag, "P-1", direction)
    road.stop("C1", "P-1", "out")
    with pytest.raises(NotReady, match="is not in"):
        road.stop("C1", "P-1", "out")


def test_stops_are_counted_out_by_operations_and_maintenance_each_for_themselves(road):
    road.given_out().worked()
    road.stop("C1", "P-1", "in")
    with pytest.raises(NotReady, match="C1/A: travel stop P-1 is in"):
        road.prove(Proof.STOPS_BY_OPERATIONS)
    road.stop("C1", "P-1", "out")
    road.prove(Proof.STOPS_BY_OPERATIONS)
    with pytest.raises(NotAllowed):
        road.prove(Proof.STOPS_BY_MAINTENANCE, by="OP")


def test_only_a_walk_in_operation_is_put_off_by_an_engineer_to_a_day(road):
    road.given_out().worked()
    later = road.now.date() + timedelta(days=14)
    with pytest.raises(NotAllowed, match="cannot be put off"):
        road.prove(Proof.SHUT_DOWN_WALK, put_off_until=later)
    with pytest.raises(NotAllowed, match="put a walk off"):
        road.prove(Proof.OPERATING_WALK, by="IN", put_off_until=later)
    road.prove(Proof.OPERATING_WALK, by="S1", put_off_until=later)


# May we start up?


def test_a_plant_without_supports_is_not_known(register):
    from tests.operations.days import START

    with register.reading() as session:
        assert start_up_of(session, START).answer is MayStart.NOT_KNOWN


def test_a_setting_nobody_knows_is_not_a_yes(road):
    from supports.model import Assembly, SupportPoint, SupportTag, Unit, UnitPlacement

    assert start_up(road)[0] is MayStart.YES
    with road.register.writing("KK", "", road.now, action="add") as writing:
        point = SupportPoint(kind="constant hanger", in_service="in place")
        unit = Unit(kind="constant hanger")
        writing.session.add_all([point, unit])
        writing.session.flush()
        assembly = Assembly(point_id=point.id, arrangement="single")
        writing.session.add_all(
            [assembly, SupportTag(point_id=point.id, tag="C9", matching_key="C9")]
        )
        writing.session.flush()
        writing.session.add(UnitPlacement(unit_id=unit.id, assembly_id=assembly.id, position="A"))
    with road.register.reading() as session:
        answer = start_up_of(session, road.now)
    assert answer.answer is MayStart.NOT_KNOWN
    assert [str(m) for m in answer.missing] == [
        "C9/A: setting not known, nameplate not known (no line)"
    ]
