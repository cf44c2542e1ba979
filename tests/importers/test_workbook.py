"""Files as they come: good, damaged, of another kind, hostile."""

from __future__ import annotations

import re
import zipfile

import openpyxl
import pytest
import xlsxwriter

from importers import package
from importers.proposing import propose
from importers.reading import read
from importers.sheets import SUPPORTS
from importers.workbook import open_workbook
from supports.errors import BadInput, ColumnMissing, FileUnusable, SheetMissing

SUPPORT_ROWS = [["Support tag", "Area"], ["PS-1", "North"]]


def refused(path, *words):
    with pytest.raises(FileUnusable) as caught:
        open_workbook(path)
    for word in words:
        assert word in str(caught.value)
    assert "Traceback" not in str(caught.value)


def test_a_missing_file_is_named(tmp_path):
    refused(tmp_path / "absent.xlsx", "absent.xlsx", "cannot be opened")


@pytest.mark.parametrize("content", [b"", b"  \n"])
def test_an_empty_file_is_refused(tmp_path, content):
    path = tmp_path / "empty.csv"
    path.write_bytes(content)
    refused(path, "empty.csv", "is empty")


def test_a_picture_is_not_a_workbook(tmp_path):
    path = tmp_path / "photo.xlsx"
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + b"x" * 50)
    refused(path, "not a workbook")


def test_an_archive_is_not_a_workbook(tmp_path):
    path = tmp_path / "archive.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("hello.txt", "hello")
    refused(path, "an archive, but not a workbook")


def test_half_a_workbook_is_damaged(workbook):
    path = workbook({"Supports": SUPPORT_ROWS})
    path.write_bytes(path.read_bytes()[:2000])
    refused(path, "damaged")


def test_a_flipped_byte_is_noticed(workbook):
    path = workbook({"Supports": SUPPORT_ROWS})
    data = bytearray(path.read_bytes())
    with zipfile.ZipFile(path) as archive:
        info = archive.getinfo("xl/worksheets/sheet1.xml")
    data[info.header_offset + 30 + len(info.filename) + 40] ^= 0xFF
    path.write_bytes(bytes(data))
    refused(path, "sheet1.xml")


def test_a_password_is_asked_to_be_taken_off(tmp_path):
    # An encrypted workbook is a compound file with a stream of this name ([MS-OFFCRYPTO] 2.3.4.4).
    path = tmp_path / "secret.xlsx"
    head = bytes.fromhex("d0cf11e0a1b11ae1")
    path.write_bytes(head + b"\0" * 600 + "EncryptedPackage".encode("utf-16-le"))
    refused(path, "password")


