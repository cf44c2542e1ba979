"""A change up to the approver's word: roles, four eyes, the record, signatures that become void.

Who may do what is the site's own rule and common practice; the five items of the record are those
of 29 CFR 1910.119(l)(2)(i) to (v), by name.
"""

from __future__ import annotations

from datetime import timedelta

import pytest

from supports.errors import BadInput, NotAllowed, NotReady
from supports.operations.changes import Decision, Sifting, add_weights, sift_change
from supports.operations.changes.meeting import meet_changes
from supports.queries.change_record import signed_on_change
from supports.queries.lookups import change_of
from supports.queries.rule_events import civil_signed
from supports.rules.workflow.record import FIVE_ITEMS
from supports.snapshots import WeightItemView
from supports.vocabulary import Role
from tests.operations.road import Road

VALVE = WeightItemView("L-1", "valve", 400.0, along=3.0, off_axis=0.0)


def test_the_whole_road_to_the_closing(road):
    road.given_out().worked()
    assert road.state() == "done, to be proved"
    road.proved()
    from supports.operations.closing import close_change

    close_change(road.register, road.number, acting="CO", now=road.now)
    assert road.state() == "closed"
    assert road.refusals() == []


def test_the_record_wants_the_five_items_of_the_regulation_by_name(road):
    """29 CFR 1910.119(l)(2)(i) to (v)."""
    assert list(FIVE_ITEMS.values()) == [
        "technical basis",
        "impact on safety and health",
        "modifications to operating procedures",
        "necessary time period",
        "authorization requirements",
    ]
    road.note()
    road.sift()
    road.describe(five={"technical_basis": "the study"})
    road.assess()
    road.say(Decision.CHECK, by="S2")
    with pytest.raises(NotReady) as refused:
        road.say(Decision.APPROVE, by="RE")
    missing = [words for field, words in FIVE_ITEMS.items() if field != "technical_basis"]
    assert list(refused.value.blockers) == [f"not written: {words}" for words in missing]


@pytest.mark.parametrize("person", ["T1", "PL", "RE", "CE", "S1"])
def test_only_the_coordinator_sifts(road, person):
    road.note()
    with pytest.raises(NotAllowed, match="only change coordinator may sift"):
        road.sift(by=person)
    assert road.refusals() == [(person, "sift a change")]


def test_nothing_is_assessed_before_it_is_sifted(road):
    road.note()
    with pytest.raises(NotReady, match="it stands at: noted"):
        road.assess()


def test_preparing_checking_and_approving_take_three_people(road):
    from supports.operations.people import give_role

    give_role(road.register, "S2", Role.RESPONSIBLE_ENGINEER, acting="KK", now=road.now)
    road.prepared()
    with pytest.raises(NotAllowed, match="S1 may not check it"):
        road.say(Decision.CHECK, by="S1")
    road.say(Decision.CHECK, by="S2")
    with pytest.raises(NotAllowed, match="S2 may not approve it"):
        road.say(Decision.APPROVE, by="S2")
    assert road.say(Decision.APPROVE, by="RE") == "cleared to build"
    assert road.refusals() == [("S1", "check a change"), ("S2", "approve a change")]


def test_a_refusal_is_a_batch_of_its_own_and_changes_nothing_else(road):
    road.prepared()
    with pytest.raises(NotAllowed):
        road.say(Decision.CHECK, by="S1")
    assert road.last_batch() == ("S1", "refused: check a change")
    assert road.state() == "being checked"


def test_nobody_and_a_stranger_are_refused_and_that_is_kept(road):
    for name in ("", "Stranger"):
        with pytest.raises(NotAllowed):
            road.note(by=name)
    assert road.refusals() == [
        ("nobody named", "note a change"),
        ("Stranger", "note a change"),
    ]


def voids(road: Road) -> dict[str, tuple[str, ...]]:
    """Return what was changed under each signature that no longer stands."""
    with road.register.reading() as session:
        signed = signed_on_change(session, change_of(session, road.number))
    return {one.meaning: one.changed for one in signed if not one.stands}


def test_new_words_make_a_signature_void_and_say_which_part_was_changed(road):
    road.prepared()
    road.say(Decision.CHECK, by="S2")
    void = road.describe(five={"safety_and_health": "more to it than that"})
    assert [(one.meaning, one.person) for one in void] == [("prepared", "S1"), ("checked", "S2")]
    assert voids(road) == {
        "prepared": ("impact on safety and health",),
        "checked": ("impact on safety and health",),
    }
    assert road.state() == "being worked out"


def test_new_weights_make_signatures_void_and_the_same_again_do_not(road):
    road.prepared()
    first = add_weights(road.register, road.number, [VALVE], acting="S1", now=road.now)
    assert [one.changed for one in first] == [("weights",)]
    road.assess()
    again = add_weights(road.register, road.number, [VALVE], acting="S1", now=road.now)
    assert (again, road.state()) == ((), "being checked")


