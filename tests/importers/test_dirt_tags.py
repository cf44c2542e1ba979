"""Tags as plants really keep them. The examples are common practice, no source."""

from __future__ import annotations

from datetime import date

import openpyxl
import pytest
from openpyxl.comments import Comment

from importers.reading import read
from importers.sheets import HARDWARE, SUPPORTS
from importers.tag_words import alike, doubt_of_tag, is_ditto, is_total

STOP = "STOP"


def found(result):
    return [(f.code, f.severity.value) for f in result.findings]


NOT_ONE_TAG = [
    ("PS-1024 A/B", "two-units-in-tag"),
    ("PS-1024A/B", "two-units-in-tag"),
    ("PS-1024 A & B", "two-units-in-tag"),
    ("1.00E+24", "tag-changed-by-program"),
    ("12-Mar", "tag-changed-by-program"),
    ("12. Mrz", "tag-changed-by-program"),
    ("ditto", "ditto"),
    ('"', "ditto"),
    ("as above", "ditto"),
    ('–"–', "ditto"),
    ("same as 1023", "ditto"),
    ("PS-1024 (old PS-88)", "former-tag-in-cell"),
    ("PS-1024 ex PS-88", "former-tag-in-cell"),
    ("PS-1024 thru 1029", "tag-range"),
    ("PS-1024…29", "tag-range"),
    ("PS-1024 to PS-1029", "tag-range"),
    ("PS-1024, PS-1025", "two-tags-in-cell"),
    ("PS-1024/PS-1025", "two-tags-in-cell"),
    ("PS-1024\nPS-1025", "two-tags-in-cell"),
    ("PS-1024 PS1025", "two-tags-in-cell"),
    ("NEW", "tag-placeholder"),
    ("TBA", "tag-placeholder"),
    ("by others", "tag-placeholder"),
    ("?", "tag-placeholder"),
    ("PS-1024*", "footnote-mark"),
]


def test_what_is_not_one_tag_is_a_question_and_holds_the_row_back(one):
    rows = [[tag, "North"] for tag, _ in NOT_ONE_TAG]
    result = one(SUPPORTS, ["Support tag", "Area"], *rows, ["PS-7", "North"])
    assert [(f.place.cell, f.found, f.code, f.severity.value) for f in result.findings] == [
        (f"A{row}", f"'{tag}'", code, STOP) for row, (tag, code) in enumerate(NOT_ONE_TAG, start=2)
    ]
    assert [record.key for record in result.records] == [("PS-7",)]


def test_a_former_tag_in_the_cell_is_offered_for_its_column(one):
    (finding,) = one(SUPPORTS, ["Support tag"], ["PS-1024 (old PS-88)"]).findings
    assert finding.expected == "'PS-1024' here and 'PS-88' in the column 'Former tag'"


@pytest.mark.parametrize("tag", ["PS-1O24", "PS-l024", "PS-1I24"])
def test_a_letter_among_digits_is_taken_as_it_is_and_looked_at(one, tag):
    result = one(SUPPORTS, ["Support tag"], [tag])
    assert found(result) == [("tag-lookalike", "LOOK")]
    assert result.records[0].key == (tag,)


@pytest.mark.parametrize(
    "tag",
    [
        "PS-1024",
        "PS-1024A",
        "H-12.3",
        "12/PS-3",
        "PS-1024/1",
        "L1-PS-03",
        "0457",
        "A",
        "1E24",
        "PS 7",
    ],
)
def test_ordinary_tags_raise_no_question(tag):
    assert doubt_of_tag(tag) is None


@pytest.mark.parametrize("tag", ["PS–1024A", "PS-1024A ", "\u00a0PS-1024A", "PS-\u200b1024A"])
def test_odd_dashes_and_spaces_are_mended_and_listed(one, tag):
    result = one(SUPPORTS, ["Support tag"], [tag])
    assert result.records[0].key == ("PS-1024A",)
    assert result.records[0].source.cells["tag"].text == tag
    assert {code for code, _ in found(result)} <= {"tag-cleaned"}


def test_tags_that_differ_in_spaces_case_or_likeness_are_put_side_by_side(one):
    rows = [["PS-1024A"], ["PS 1024 A"], ["ps1024a"], ["PS-1024"], ["PS-1O24"], ["PS-7"]]
    result = one(SUPPORTS, ["Support tag"], *rows)
    alike_tags = [f.subject for f in result.findings if f.code == "tags-alike"]
    assert alike_tags == ["PS 1024 A", "ps1024a", "PS-1O24"]
    assert len(result.records) == 6
    assert list(alike(["A-1", "A-1", "B-1"])) == []