def repacked(path, part, change):
    """Write a workbook anew with one part changed."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    parts[part] = change(parts[part])
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)


def test_an_entity_bomb_is_refused(workbook):
    path = workbook({"Supports": SUPPORT_ROWS})
    bomb = b'<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>'
    repacked(path, "xl/workbook.xml", lambda data: bomb + data)
    refused(path, "document type")


def test_a_zip_bomb_is_refused(workbook, monkeypatch):
    monkeypatch.setattr(package, "MAX_UNPACKED", 1_000_000)
    path = workbook({"Supports": SUPPORT_ROWS})
    repacked(path, "xl/worksheets/sheet1.xml", lambda data: data + b" " * 2_000_000)
    refused(path, "unpacks to")


def test_a_stray_cell_far_away_is_refused_before_it_fills_the_memory(workbook):
    path = workbook({"Supports": SUPPORT_ROWS})
    book = openpyxl.load_workbook(path)
    book["Supports"]["XFD1048576"] = "x"
    book.save(path)
    refused(path, "reaches to row 1,048,576", "stray")


def test_shared_texts_that_claim_to_be_beyond_number_are_refused(tmp_path):
    """A reader makes room for as many as are claimed, and is gone with the program if it cannot."""
    path, claim = tmp_path / "plant.xlsx", b'uniqueCount="99999999999"'
    with xlsxwriter.Workbook(path) as book:
        book.add_worksheet("Supports").write_row(0, 0, SUPPORT_ROWS[0])
    part = "xl/sharedStrings.xml"
    repacked(path, part, lambda data: re.sub(rb'uniqueCount="\d+"', claim, data))
    refused(path, "sharedStrings.xml", "damaged")


def test_a_style_that_points_at_no_number_is_a_plain_one(workbook):
    path = workbook({"Supports": SUPPORT_ROWS})
    repacked(path, "xl/styles.xml", lambda data: data.replace(b'numFmtId="0"', b'numFmtId="1e9"'))
    assert [record.key for record in read(path).records] == [("PS-1",)]


def test_a_false_sheet_size_does_not_hide_rows(workbook):
    path = workbook({"Supports": SUPPORT_ROWS})
    repacked(
        path,
        "xl/worksheets/sheet1.xml",
        lambda data: data.replace(b'<dimension ref="A1:B2"', b'<dimension ref="A1:A1"'),
    )
    assert [record.key for record in read(path).records] == [("PS-1",)]


def test_prefixed_names_in_the_xml_are_read(workbook):
    path = workbook({"Supports": [*SUPPORT_ROWS, ["PS-2", "=1/0"]]})
    with zipfile.ZipFile(path) as archive:
        data = archive.read("xl/worksheets/sheet1.xml").decode()
    assert "<f>1/0</f>" in data
    data = data.replace('<c r="B3"><f>1/0</f><v></v>', '<c r="B3" t="e"><f>1/0</f><v>#DIV/0!</v>')
    data = data.replace('<c r="B3"><f>1/0</f><v />', '<c r="B3" t="e"><f>1/0</f><v>#DIV/0!</v>')
    prefixed = data.replace("</", "</x:").replace("</x:", "\0").replace("<", "<x:")
    prefixed = prefixed.replace("\0", "</x:").replace("<x:?xml", "<?xml")
    prefixed = prefixed.replace("xmlns=", "xmlns:x=")
    repacked(path, "xl/worksheets/sheet1.xml", lambda _: prefixed.encode())
    result = read(path)
    assert [f.code for f in result.findings] == ["error-cell"]
    assert result.findings[0].found == "'#DIV/0!'"
    assert result.findings[0].place.cell == "B3"


def test_a_workbook_without_the_sheets_names_those_found(workbook):
    with pytest.raises(SheetMissing, match=r"'Suports'.*Is 'Supports' meant"):
        read(workbook({"Suports": SUPPORT_ROWS, "Notes": [["x"]]}))


def test_a_missing_column_names_the_headings_found_and_the_nearest(workbook):
    with pytest.raises(ColumnMissing, match=r"'Suport tagg', 'Area'.*'Suport tagg'.*rename"):
        read(workbook({"Supports": [["Suport tagg", "Area"], ["PS-1", "North"]]}))


def test_a_needed_column_that_stands_twice_is_refused(workbook):
    rows = [["Support tag", "Tag", "Area"], ["PS-1", "PS-2", "North"]]
    with pytest.raises(
        ColumnMissing, match="stands twice; found 'Support tag' in A and 'Tag' in B"
    ):
        read(workbook({"Supports": rows}))


def test_the_digest_is_the_hash_of_the_file(workbook):
    import hashlib

    path = workbook({"Supports": SUPPORT_ROWS})
    result = read(path)
    assert result.digest == hashlib.sha256(path.read_bytes()).hexdigest()
    assert result.file_name == "plant.xlsx"


def test_leading_blank_rows_and_columns_keep_their_addresses(tmp_path):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Supports"
    for address, value in {"C4": "Support tag", "D4": "Access", "C5": "PS-1", "D6": "x"}.items():
        sheet[address] = value
    book.save(tmp_path / "moved.xlsx")
    result = read(tmp_path / "moved.xlsx", (SUPPORTS,))
    assert result.records[0].source.place("tag").cell == "C5"
    assert [(f.code, f.place.cell) for f in result.findings] == [("key-missing", "row 6")]


def test_a_hidden_error_in_a_tag_holds_the_row_back(workbook):
    path = workbook({"Supports": [*SUPPORT_ROWS, ["#REF!", "North"]]})
    result = read(path)  # openpyxl writes the text #REF! as an error cell
    assert [f.code for f in result.findings] == ["error-cell"]
    assert [record.key for record in result.records] == [("PS-1",)]


def test_a_formula_that_no_program_has_worked_out_is_no_blank(workbook):
    """Written by a program that does not count; an empty text that a formula gave is a value."""
    rows = [["Support tag", "Order along line", "Area"], ["PS-1", "=1+2", '="N"&"orth"']]
    result = read(workbook({"Supports": rows}))
    assert [(f.code, f.place.cell, f.found) for f in result.findings] == [
        ("formula-not-worked-out", "B2", "'=1+2'"),
        ("formula-not-worked-out", "C2", '\'="N"&"orth"\''),
    ]
    assert result.forbids_storing


def test_a_formula_whose_value_is_an_empty_text_is_a_blank(workbook):
    path = workbook({"Supports": [["Support tag", "Area"], ["PS-1", '=""']]})
    with zipfile.ZipFile(path) as archive:
        data = archive.read("xl/worksheets/sheet1.xml")
    assert b'<c r="B2"><f>' in data
    repacked(
        path, "xl/worksheets/sheet1.xml", lambda d: d.replace(b'<c r="B2">', b'<c r="B2" t="str">')
    )
    assert read(path).findings == ()


def test_a_sheet_of_more_columns_than_can_be_proposed_is_told(workbook):
    path = workbook({"Wide": [["Support tag", *(f"h{n}" for n in range(1_000))], ["PS-1"]]})
    with pytest.raises(BadInput, match="1,001 columns with headings"):
        propose(path)
