"""The data sheet of a support: its numbers are the register's, history and sources are whole."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reports.contents.blocks import Caution, Facts, Figures, Mark, Picture, Table
from reports.contents.support_sheet import support_sheet
from reports.html.document import document_html
from reports.languages import IN_ENGLISH
from reports.pdf.document import document_data, document_pdf
from supports.snapshots import SupportView
from supports.vocabulary import SupportKind
from tests.reports import documents, examples
from tests.reports.reading import pages, signs_outside, squeezed


def tables(*headings: str, **values: object) -> Table:
    blocks = support_sheet(documents.sheet(**values), IN_ENGLISH)
    return next(
        one
        for one in blocks
        if isinstance(one, Table)
        and [c.heading for c in one.columns][: len(headings)] == [*headings]
    )


def test_the_stack_is_used_as_statics_says():
    table = tables("No.", "Piece")
    carried = [str(row[2]) for row in table.rows]
    # by hand, g 9.80665: the unit carries 22.10 kN, hardware below included; the lug its 163.2 kg
    # more; the rod 9.0 kg less, the clamp 21.6 kg less again
    assert carried == ["23.70", "22.10", "22.01", "21.80"]


def test_a_piece_without_rating_is_never_settled():
    table = tables("No.", "Piece")
    clamp = table.rows[3][4]
    assert (clamp.text, clamp.mark) == ("cannot judge", Mark.CANNOT_JUDGE)
    rod = table.rows[2][4]
    assert rod.mark is Mark.HARDWARE_FAILS
    blocks = support_sheet(documents.sheet(), IN_ENGLISH)
    figures = next(one for one in blocks if isinstance(one, Figures))
    assert figures.items[-1].mark is Mark.CANNOT_JUDGE


def test_history_holds_every_setting_and_reading_newest_first():
    table = tables("Day", "What")
    assert [row[0] for row in table.rows] == [
        "2025-04-09",
        "2025-02-03",
        "2012-05-04",
        "1999-09-17",
    ]
    assert table.rows[2][2] == "20.50"
    assert table.rows[2][6] == "turns counted, CH-1, WO-1, two turns"
    assert table.rows[0][3] == "–", "a pointer that nobody read is not nought"


def test_values_of_one_row_stand_together_with_their_cells():
    table = tables("Of")
    assert len(table.rows) == 1
    assert table.rows[0][2] == "floor Q34: floor 4  ·  grid R34: row C/12"


def test_screening_is_said_and_a_missing_calculation_too():
    screened = documents.CalculationView(1, "S-1", "A", "screening", "issued")
    for basis, title in (((screened,), "SCREENING"), ((), "No required load")):
        blocks = support_sheet(documents.sheet(basis=basis), IN_ENGLISH)
        assert title in [one.title for one in blocks if isinstance(one, Caution)]


def test_a_travel_stop_that_is_in_is_told_in_a_frame():
    view = documents.support_view(units=(documents.unit_view(stops_in=("L-14",)),))
    blocks = support_sheet(documents.sheet(view), IN_ENGLISH)
    assert "Pins in: L-14" in str([one for one in blocks if isinstance(one, Caution)])


def test_a_tag_and_nothing_else_prints_as_not_known():
    bare = SupportView(9, "PS-1", SupportKind.UNKNOWN)
    blocks = support_sheet(
        documents.sheet(bare, basis=(), said=(), touched=(), sources=()), IN_ENGLISH
    )
    facts = next(one for one in blocks if isinstance(one, Facts))
    assert ("Place", "not known") in facts.pairs
    assert "No piece is listed" in str(blocks)
    figures = next(one for one in blocks if isinstance(one, Figures))
    assert all(one.mark for one in figures.items)


def test_an_unread_plate_carries_the_sign_of_doubt():
    view = documents.support_view(units=(documents.unit_view(nameplate=None, setting=None),))
    text = str(support_sheet(documents.sheet(view), IN_ENGLISH))
    assert "Nameplate" in text
    assert "cannot judge" in text


@pytest.mark.parametrize("language", ["en", "de"])
def test_paper_and_screen_in_both_languages(language):
    document = documents.sheet_document(language)
    made = document_pdf(document)
    assert made == document_pdf(document)
    assert signs_outside(made) == 0
    read = squeezed(" ".join(pages(made)))
    page = document_html(document).decode()
    for kept in ("C-101", "K20114/3", "LC-0417rev.B", "rod-over-rating", "CH-1", "P000317"):
        assert kept in read
        assert kept in squeezed(page)
    assert page.count("<svg") == len([b for b in document.blocks if isinstance(b, Picture)]) + 2


def test_the_code_holds_the_lasting_id_alone():
    data = document_data(documents.sheet_document(), examples.PAGE)
    assert data["code_words"] == "P000317"


HOSTILE = (
    "<script>alert(1)</script>", "#panic()", "=1+1", "{{ 7*7 }}", "\u05e7\u05d5\u05de\u05d4 4",
    "PS\u202e1", "W" * 300, '"><img src=x onerror=alert(1)>',
)  # fmt: skip


@pytest.mark.parametrize("words", HOSTILE)
def test_text_of_strangers_prints_as_text(words):
    view = documents.support_view(tag=words, floor=words, grid=words, scaffold_group=words)
    pieces = tuple(replace(p, size=words, rating_source=words) for p in view.hardware)
    document = documents.sheet_document(support=replace(view, hardware=pieces))
    made = document_pdf(document)
    assert signs_outside(made) == 0
    page = document_html(document).decode()
    for told in ("<script", "<img", "alert(1)>", "\u202e", ">49<"):
        assert told not in page
    shown = squeezed(words.replace("\u202e", "‹U+202E›"))
    assert shown[:20] in squeezed(" ".join(pages(made))) or "\u05e7" in shown
