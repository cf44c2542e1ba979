"""A cell says what a person sees in it: its number, and what its format shows beside it."""

from __future__ import annotations

from datetime import date

import openpyxl
import pytest

from importers.number_formats import format_of
from importers.reading import read
from importers.sheets import SETTINGS, SUPPORTS

PLAIN = [
    *("General", "0.00", "#,##0", "#,##0.0_);(#,##0.0)", "0.0E+00", "# ?/?", "@", "0;-0;;@"),
    '_-* #,##0.00_-;\\-* #,##0.00_-;_-* "-"??_-;_-@_-',
    *("[Red]0.0;[Blue]-0.0", "[$€-407] #,##0.00", "dd.mm.yyyy", 'd". "mmmm', "[h]:mm"),
]


@pytest.mark.parametrize("code", PLAIN)
def test_a_format_that_shows_the_number_alone_is_none_of_ours(code):
    assert format_of(code) is None


@pytest.mark.parametrize(
    ("code", "number", "shown"),
    [
        ('0.0" kN"', 4.52, "4.52 kN"),
        ('#,##0.0" kN";-#,##0.0" kN"', -4.5, "-4.5 kN"),
        ('0.0" up";0.0" down"', -4.5, "-4.5 down"),
        ("0.0\\ \\k\\N", 4.5, "4.5 kN"),
        ("0.0 kN", 4.5, "4.5 kN"),
        ('General" mm"', 12.0, "12 mm"),
        ("0.0[$kN-409]", 4.5, "4.5kN"),
        ('0.0," kN"', 2100.0, "2.1 kN"),
        ('"~"0.0', 4.5, "~4.5"),
        ('"PS-"0000', 7.0, "PS-0007"),
        ('"PS;"0', 7.0, "PS;7"),
        ("0.0,", 2100.0, None),
        (";;;", 2.1, None),
        ('0"-"0', 21.0, None),
        ('[>=1000]0.0," kN";0" N"', 4500.0, None),
    ],
)
def test_a_number_is_read_as_its_format_shows_it(code, number, shown):
    """Formats after ECMA-376 part 1, 18.8.31; what they show as a spreadsheet program shows it."""
    assert format_of(code).text(number) == shown


@pytest.fixture
def formatted(tmp_path):
    """Return a function that writes one setting, its load in a format."""

    def write(load, code, tag="PS-1", tag_code="General"):
        book = openpyxl.Workbook()
        sheet = book.active
        sheet.title = SETTINGS.name
        sheet.append(["Support tag", "Set on", "Set load [kN]", "Method", "Set by"])
        sheet.append([tag, date(2031, 5, 4), load, "scale", "N. N."])
        sheet["C2"].number_format, sheet["A2"].number_format = code, tag_code
        book.save(tmp_path / "settings.xlsx")
        return read(tmp_path / "settings.xlsx", (SETTINGS,))

    return write


def test_a_unit_that_a_format_shows_is_followed_and_said(formatted):
    result = formatted(4500, '0" lbf"')
    (record,) = result.records
    # 1 lbf = 4.4482216152605 N: NIST SP 811 (2008), appendix B.8.
    assert record.values["load"] == pytest.approx(4500 * 4.4482216152605)
    assert record.source.cells["load"].text == "4500 lbf"
    assert [f.code for f in result.findings] == ["unit-differs-from-heading"]


@pytest.mark.parametrize(
    ("code", "wanted"),
    [
        ('0.0" t"', "unit-ambiguous"),
        ('0" kg"', "unit-ambiguous"),
        ('"~"0.0', "value-uncertain"),
        ("0.0,", "shown-otherwise"),
        (";;;", "shown-otherwise"),
    ],
)
def test_what_a_format_shows_is_asked_about_as_if_it_were_typed(formatted, code, wanted):
    result = formatted(20, code)
    assert [(f.code, f.place.cell) for f in result.findings if f.forbids_storing] == [
        (wanted, "C2")
    ]
    assert result.records == ()


def test_the_unit_of_the_heading_shown_once_more_is_no_finding(formatted):
    result = formatted(20, '0.0" kN"')
    assert [record.values["load"] for record in result.records] == [20e3]
    assert result.findings == ()


def test_a_tag_whose_letters_a_format_shows_is_the_tag(formatted):
    assert formatted(20, "General", 7, '"PS-"0000').records[0].key[0] == "PS-0007"


def test_days_keep_their_formats(tmp_path):
    book = openpyxl.Workbook()
    book.active.title = SUPPORTS.name
    book.active.append(["Support tag", "Note"])
    book.active.append(["PS-1", date(2031, 5, 4)])
    book.active["B2"].number_format = 'd". "mmmm yyyy'
    book.save(tmp_path / "days.xlsx")
    assert (
        read(tmp_path / "days.xlsx", (SUPPORTS,)).records[0].values["note"].startswith("2031-05-04")
    )
