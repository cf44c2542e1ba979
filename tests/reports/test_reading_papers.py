"""Papers for reading: their sums are the lists', doubt keeps its sign, strangers' text is text."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from functools import cache

import pytest

from reports.contents.audit_record import AuditRecord, audit_record
from reports.contents.blocks import (
    Answered,
    Caution,
    Cell,
    Column,
    Document,
    Figures,
    Mark,
    Picture,
    Table,
    Weight,
)
from reports.contents.change_assessment import (
    ChangeAssessment,
    NozzleUses,
    ScreenedThrough,
    change_assessment,
)
from reports.contents.explained import explained_assessment
from reports.contents.line_summary import LineRow, LineSummary, line_summary
from reports.contents.rules_report import RulesReport, Told, names_of, rules_report
from reports.contents.summary_of_assessment import summary_of_assessment, support_rows
from reports.drawings.assessed_line import assessed_strips
from reports.drawings.boxes import box_of
from reports.drawings.primitives import Words
from reports.html.document import document_html
from reports.pdf.document import document_pdf
from supports.findings import Answer, Severity
from supports.rules.acceptances import Standing, Stood
from supports.rules.frame import Subject
from supports.rules.rule import Group
from supports.rules.run import Found, RuleCount, Worst
from supports.snapshots import LineView, TrailBatch, TrailRow
from supports.vocabulary import Verdict
from tests.reports import examples
from tests.reports.reading import pages, signs_outside, squeezed
from tests.rules.planning_lines import judged, worked_line

DAY = date(2026, 3, 14)
SCREENED = ScreenedThrough(
    "WL-1", (NozzleUses("N1", "My", 0.82, 1.14, None),), "A full analysis is mandatory.",
    ("a nozzle is within reach",), ("temperature change (not known)",),
)  # fmt: skip
HOSTILE = '<script>alert(1)</script> #panic() =1+1 \u05e7 PS\u202e1 "><img src=x> ' + "W" * 300


@cache
def assessed_paper() -> ChangeAssessment:
    content = judged(worked_line())
    head = examples.head("Change assessment", "CH-1")
    summary = summary_of_assessment(head, content, (), ("steel to be looked at",))
    return ChangeAssessment(content, summary, explained_assessment(content), (SCREENED,))


@pytest.fixture
def assessed() -> ChangeAssessment:
    return assessed_paper()


def paper(blocks, *, landscape: bool = True) -> Document:
    return Document(examples.head("Paper", "P-1"), tuple(blocks), landscape=landscape)


def table(blocks, *headings: str) -> Table:
    return next(
        one
        for one in blocks
        if isinstance(one, Table)
        and [c.heading for c in one.columns][: len(headings)] == [*headings]
    )


def texts_of(row) -> list[str]:
    return [one.text if isinstance(one, Cell) else one for one in row]


def test_counts_of_an_assessment_are_those_of_its_supports(assessed):
    blocks = change_assessment(assessed)
    figures = next(one for one in blocks if isinstance(one, Figures))
    counted = {one.what: int(one.number) for one in figures.items}
    assert counted == {str(v): assessed.content.count(v) for v in Verdict}
    assert sum(counted.values()) == len(assessed.content.supports)
    rows = table(blocks, "Tag", "Kind; node").rows
    assert len(rows) == len(assessed.summary.rows)


def test_the_answer_is_no_while_one_support_stands_in_the_way(assessed):
    rows = {row.verdict for row in assessed.summary.rows}
    answer = next(one for one in change_assessment(assessed) if isinstance(one, Answered))
    bad = rows & {Verdict.CANNOT_BE_SET, Verdict.HARDWARE_FAILS}
    wanted = Weight.NO if bad else Weight.DOUBT if Verdict.CANNOT_JUDGE in rows else Weight.YES
    assert answer.weight is wanted


def test_a_nozzle_over_its_limit_is_named_and_an_unknown_state_is_no_nought(assessed):
    row = table(change_assessment(assessed), "Line", "Nozzle").rows[0]
    assert [cell.replace("\u00a0", " ") for cell in texts_of(row)[3:6]] == [
        "82 %", "114 % OVER", "not known",
    ]  # fmt: skip


def test_a_line_that_cannot_be_screened_is_told_and_not_left_out(assessed):
    missing = replace(assessed, screened=(ScreenedThrough("WL-1", missing="its route"),))
    text = str(change_assessment(missing))
    assert "cannot be judged (missing: its route)" in text
    assert "cannot be screened (missing: its route)" in text


def test_every_answer_of_the_appendix_is_printed_with_its_sign(assessed):
    rows = table(change_assessment(assessed), "Support", "").rows
    answers = [one for support in assessed.explained.supports for one in support.answers]
    assert len(rows) == len(answers)
    for row, said in zip(rows, answers, strict=True):
        fails = said.answer is Answer.FAILS
        assert row[1].mark is (Mark(said.severity) if fails else Mark.CANNOT_JUDGE)


def test_labels_of_the_drawn_line_keep_apart():
    row = replace(examples.rows()[2], verdict=Verdict.RE_SET)
    many = [replace(row, order=n, tag=f"PS-{1000 + n}/A") for n in range(37)]
    from reports.contents.assessed_tables import drawn_line

    strips = [one.drawing for one in drawn_line(many)]
    assert len(strips) == 3, "16 abreast at most: 37 supports make three strips"
    for strip in strips:
        boxes = [box_of(one) for one in strip.items if isinstance(one, Words)]
        overlapping = [(a, b) for n, a in enumerate(boxes) for b in boxes[n + 1 :] if a.overlaps(b)]
        assert overlapping == []
        assert all(box.left >= 0.0 and box.right <= strip.width for box in boxes)


def test_a_line_without_supports_is_no_drawing():
    assert assessed_strips([]) == ()


def rules_found() -> RulesReport:
    found = [
        Found("rod-over-rating", Subject.PIECE, 1, "C-101 piece 3", "C-101", Severity.STOP,
              Answer.FAILS),
        Found("never-seen", Subject.SUPPORT, 2, "C-102", "C-102", Severity.ACT, Answer.FAILS),
        Found("shoe-off-beam", Subject.SUPPORT, 3, "C-103", "C-103", Severity.STOP,
              Answer.CANNOT_JUDGE),
    ]  # fmt: skip
    return RulesReport(
        DAY,
        counts=(
            RuleCount("rod-over-rating", Group.HARDWARE, Severity.STOP, 1, 4, 2, 0),
            RuleCount("never-seen", Group.WALKDOWN, Severity.ACT, 1, 3, 1, 0),
            RuleCount("shoe-off-beam", Group.MOVEMENT, Severity.STOP, 0, 0, 6, 1),
        ),
        told=tuple(Told(Stood(one, Standing.OPEN), f"words of {one.rule}") for one in found),
        worst=(Worst("C-101", {Severity.STOP: 1}, ("rod-over-rating",)),),
        proposed=(57, 57),
    )


def test_the_rules_that_go_by_screening_are_named_with_how_far_it_reaches():
    by_screening = RuleCount("nozzle-over-limit", Group.LOAD, Severity.STOP, 2, 5, 3, 1)
    found = rules_found()
    blocks = rules_report(replace(found, counts=(*found.counts, by_screening)))
    said = next(one for one in blocks if isinstance(one, Caution) and one.title == "SCREENING")
    answered = by_screening.fails + by_screening.passes
    assert "nozzle-over-limit" in said.text
    assert f"{answered} answers by it, {by_screening.cannot_judge} that cannot" in said.text
    assert not any(isinstance(o, Caution) and o.title == "SCREENING" for o in rules_report(found))


def test_a_row_with_much_to_read_names_its_cells_for_a_narrow_screen():
    columns = (Column("Name"), Column("Words"))
    page = document_html(paper((Table(columns, (("C-101", "much to read " * 9),)),))).decode()
    assert 'data-heading="Words"' in page
    brief = document_html(paper((Table(columns, (("C-101", "little"),)),))).decode()
    assert "data-heading=" not in brief.partition("<body>")[2]


def test_findings_and_doubts_are_counted_apart_and_add_up():
    blocks = rules_report(rules_found())
    figures = next(one for one in blocks if isinstance(one, Figures))
    assert [one.number for one in figures.items] == ["1", "1", "0", "0", "1"]
    assert figures.items[-1].mark is Mark.CANNOT_JUDGE
    groups = table(blocks, "Rules about").rows
    assert sum(int(row[1]) for row in groups) == 1
    assert [sum(int(row[n]) for row in groups) for n in (5, 6, 7)] == [1, 7, 9]
    unjudged = table(blocks, "", "Rule", "Count", "Missing").rows
    assert texts_of(unjudged[0])[1:] == ["shoe-off-beam", "1", "words of shoe-off-beam", "C-103"]


def test_names_beyond_what_a_paper_lists_are_counted():
    one = rules_found().told[1]
    many = [
        replace(one, stood=replace(one.stood, found=replace(one.stood.found, name=f"C-{n}")))
        for n in range(312)
    ]
    assert names_of(many).endswith("C-299 and 12 more")


def record(**values: object) -> AuditRecord:
    row = TrailRow("change", 1, (("state", "noted", "being worked out"), ("aim", "", "level")))
    moment = datetime(2026, 2, 17, 8)  # noqa: DTZ001  the register keeps UTC without zone
    batch = TrailBatch(22, moment, "J. Bird", "sift a change", "", "AAAA-BBBB-CCCC",
                       "DDDD-EEEE-FFFF", (row,))  # fmt: skip
    usual = AuditRecord(
        "CH-1", "valve", "noted", ("L-1",), "by J. Bird", (batch,), ("checked by G. Jones",),
        moment, "DDDD-EEEE-FFFF", keep_years=5,
    )  # fmt: skip
    return replace(usual, **values)


def test_the_record_prints_each_value_before_and_after_with_its_chain():
    blocks = audit_record(record())
    assert table(blocks, "Row").rows == (
        ("change 1", "state", "noted", "being worked out"),
        ("change 1", "aim", "–", "level"),
    )
    assert texts_of(table(blocks, "Batch").rows[0])[-1] == "AAAA-BBBB-CCCC → DDDD-EEEE-FFFF"
    answer = next(one for one in blocks if isinstance(one, Answered))
    assert (answer.answer, answer.weight) == ("Yes", Weight.YES)


def test_a_broken_chain_is_no_yes():
    blocks = audit_record(record(broken="The first that does not is batch 7."))
    answer = next(one for one in blocks if isinstance(one, Answered))
    assert (answer.answer, answer.weight) == ("No", Weight.NO)
    assert "batch 7" in answer.words


def test_a_long_value_is_cut_and_says_how_long_it_was():
    row = TrailRow("assessment", 1, (("content", "", "x" * 5000),))
    batch = replace(record().batches[0], rows=(row,))
    cell = table(audit_record(record(batches=(batch,))), "Row").rows[0][3]
    assert cell.endswith("(5000 signs)")


def summary_of_line(assessed: ChangeAssessment, **values: object) -> LineSummary:
    content = assessed.content
    rows = support_rows(content.supports, content.judgements, content.change.lines)
    usual = LineSummary(
        LineView(1, "WL-1"),
        tuple(LineRow(row, "floor 4", None, ("L-1",)) for row in rows),
        basis=(content.calculation,),
        no_route="its route",
    )
    return replace(usual, **values)


def test_a_line_without_route_says_so_and_what_is_unknown_is_told(assessed):
    text = str(line_summary(summary_of_line(assessed)))
    assert "cannot be drawn in space (missing: its route)" in text
    assert "stop in: L-1" in text
    rows = table(line_summary(summary_of_line(assessed)), "No.", "Tag").rows
    assert {texts_of(row)[7] for row in rows} == {"never"}
    bare = line_summary(LineSummary(LineView(1, "L-9"), (), no_route="its route"))
    assert "No calculation in force" in str(bare)


def test_papers_print_twice_the_same_and_keep_on_the_sheet(assessed):
    for blocks in (
        change_assessment(assessed),
        rules_report(rules_found()),
        audit_record(record()),
        line_summary(summary_of_line(assessed)),
    ):
        made = document_pdf(paper(blocks))
        assert made == document_pdf(paper(blocks))
        assert signs_outside(made) == 0
        page = document_html(paper(blocks)).decode()
        assert page.count("<svg") == sum(isinstance(one, Picture) for one in blocks)
        assert page.count('id="') == len(set(page.split('id="')[1:]))


def hostile_blocks(assessed: ChangeAssessment):
    row = replace(assessed.summary.rows[0], tag=HOSTILE, kind=HOSTILE, node=HOSTILE,
                  reasons=(HOSTILE,), weakest_piece=HOSTILE)  # fmt: skip
    yield change_assessment(
        replace(assessed, summary=replace(assessed.summary, rows=(row,)), options=(HOSTILE,))
    )
    told = rules_found().told[0]
    found = replace(told.stood.found, name=HOSTILE)
    bad = replace(told, words=HOSTILE, stood=replace(told.stood, found=found))
    yield rules_report(replace(rules_found(), told=(bad,), worst=(Worst(HOSTILE, {}, (HOSTILE,)),)))
    values = TrailRow("change", 1, (("note", HOSTILE, HOSTILE),))
    batch = replace(record().batches[0], actor=HOSTILE, reason=HOSTILE, rows=(values,))
    yield audit_record(record(title=HOSTILE, batches=(batch,), signed=(HOSTILE,)))
    yield line_summary(summary_of_line(assessed, rows=(LineRow(row, HOSTILE),), changes=(HOSTILE,)))


def test_text_of_strangers_prints_as_text_on_every_paper(assessed):
    for blocks in hostile_blocks(assessed):
        made = document_pdf(paper(blocks))
        assert signs_outside(made) == 0
        assert squeezed("#panic()") in squeezed(" ".join(pages(made)))
        page = document_html(paper(blocks)).decode()
        for told in ("<script", "<img", "\u202e"):
            assert told not in page
