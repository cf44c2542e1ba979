"""Dates as plants really keep them. The examples are common practice, no source."""

from __future__ import annotations

from datetime import date, time

import openpyxl

from importers.reading import read
from importers.sheets import CALCULATIONS, READINGS

HEADINGS = ["Support tag", "Unit position", "Read on", "Read by"]


NOT_ONE_DAY = [
    ("03/04/2009", "date-ambiguous"),
    ("03.04.2009", "date-ambiguous"),
    (39876, "date-ambiguous"),
    ("TA 2009", "date-not-exact"),
    ("spring 98", "date-not-exact"),
    ("before rev 4", "date-not-exact"),
    ("wk 23", "date-not-exact"),
    ("2009", "date-not-exact"),
    (2009, "date-not-exact"),
    ("1900-01-00", "date-not-possible"),
    ("1899-12-30", "date-not-possible"),
    ("01.01.1970", "date-not-possible"),
    ("29", "date-not-exact"),
    ("12.05.29", "date-ambiguous"),
    ("2011 / 2014", "two-dates"),
    ("12.-14.05.2012", "two-dates"),
    ("2009-2011", "two-dates"),
    ("31.04.2012", "date-not-possible"),
    ("2023-02-29", "date-not-possible"),
    ("12. Mai 07", "date-ambiguous"),
    ("12. Mai 2007", "date-ambiguous"),
    ("Okt", "date-not-exact"),
    (time(14, 30), "date-not-possible"),
    ("not known", "date-not-possible"),
    ('"', "ditto"),
]


def test_what_is_not_one_day_is_a_question(one):
    rows = [[f"PS-{n}", "A", cell, "N. N."] for n, (cell, _) in enumerate(NOT_ONE_DAY)]
    result = one(READINGS, HEADINGS, *rows)
    assert [(f.place.cell, f.code, f.severity.value) for f in result.findings] == [
        (f"C{row}", code, "STOP") for row, (_, code) in enumerate(NOT_ONE_DAY, start=2)
    ]
    assert result.records == ()


def test_both_readings_of_a_doubtful_date_are_named(one):
    (finding,) = one(READINGS, HEADINGS, ["PS-1", "A", "03/04/2009", "N. N."]).findings
    assert "2009-03-04 or 2009-04-03" in finding.what


def test_both_calendars_of_a_bare_day_number_are_named(one):
    # 39876 days: 2009-03-04 from 1900; 1462 days later from 1904 (ECMA-376 part 1, 18.17.4.1).
    (finding,) = one(READINGS, HEADINGS, ["PS-1", "A", 39876, "N. N."]).findings
    assert "2009-03-04 counted from 1900" in finding.what
    assert "2013-03-05 counted from 1904" in finding.what
    assert (date(2013, 3, 5) - date(2009, 3, 4)).days == 1462


def test_a_day_in_only_one_possible_order_is_noted(one):
    result = one(READINGS, HEADINGS, ["PS-1", "A", "25/12/2009", "N. N."])
    assert [(f.code, f.severity.value) for f in result.findings] == [("date-order-read", "NOTE")]
    assert result.records[0].values["read_on"] == date(2009, 12, 25)


def test_days_that_a_program_may_have_turned_about_are_looked_at(one):
    """13/04 stayed text, so 04/03 was perhaps read in the other country's order."""
    swapped = [["PS-1", "A", date(2009, 4, 3), "N. N."], ["PS-2", "A", date(2009, 5, 4), "N. N."]]
    text = ["PS-3", "A", "13/04/2009", "N. N."]
    result = one(READINGS, HEADINGS, *swapped, text)
    (doubt,) = [f for f in result.findings if f.code == "date-ambiguous"]
    assert (doubt.severity.value, doubt.place.cell) == ("LOOK", "C2")
    assert doubt.what.startswith("2 days")
    assert "13/04/2009" in doubt.what
    assert len(result.records) == 3
    surely = ["PS-4", "A", date(2009, 4, 30), "N. N."]
    for rows in ([*swapped, surely, text], [*swapped, surely], [text]):
        result = one(READINGS, HEADINGS, *rows)
        assert "date-ambiguous" not in [f.code for f in result.findings]


def saved(tmp_path, rows, name="dates.xlsx", change=None):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Readings"
    for row in rows:
        sheet.append(row)
    if change:
        change(book, sheet)
    book.save(tmp_path / name)
    return tmp_path / name


def test_a_workbook_that_counts_from_1904_gives_the_same_day(tmp_path):
    from openpyxl.utils.datetime import CALENDAR_MAC_1904

    def from_1904(book, sheet):
        book.epoch = CALENDAR_MAC_1904

    rows = [HEADINGS, ["PS-1", "A", date(2009, 3, 4), "N. N."]]
    path = saved(tmp_path, rows, change=from_1904)
    result = read(path)
    assert result.records[0].values["read_on"] == date(2009, 3, 4)
    assert [f.code for f in result.findings] == ["days-from-1904"]


def test_a_day_that_moves_is_not_taken(tmp_path):
    def formula(book, sheet):
        sheet["C2"] = "=TODAY()"

    path = saved(tmp_path, [HEADINGS, ["PS-1", "A", None, "N. N."]], change=formula)
    put_value(path, "C2", "45000")
    result = read(path)
    assert [(f.code, f.place.cell) for f in result.findings] == [("date-moves", "C2")]
    assert result.records == ()


def put_value(path, address, value):
    """Write the value that a spreadsheet program would keep beside a formula."""
    import zipfile

    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    part = "xl/worksheets/sheet1.xml"
    for blank in (b"<v></v>", b"<v />", b"<v/>"):
        parts[part] = parts[part].replace(
            b"<f>TODAY()</f>" + blank, b"<f>TODAY()</f><v>" + value.encode() + b"</v>"
        )
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name, data)


def test_a_reading_before_the_unit_was_built_is_looked_at(workbook):
    units = [["Support tag", "Unit position", "Unit type", "Year built"]]
    units.append(["PS-1", "A", "constant hanger", 2010])
    readings = [HEADINGS, ["PS-1", "A", "2009-05-17", "N. N."]]
    result = read(workbook({"Units": units, "Readings": readings}))
    assert [(f.code, f.place.cell) for f in result.findings] == [("date-before-built", "C2")]


def test_a_day_of_issue_that_cannot_be_leaves_the_field_out(one):
    headings = ["Calculation", "Revision", "Method", "Status", "Issued on"]
    result = one(CALCULATIONS, headings, ["C-1", "0", "hand", "issued", "31.04.2012"])
    assert [f.code for f in result.findings] == ["date-not-possible"]
    assert "issued_on" not in result.records[0].values


def test_hot_and_cold_on_one_day_are_looked_at(one):
    headings = [*HEADINGS, "Plant state"]
    rows = [
        ["PS-1", "A", "2020-05-17", "N. N.", "operating, steady"],
        ["PS-1", "A", "2020-05-17", "M. M.", "shut down, drained"],
        ["PS-2", "A", "2020-05-17", "N. N.", "shut down, drained"],
    ]
    result = one(READINGS, headings, *rows)
    assert [(f.code, f.subject) for f in result.findings] == [("plant-state-doubt", "PS-1")]