def test_a_lost_leading_zero_is_seen_in_the_kind_of_the_cell(one):
    result = one(SUPPORTS, ["Support tag"], [457], [1.00e24], [date(2026, 3, 12)])
    assert found(result) == [("number-in-tag-cell", STOP)] * 3
    assert result.records == ()


def test_the_tag_of_a_merged_block_holds_for_all_its_rows(tmp_path):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Hardware"
    sheet.append(["Support tag", "Position in stack", "Piece"])
    sheet.append(["PS-1024", 1, "rod"])
    for position in (2, 3):
        sheet.append([None, position, "clamp"])
    sheet.merge_cells("A2:A4")
    book.save(tmp_path / "merged.xlsx")
    result = read(tmp_path / "merged.xlsx", (HARDWARE,))
    assert [record.key[0] for record in result.records] == ["PS-1024"] * 3
    assert found(result) == [("merged-name", "NOTE")]
    assert result.findings[0].what == "the merged cell was taken for rows 2 to 4"


def test_blanks_below_a_tag_without_a_merged_block_are_not_filled(one):
    rows = [["PS-1024", 1, "rod"], [None, 2, "clamp"]]
    result = one(HARDWARE, ["Support tag", "Position in stack", "Piece"], *rows)
    assert found(result) == [("key-missing", STOP)]
    assert len(result.records) == 1


def test_an_old_tag_in_a_comment_is_brought_to_light(tmp_path):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Supports"
    for row in (["Support tag", "Area"], ["PS-1024", "North"], ["PS-7", "North"]):
        sheet.append(row)
    sheet["A2"].comment = Comment("old tag: PS-88", "x")
    sheet["B3"].comment = Comment("near the stair", "x")
    sheet["A1"].comment = Comment("as on the drawing", "x")
    book.save(tmp_path / "comments.xlsx")
    result = read(tmp_path / "comments.xlsx")
    assert found(result) == [("former-tag-in-comment", "LOOK"), ("comment-not-read", "NOTE")]
    assert [f.place.cell for f in result.findings] == ["A2", "B3"]
    assert result.findings[0].expected == "'PS-88' in the column 'Former tag'"


def test_one_tag_on_two_sheets_with_other_values_is_held_back(text_file):
    text_file("set/Supports.csv", [["Support tag", "Area"], ["PS-1", "North"], ["PS-2", "North"]])
    path = text_file("set/supports_.csv", [["Support tag", "Area"], ["PS-1", "South"]])
    result = read(path.parent)
    assert found(result) == [("same-key-twice", STOP)]
    assert [record.key for record in result.records] == [("PS-2",)]


@pytest.mark.parametrize(
    "words",
    [
        "Boiler house north",
        "Kesselhaus",
        "Area 2 - turbine hall",
        "Note 1: loads in red are estimated",
        "Stand: 12.03.2009",
        "Seite 2",
    ],
)
def test_a_title_or_a_note_among_the_rows_is_no_support_and_looked_at(one, words):
    result = one(SUPPORTS, ["Support tag", "Area"], [words, None], ["PS-1", "N"])
    assert found(result) == [("loose-text", "LOOK")]
    assert [record.key for record in result.records] == [("PS-1",)]
    result = one(SUPPORTS, ["Support tag", "Area"], [words, "N"], ["PS-1", "N"])
    assert found(result) == [("tag-without-number", "LOOK")]


def test_a_letter_of_another_alphabet_among_latin_ones_is_looked_at(one):
    result = one(SUPPORTS, ["Support tag"], ["\u0420S-1024"], ["\u041e\u041f-7"], ["\u00dcW-7"])
    assert [(f.code, f.severity.value, f.place.cell) for f in result.findings] == [
        ("tag-lookalike", "LOOK", "A2")
    ]
    assert "cyrillic capital letter er" in result.findings[0].what


def test_ditto_marks_and_totals_are_known_by_their_words():
    assert all(is_ditto(text) for text in ('"', "''", '–"–', "do.", "Ditto", "as above", "〃"))
    assert not any(is_ditto(text) for text in ("PS-1", "-", "dito-1", "12"))
    assert all(is_total(text) for text in ("TOTAL", "Sub-total", "Sum", "Total north"))
    assert all(is_total(text) for text in ("Gesamt", "Zwischensumme", "Average", "Mittelwert"))
    assert not any(
        is_total(text) for text in ("SUM-101", "Total1", "Summit-1", "PS-1", "totalizer")
    )


def test_a_text_of_many_thousand_letters_in_the_place_of_a_tag_is_told_at_once(workbook):
    long = "Area 2 thru 3 " + "7" * 30_000
    result = read(workbook({"Supports": [["Support tag", "Area"], ["PS-1", "North"], [long, ""]]}))
    assert [record.key for record in result.records] == [("PS-1",)]
    assert [(f.code, f.place.cell) for f in result.findings] == [("text-too-long", "A3")]
