"""The workbooks read back with openpyxl, which had no part in writing them."""

from __future__ import annotations

import io
from dataclasses import replace
from typing import Any

import openpyxl
import pytest

from reports.contents.resetting_pack import ResettingPack
from reports.xlsx.book import BOX, FIRST_ROW, LINE, LISTS_SHEET, Column, row_height
from reports.xlsx.load_change_summary import load_change_summary_xlsx
from reports.xlsx.resetting_pack import FORM, FORM_SHEET, META_SHEET, resetting_pack_xlsx
from tests.reports import examples

HEADINGS = FIRST_ROW + 1  # openpyxl counts from 1


def made(pack: ResettingPack) -> bytes:
    prints = {one.tag: f"fp-{one.tag}" for one in (*pack.units, *pack.neighbours)}
    return resetting_pack_xlsx(pack, form_id="F-0087-B", row_fingerprints=prints)


def opened(content: bytes) -> Any:
    return openpyxl.load_workbook(io.BytesIO(content))


@pytest.fixture(scope="module")
def book() -> Any:
    return opened(made(examples.pack()))


def column(sheet: Any, heading: str) -> list[Any]:
    names = [cell.value for cell in sheet[HEADINGS]]
    place = names.index(heading) + 1
    return [sheet.cell(row, place) for row in range(HEADINGS + 1, sheet.max_row + 1)]


def test_sheets(book: Any) -> None:
    assert book.sheetnames == [FORM_SHEET, "Units", "Sequence", META_SHEET, LISTS_SHEET]
    assert {book[name].sheet_state for name in (META_SHEET, LISTS_SHEET)} == {"hidden"}


def test_hidden_sheet_names_the_form(book: Any) -> None:
    facts = {row[0]: row[1] for row in book[META_SHEET].iter_rows(values_only=True)}
    assert facts["form_id"] == "F-0087-B"
    assert facts["revision"] == "B"
    assert facts["count"] == "9"
    assert facts["fingerprint"] == "7c1e 94ab 20d3"


def test_no_cell_is_a_formula_or_a_link(book: Any) -> None:
    for sheet in book:
        for row in sheet.iter_rows():
            assert not [cell for cell in row if cell.data_type == "f" or cell.hyperlink]


@pytest.mark.parametrize("words", ["=1+1", "+1", "-1", "@SUM(A1)", "http://x.invalid", "007"])
def test_text_stays_text(words: str) -> None:
    unit = replace(examples.constant_in_range(), tag=words, serial=words, place=words)
    book = opened(made(replace(examples.pack(), units=(unit,), neighbours=())))
    cell = column(book[FORM_SHEET], "Tag")[0]
    assert (cell.value, cell.data_type) == (words, "s")


def test_entry_cells_are_open_and_all_others_locked(book: Any) -> None:
    sheet = book[FORM_SHEET]
    assert sheet.protection.sheet
    for one in FORM:
        locked = {cell.protection.locked for cell in column(sheet, one.heading)}
        assert locked == {not one.entry}, one.heading
    for name in ("Units", "Sequence"):
        assert book[name].protection.sheet


def test_drop_downs_offer_the_words_whole(book: Any) -> None:
    # A list written into the rule would be parted at each comma (ECMA-376 part 1, 18.3.1.32), and
    # plant states hold commas; so the rules point to cells.
    sheet = book[FORM_SHEET]
    rules = sheet.data_validations.dataValidation
    assert {rule.type for rule in rules} == {"list", "decimal", "whole"}
    for one in FORM:
        if one.choices:
            cell = column(sheet, one.heading)[0].coordinate
            (rule,) = [rule for rule in rules if cell in rule.cells]
            assert words_of(book, rule.formula1) == list(one.choices)


def words_of(book: Any, reference: str) -> list[str]:
    name, cells = reference.replace("$", "").lstrip("=").rsplit("!", 1)
    return [row[0].value for row in book[name.strip("'")][cells]]


