"""Forms that come back after the register has moved on."""

from __future__ import annotations

from importers.returned import three_way
from supports.proposals import Record, SourceCell, SourceLine, Verb, compare

NAME = ("support", ("PS-1",))
ISSUED = {NAME: {"access": "ladder", "note": "old", "floor": "3"}}


def form(row=2, key=("PS-1",), **values):
    cells = {name: SourceCell("D", str(value)) for name, value in values.items()}
    return Record("support", key, values, SourceLine("form.xlsx", "Supports", row, cells))


def test_untouched_fields_are_ignored_whatever_happened_meanwhile():
    now = {NAME: {**ISSUED[NAME], "note": "new"}}
    result = three_way(ISSUED, [form(access="ladder", note="old", floor="3")], now)
    assert (result.records, result.conflicts, result.findings) == ((), (), ())


def test_a_field_changed_on_the_form_alone_is_proposed():
    now = {NAME: {**ISSUED[NAME], "note": "new"}}
    result = three_way(ISSUED, [form(access="scaffold", note="old")], now)
    assert [dict(record.values) for record in result.records] == [{"access": "scaffold"}]
    (proposal,) = compare(result.records, now)
    assert proposal.verb is Verb.CHANGE
    assert result.conflicts == ()


def test_a_field_changed_on_both_sides_is_for_a_person():
    now = {NAME: {**ISSUED[NAME], "access": "platform"}}
    result = three_way(ISSUED, [form(access="scaffold")], now)
    assert result.records == ()
    (conflict,) = result.conflicts
    assert (conflict.issued, conflict.form, conflict.now) == ("ladder", "scaffold", "platform")
    (finding,) = result.findings
    assert (finding.code, finding.severity.value) == ("edited-by-two", "ACT")
    assert finding.place.cell == "D2"


def test_both_sides_changed_alike_is_no_conflict():
    now = {NAME: {**ISSUED[NAME], "access": "scaffold"}}
    result = three_way(ISSUED, [form(access="scaffold")], now)
    assert (result.records, result.conflicts) == ((), ())


def test_a_blank_on_the_form_wipes_nothing_out():
    assert three_way(ISSUED, [form(access="ladder")], ISSUED).records == ()


def test_the_same_form_twice_changes_nothing():
    result = three_way(ISSUED, [form(access="scaffold")], ISSUED)
    after = {NAME: {**ISSUED[NAME], **result.records[0].values}}
    assert three_way(ISSUED, [form(access="scaffold")], after).records == ()


def test_a_row_that_was_not_issued_stops():
    result = three_way(ISSUED, [form(key=("PS-9",), access="x")], ISSUED)
    assert [finding.code for finding in result.findings] == ["row-not-issued"]
    assert result.records == ()