def test_a_second_assessment_makes_the_check_of_the_first_void(road):
    road.prepared()
    road.say(Decision.CHECK, by="S2")
    road.assess()
    assert voids(road) == {"prepared": ("assessment",), "checked": ("assessment",)}
    with pytest.raises(NotReady, match="it stands at: being checked"):
        road.say(Decision.APPROVE, by="RE")


def test_an_approved_change_is_not_written_into(road):
    road.approved()
    with pytest.raises(NotReady, match="must not be approved yet"):
        road.describe(five={"technical_basis": "something else"})


def test_every_role_asked_gives_its_word_and_an_objection_blocks(road):
    road.note()
    road.sift([Role.CIVIL_ENGINEER])
    road.describe()
    road.assess()
    road.say(Decision.CHECK, by="S2")
    with pytest.raises(NotReady, match="no word yet from: civil engineer"):
        road.say(Decision.APPROVE, by="RE")
    with pytest.raises(NotAllowed, match="nobody asked"):
        road.agree(by="IN")
    road.agree(by="CE", agrees=False)
    with pytest.raises(NotReady, match="civil engineer objects: steel"):
        road.say(Decision.APPROVE, by="RE")
    assert road.agree(by="CE") == ("civil engineer",)
    assert road.say(Decision.APPROVE, by="RE") == "cleared to build"


def test_the_civil_engineers_word_counts_for_the_loads_it_was_given_on(road):
    from tests.operations.plant import REQUIRED, TAGS, calculate

    def signed():
        with road.register.reading() as session:
            return civil_signed(session)

    road.note()
    road.sift([Role.CIVIL_ENGINEER])
    road.describe()
    road.assess()
    road.say(Decision.CHECK, by="S2")
    road.agree(by="CE", agrees=False)
    assert signed() == set()
    road.agree(by="CE")
    assert len(signed()) == 1
    with road.register.writing("KK", "", road.now, action="import") as writing:
        calculate(writing, "L-1", "C-1", "C", dict.fromkeys(TAGS, 1.1 * REQUIRED))
    assert signed() == set()


@pytest.mark.parametrize("decision", [Decision.SEND_BACK, Decision.REFUSE])
def test_sending_back_and_refusing_want_a_reason(road, decision):
    road.prepared()
    road.say(Decision.CHECK, by="S2")
    with pytest.raises(BadInput, match="give the reason"):
        road.say(decision, by="RE", reason="")
    state = road.say(decision, by="RE", reason="nozzles not looked at")
    assert state == {"send back": "sent back", "refuse": "refused"}[decision]


def test_a_superseded_calculation_is_neither_assessed_by_nor_approved_on(road):
    from tests.operations.plant import REQUIRED, TAGS, calculate

    road.prepared()
    road.say(Decision.CHECK, by="S2")
    with road.register.writing("KK", "", road.now, action="import") as writing:
        calculate(writing, "L-1", "C-1", "C", dict.fromkeys(TAGS, REQUIRED))
    with pytest.raises(NotReady, match="superseded by C-1"):
        road.say(Decision.APPROVE, by="RE")
    with pytest.raises(NotReady, match="no longer the present one"):
        road.assess("B")
    road.assess("C")
    road.say(Decision.CHECK, by="S2")
    assert road.say(Decision.APPROVE, by="RE") == "cleared to build"


def test_two_changes_on_one_stretch_are_made_to_meet(road):
    road.prepared()
    other = Road(road.register, road.now, "CH-2")
    other.note()
    assert other.sift() == ("CH-1",)
    road.say(Decision.CHECK, by="S2")
    with pytest.raises(NotReady, match="CH-2 is on the same stretch and not met"):
        road.say(Decision.APPROVE, by="RE")
    meet_changes(
        road.register, ("CH-1", "CH-2"), lead="CH-1", note="one calculation counts both",
        acting="CO", now=road.now,
    )  # fmt: skip
    assert road.say(Decision.APPROVE, by="RE") == "cleared to build"


@pytest.mark.parametrize(
    ("days", "words"), [(None, "needs an end date"), (0, "longest term"), (91, "longest term")]
)
def test_a_temporary_change_ends_within_the_longest_term_of_the_site(road, days, words):
    until = None if days is None else road.now.date() + timedelta(days=days)
    with pytest.raises(BadInput, match=words):
        road.note(duration="temporary", ends_on=until)


def test_what_is_not_known_of_a_sifting_is_asked(road):
    road.note()
    for sifting, words in (
        (Sifting("deep", "all"), "how deep"),
        (Sifting("screening", " "), "str"),
    ):
        with pytest.raises(BadInput, match=words):
            sift_change(road.register, road.number, sifting, acting="CO", now=road.now)