def test_rows_carry_their_fingerprints_and_numbers(book: Any) -> None:
    sheet = book[FORM_SHEET]
    tags = [cell.value for cell in column(sheet, "Tag")]
    assert tags == [
        "R-099", "C-100", "C-101", "C-102", "T-103A", "T-103B", "V-104", "C-105", "C-106",
    ]  # fmt: skip
    prints = [cell.value for cell in column(sheet, "Row fingerprint")]
    assert prints == [f"fp-{tag}" for tag in tags]
    row = tags.index("C-102")
    assert column(sheet, "Target [load unit]")[row].value == 4830
    assert column(sheet, "Unit of the load scale")[row].value == "lbf"
    assert column(sheet, "What to do")[tags.index("C-105")].value == "STOP, READ ONLY"
    assert not column(sheet, "Turns told, per bolt")[tags.index("C-105")].value


def test_a_row_without_fingerprint_is_refused() -> None:
    with pytest.raises(KeyError):
        resetting_pack_xlsx(examples.pack(), form_id="F", row_fingerprints={})


def test_sequence_lists_every_round(book: Any) -> None:
    sheet = book["Sequence"]
    rows = zip(column(sheet, "Round"), column(sheet, "Tag"), strict=True)
    listed = [(number.value, tag.value) for number, tag in rows]
    assert listed[:5] == [(1, "C-101"), (1, "C-102"), (1, "T-103A"), (1, "T-103B"), (1, "V-104")]
    assert len(listed) == 3 + 3 + 5 + 5 + 3
    expected = [cell.value for cell in column(sheet, "Expected after [load unit]")]
    assert expected[:2] == [20.75, 4610]


def test_head_prints_on_every_sheet(book: Any) -> None:
    for sheet in (book[FORM_SHEET], book["Units"], book["Sequence"]):
        assert "RP-0087-B" in sheet.oddHeader.right.text
        assert "&P of &N" in sheet.oddHeader.right.text.replace("&[Page]", "&P").replace(
            "&[Pages]", "&N"
        )
        assert "7c1e 94ab 20d3" in sheet.oddFooter.left.text
        assert sheet.page_setup.orientation == "landscape"
        assert sheet.page_setup.fitToHeight == 0


def test_same_content_same_bytes() -> None:
    assert made(examples.pack()) == made(examples.pack())
    assert load_change_summary_xlsx(examples.summary()) == load_change_summary_xlsx(
        examples.summary()
    )


def test_summary_twin_holds_supports_and_weights() -> None:
    book = opened(load_change_summary_xlsx(examples.summary()))
    assert book.sheetnames == ["Supports", "Weights"]
    changes = [cell.value for cell in column(book["Supports"], "Change [load unit]")]
    # 22.1 - 20.0; 4 830 - 4 500; unknown present
    assert changes[2] == pytest.approx(2.1)
    assert changes[3] == pytest.approx(330.0)
    assert changes[7] == "not known"
    assert column(book["Weights"], "Mass [kg]")[-1].value == pytest.approx(636.485)
    assert column(book["Weights"], "Twist [N·m]")[-1].value == pytest.approx(706.079, abs=1e-3)


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("never", 1),
        ("level 0, row H, bay 21, 5.0 m above floor", 2),
        ("one\ntwo\nthree", 3),
        ("x" * 60, 3),
        (" ".join(["twelve signs"] * 6), 3),
    ],
)
def test_a_row_is_as_high_as_its_wrapped_words(text, lines):
    columns = (Column("Place", 26, "@"), Column("Seal", 4, "@", hidden=True))
    assert row_height([text, text], columns) == LINE * lines + 2.0


def test_rows_that_people_fill_are_high_enough_for_a_finger(book):
    sheet = book[FORM_SHEET]
    heights = [sheet.row_dimensions[row].height for row in range(HEADINGS + 1, sheet.max_row + 1)]
    assert heights
    assert min(heights) >= BOX
