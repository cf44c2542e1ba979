"""Rows whose support, unit, line or calculation is nowhere to be found are held back, by name."""

from __future__ import annotations

import pytest

from importers.belonging import hold_back_orphans
from importers.reading import ReadResult
from importers.sheets import SHEETS
from supports.findings import Severity
from supports.proposals import BELONGS_TO, Record, SourceCell, SourceLine, owners_of


def record(subject: str, *key: str, **values: object) -> Record:
    cells = {name: SourceCell("A", text, "") for name, text in zip(("tag",), key, strict=False)}
    return Record(subject, key, values, SourceLine("f.xlsx", subject, 4, cells))


def result(*records: Record) -> ReadResult:
    return ReadResult(records, (), (), ())


LINE, SUPPORT = record("line", "L-1"), record("support", "PS-1", line="L-1")
UNIT, PLATE = record("unit", "PS-1", "A"), record("nameplate", "PS-1", "A")


def test_a_file_whose_rows_belong_together_is_left_as_it_is():
    whole = result(LINE, SUPPORT, UNIT, PLATE)
    assert hold_back_orphans(whole, set()) is whole


def test_what_the_register_holds_counts_as_known():
    alone = result(PLATE)
    assert hold_back_orphans(alone, {("unit", ("PS-1", "A"))}) is alone


def test_a_row_without_its_owner_is_a_finding_and_waits_as_it_was_found():
    done = hold_back_orphans(result(LINE, record("reading", "PS-9", "A", "2031-05-04")), set())
    assert done.records == (LINE,)
    (finding,), (waiting,) = done.findings, done.withheld
    assert (finding.code, finding.severity) == ("owner-not-known", Severity.STOP)
    assert finding.what == "unit PS-9 A is neither in the register nor in this file"
    assert str(finding.place) == "f.xlsx reading A4"
    assert (waiting.cell, waiting.named, waiting.text) == ("row 4", "PS-9", "PS-9")
    assert done.forbids_storing


def test_what_hangs_on_a_row_held_back_is_held_back_with_it():
    done = hold_back_orphans(result(SUPPORT, UNIT, PLATE), set())
    assert done.records == ()
    assert [finding.subject for finding in done.findings] == ["PS-1", "PS-1", "PS-1"]
    assert done.findings[0].what.startswith("line L-1 is neither")


def test_a_support_that_names_no_line_belongs_to_none():
    bare = result(record("support", "PS-2"))
    assert hold_back_orphans(bare, set()) is bare


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_every_subject_that_needs_an_owner_says_so(sheet):
    alone = record(sheet.subject, *sheet.key)
    assert bool(owners_of(alone)) is (sheet.subject not in {"line", "support", "calculation"})
    assert (sheet.subject in BELONGS_TO) is (sheet.subject not in {"line", "calculation"})
