"""Rows of another file joined to supports in the declared order, doubts left to a person."""

from __future__ import annotations

from datetime import date

from importers.joining import FormerTag, Index, KnownSupport, Step, Stranger, join_one, sorted_out

RENAMED_ON = date(2025, 6, 1)
KNOWN = (
    KnownSupport(
        "PS-1024",
        former=(FormerTag("PS-88", None, RENAMED_ON),),
        serials=("S-7",),
        nodes=(("C-1", "120"),),
        places=(("L-1", 3),),
    ),
    KnownSupport("PS-1025", serials=("S-8",), places=(("L-1", 4),)),
    KnownSupport("PS-1026"),
)


def joined(*strangers, known=KNOWN, accepted=None):
    index = Index(known, accepted or {})
    return sorted_out([join_one(stranger, index) for stranger in strangers], [s.tag for s in known])


def one(known=KNOWN, accepted=None, **told):
    return joined(Stranger(2, **told), known=known, accepted=accepted)


def test_the_present_tag_comes_first():
    (match,) = one(tag="PS-1024").matched
    assert (match.tag, match.step) == ("PS-1024", Step.PRESENT)


def test_a_former_tag_counts_on_days_when_it_was_borne():
    (match,) = one(tag="PS-88", on=date(2024, 5, 1)).matched
    assert (match.tag, match.step) == ("PS-1024", Step.FORMER)
    assert "2025-06-01" in match.reason
    assert one(tag="PS-88", on=date(2026, 5, 1)).matched == ()


def test_a_new_support_under_an_old_tag_is_not_joined_to_the_old_one():
    """Scenario: PS-88 became PS-1024; next year a new PS-88 stands elsewhere."""
    new = KnownSupport("PS-88", since=date(2026, 1, 1))
    known = (*KNOWN, new)
    assert one(known, tag="PS-88", on=date(2026, 5, 1)).matched[0].tag == "PS-88"
    assert one(known, tag="PS-88", on=date(2024, 5, 1)).matched[0].tag == "PS-1024"


def test_another_tag_with_the_same_serial_is_a_rename_to_be_confirmed():
    (question,) = one(tag="HX-9", serial="S-7", line="L-1", order=3).to_decide
    assert "rename" in question.what
    assert question.candidates[0].tag == "PS-1024"
    assert "S-7" in question.candidates[0].reason


def test_an_accepted_match_is_silent_the_next_time():
    joined = one(accepted={"HX-9": "PS-1024"}, tag="HX-9", serial="S-7")
    assert joined.matched[0].step is Step.ACCEPTED
    assert joined.to_decide == ()


def test_matches_after_cleaning_are_listed_apart():
    joined = one(tag="ps\u20131024 ")
    assert joined.matched == ()
    assert [(m.tag, m.step) for m in joined.cleaned] == [("PS-1024", Step.CLEANED)]


def test_rows_without_a_tag_are_joined_by_serial_node_or_place():
    assert one(serial="S-8").matched[0].step is Step.SERIAL
    assert one(calculation="C-1", node="120").matched[0].step is Step.NODE
    assert one(line="L-1", order=4).matched[0].step is Step.PLACE
    assert one(line="L-1", order=4).matched[0].tag == "PS-1025"


def test_likeness_of_letters_and_digits_is_only_a_suggestion():
    joined = one(tag="PS-1O24")
    assert (joined.matched, joined.cleaned) == ((), ())
    (question,) = joined.to_decide
    assert question.candidates[0].tag == "PS-1024"
    assert question.candidates[0].reason == "differs in O/0 or I/1 only"
    assert len(question.candidates) > 1


def test_a_tag_and_a_serial_that_disagree_are_put_to_a_person():
    (question,) = one(tag="PS-1025", serial="S-7").to_decide
    assert [candidate.tag for candidate in question.candidates] == ["PS-1025", "PS-1024"]


def test_two_supports_under_one_cleaned_tag_are_put_to_a_person():
    known = (KnownSupport("PS-1"), KnownSupport("PS 1"))
    (question,) = one(known, tag="ps1").to_decide
    assert {candidate.tag for candidate in question.candidates} == {"PS-1", "PS 1"}


def test_what_is_not_found_is_listed_both_ways():
    lists = joined(Stranger(2, tag="ZZ-99999"), Stranger(3, tag="PS-1024"))
    assert [stranger.row for stranger in lists.not_found] == [2]
    assert lists.not_met == ("PS-1025", "PS-1026")
