"""How far a sheet reaches, however its addresses are written; held against another reader."""

from __future__ import annotations

import re
import zipfile

import openpyxl
import pytest
import python_calamine as calamine
from hypothesis import given
from hypothesis import strategies as st

from importers import byte_search
from importers.byte_search import Searched
from importers.reading import read
from importers.sheet_reach import Reach, reach, with_addresses
from importers.workbook import open_workbook
from supports.errors import FileUnusable

ODD_WAYS = {
    "usual": b'<row r="2000"><c r="AB2000"><v>1</v></c></row>',
    "small letters": b'<row r="2000"><c r="ab2000"><v>1</v></c></row>',
    "apostrophes": b"<row r='2000'><c r='AB2000'><v>1</v></c></row>",
    "a blank before": b'<row r="2000"><c r ="AB2000"><v>1</v></c></row>',
    "a blank behind": b'<row r="2000"><c r= "AB2000"><v>1</v></c></row>',
    "a tab": b'<row r="2000"><c\tr="AB2000"><v>1</v></c></row>',
    "something before": b'<row spans="1:28" r="2000"><c s="0" r="AB2000"><v>1</v></c></row>',
    "leading zeros": b'<row r="2000"><c r="AB002000"><v>1</v></c></row>',
    "another row than its own": b'<row r="3"><c r="AB2000"><v>1</v></c></row>',
    "cells without": b'<row r="2000">' + b"<c><v>1</v></c>" * 28 + b"</row>",
    "rows without": b"<row></row>" * 1997 + b'<row><c r="AB2000"><v>1</v></c></row>',
}


def with_rows(path, xml, into):
    """Write a workbook anew with rows put behind those of its sheet; return where."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    sheet = "xl/worksheets/sheet1.xml"
    parts[sheet] = parts[sheet].replace(b"</sheetData>", xml + b"</sheetData>")
    with zipfile.ZipFile(into, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return parts[sheet]


@pytest.fixture
def two_rows(workbook):
    return workbook({"Supports": [["Support tag", "Area"], ["PS-1", "North"]]})


def told(xml: bytes) -> Reach:
    found = reach(xml, b"")
    return found if found.all_told else reach(with_addresses(xml, b""), b"")


@pytest.mark.parametrize("block", [40, 1 << 18])
@pytest.mark.parametrize("way", ODD_WAYS)
def test_the_reach_is_what_another_reader_finds(two_rows, tmp_path, monkeypatch, way, block):
    monkeypatch.setattr(byte_search, "_BLOCK", block)
    path = tmp_path / "odd.xlsx"
    xml = with_rows(two_rows, ODD_WAYS[way], path)
    end = calamine.CalamineWorkbook.from_path(path).get_sheet_by_name("Supports").end
    assert told(xml) == Reach(end[0] + 1, end[1] + 1) == Reach(2000, 28)


@pytest.mark.parametrize("way", ODD_WAYS)
def test_a_far_cell_is_refused_however_its_address_is_written(two_rows, tmp_path, way):
    path = tmp_path / "far.xlsx"
    far = ODD_WAYS[way].replace(b"2000", b"999999").replace(b"AB", b"XFD").replace(b"ab", b"xfd")
    wide = b'<row r="4">' + b"<c/>" * 40 + b"</row>"
    with_rows(two_rows, wide + far, path)
    if way == "rows without":
        far = b'<row r="999998"/>' + b'<row><c r="XFD"><v>1</v></c></row>'
        with_rows(two_rows, far, path)
    with pytest.raises(FileUnusable, match="reaches to row 999,999"):
        open_workbook(path)


@pytest.mark.parametrize("address", [b"A4294967299", b"ABCDE1", b"A1" + b"0" * 30, b"ABCDE"])
def test_an_address_that_no_sheet_has_is_refused(two_rows, tmp_path, address):
    path = tmp_path / "beyond.xlsx"
    with_rows(two_rows, b'<row r="3"><c r="%b"><v>1</v></c></row>' % address, path)
    with pytest.raises(FileUnusable, match="too far"):
        open_workbook(path)


def test_addresses_put_in_are_all_told():
    xml = b'<sheetData><c/><row r="0"><c r=""/><c r="B"/></row><row/><c x="1"\tr="c0"></c>'
    given = with_addresses(xml, b"")
    assert re.findall(rb'r="(\w+)"', given) == [b"A1", b"2", b"A2", b"B2", b"3", b"C3"]
    assert reach(given, b"") == Reach(3, 3, all_told=True)


def test_an_error_cell_without_an_address_is_no_blank(two_rows, tmp_path):
    """A sheet may leave out all addresses: ECMA-376 part 1, 18.3.1.4, has `r` optional."""
    path = tmp_path / "bare.xlsx"
    errors = b'<row><c t="str"><v>PS-2</v></c><c t="e"><v>#REF!</v></c></row>'
    with_rows(two_rows, errors, path)
    found = read(path).findings
    assert [(f.code, f.place.cell, f.found) for f in found] == [("error-cell", "B3", "'#REF!'")]


def test_a_hidden_row_without_a_number_is_known(two_rows, tmp_path):
    path = tmp_path / "hidden.xlsx"
    with_rows(two_rows, b'<row hidden="1"><c t="str"><v>PS-2</v></c></row>', path)
    (table,) = open_workbook(path).tables
    assert table.hidden_rows == {2}


def test_the_reach_of_a_saved_sheet_is_its_size(tmp_path):
    book = openpyxl.Workbook()
    book.active["AZ700"] = book.active["C3"] = "x"
    book.save(tmp_path / "plain.xlsx")
    with zipfile.ZipFile(tmp_path / "plain.xlsx") as archive:
        assert reach(archive.read("xl/worksheets/sheet1.xml"), b"") == Reach(700, 52)


letters = st.text("<>hcr= \"'", max_size=60).map(str.encode)


@given(letters, st.sampled_from([b"<", b"<c", b"hh", b' r="', b"'"]))
def test_places_are_those_that_a_plain_search_finds(data, mark):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(byte_search, "_BLOCK", 7)
        searched = Searched(data)
        plain = [found.start() for found in re.finditer(b"(?=%b)" % re.escape(mark), data)]
        assert list(searched.places(mark)) == plain
        assert searched.count(mark) == len(plain)
        assert searched.holds(mark) is bool(plain)
        assert searched.apostrophes is (b"'" in data)
