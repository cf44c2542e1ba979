"""Other kinds of file: old binary workbooks, open-document sheets, tab-separated text, macros.

The old binary workbook is put together here byte by byte after [MS-CFB] and [MS-XLS], so that no
library of ours writes what it reads.
"""

from __future__ import annotations

import struct

import pytest

from importers.opened_form import opened_form
from importers.reading import read
from importers.workbook import open_workbook
from supports.errors import FileUnusable
from tests.binary_workbooks import binary_workbook
from tests.open_documents import open_document

ROWS = [["Support tag", "Order along line", "Area"], ["007", 3.0, "North"], ["1E5", 4.0, "South"]]
EXPECTED = [
    (("007",), {"order_along": 3, "area": "North"}),
    (("1E5",), {"order_along": 4, "area": "South"}),
]


def records(path):
    result = read(path)
    return [(record.key, dict(record.values)) for record in result.records], result


def record(kind, body):
    return struct.pack("<HH", kind, len(body)) + body


def cell(row, column, value):
    head = struct.pack("<HHH", row, column, 0)
    if isinstance(value, str):
        return record(0x0204, head + struct.pack("<HB", len(value), 0) + value.encode("latin-1"))
    return record(0x0203, head + struct.pack("<d", value))


def binary_stream(name, rows):
    start = record(0x0809, struct.pack("<HHHHII", 0x0600, 0x0005, 0, 0, 0, 0))
    sheet_name = struct.pack("<BB", len(name), 0) + name.encode()
    offset = len(start) + 4 + 6 + len(sheet_name) + 4
    listed = record(0x0085, struct.pack("<IBB", offset, 0, 0) + sheet_name)
    cells = b"".join(cell(r, c, v) for r, row in enumerate(rows) for c, v in enumerate(row))
    page = record(0x0809, struct.pack("<HHHHII", 0x0600, 0x0010, 0, 0, 0, 0))
    page += record(0x0200, struct.pack("<IIHHH", 0, len(rows), 0, len(rows[0]), 0))
    return start + listed + record(0x000A, b"") + page + cells + record(0x000A, b"")


def entry(name, kind, child, start, size):
    text = (name + "\0").encode("utf-16-le") if name else b""
    nobody = 0xFFFFFFFF
    return (
        text.ljust(64, b"\0")
        + struct.pack("<HBBIII", len(text), kind, 1, nobody, nobody, child)
        + bytes(36)
        + struct.pack("<IQ", start, size)
    )


def compound_file(stream):
    stream = stream.ljust(max(4096, -(-len(stream) // 512) * 512), b"\0")
    count = len(stream) // 512
    end, free, table = 0xFFFFFFFE, 0xFFFFFFFF, 0xFFFFFFFD
    chain = [table, end, *range(3, 2 + count), end]
    fat = struct.pack("<128I", *(chain + [free] * (128 - len(chain))))
    header = bytes.fromhex("d0cf11e0a1b11ae1") + bytes(16)
    header += struct.pack("<HHHHH6x", 0x3E, 3, 0xFFFE, 9, 6)
    header += struct.pack("<IIIIIIIII", 0, 1, 1, 0, 4096, end, 0, end, 0)
    header += struct.pack("<109I", 0, *([free] * 108))
    directory = entry("Root Entry", 5, 1, end, 0) + entry("Workbook", 2, free, 2, len(stream))
    return header + fat + directory + entry("", 0, free, 0, 0) * 2 + stream


def test_an_old_binary_workbook_is_read(tmp_path):
    path = tmp_path / "old.xls"
    path.write_bytes(compound_file(binary_stream("Supports", ROWS)))
    found, result = records(path)
    assert found == EXPECTED
    assert [(f.code, f.severity.value) for f in result.findings] == [("marks-not-told", "LOOK")]


def test_an_open_document_sheet_is_read(tmp_path):
    open_document(tmp_path / "plant.ods", ROWS)
    found, result = records(tmp_path / "plant.ods")
    assert found == EXPECTED
    assert [f.code for f in result.findings] == ["marks-not-told"]


def test_empty_rows_repeated_to_the_end_do_no_harm(tmp_path):
    more = (
        '<table:table-row table:number-rows-repeated="1048570"><table:table-cell '
        'table:number-columns-repeated="16384"/></table:table-row>'
    )
    open_document(tmp_path / "plant.ods", ROWS, more)
    assert records(tmp_path / "plant.ods")[0] == EXPECTED


def test_a_filled_cell_repeated_without_measure_is_refused(tmp_path):
    more = (
        '<table:table-row table:number-rows-repeated="1000000"><table:table-cell '
        'table:number-columns-repeated="16000" office:value-type="float" office:value="1">'
        "<text:p>1</text:p></table:table-cell></table:table-row>"
    )
    open_document(tmp_path / "bomb.ods", ROWS, more)
    with pytest.raises(FileUnusable, match="repeated"):
        open_workbook(tmp_path / "bomb.ods")


def test_columns_of_one_width_and_blanks_beside_a_table_are_no_repeats(tmp_path):
    """An office program says the width of all 16,384 columns in one, before the first row."""
    more = (
        '<table:table-column table:number-columns-repeated="16384"/><table:table-row>'
        '<table:table-cell office:value-type="string"><text:p>PS-9</text:p></table:table-cell>'
        '<table:table-cell table:number-columns-repeated="16383"/></table:table-row>'
    )
    open_document(tmp_path / "plant.ods", ROWS, more)
    assert records(tmp_path / "plant.ods")[0] == [*EXPECTED, (("PS-9",), {})]


def test_a_stray_cell_far_away_in_such_a_sheet_is_refused(tmp_path):
    """A far cell takes memory for all before it, be they blank or not."""
    more = (
        '<table:table-row table:number-rows-repeated="900000"><table:table-cell/></table:table-row>'
        '<table:table-row><table:table-cell table:number-columns-repeated="999"/>'
        '<table:table-cell office:value-type="float" office:value="1"/></table:table-row>'
    )
    open_document(tmp_path / "far.ods", ROWS, more)
    with pytest.raises(FileUnusable, match=r"reaches to row 900,004 and column 1,000.*too far"):
        open_workbook(tmp_path / "far.ods")


def test_rows_and_cells_repeated_a_little_but_often_are_refused(tmp_path):
    cells = (
        '<table:table-cell table:number-columns-repeated="4000" office:value-type="float" '
        'office:value="1"/>' * 4
    )
    row = f'<table:table-row table:number-rows-repeated="4000">{cells}</table:table-row>'
    open_document(tmp_path / "often.ods", ROWS, row)
    with pytest.raises(FileUnusable, match=r"row 4,003 and column 16,000.*too far"):
        open_workbook(tmp_path / "often.ods")


def test_a_binary_workbook_is_read(tmp_path):
    binary_workbook(tmp_path / "plant.xlsb", ROWS)
    found, result = records(tmp_path / "plant.xlsb")
    assert found == EXPECTED
    assert [f.code for f in result.findings] == ["marks-not-told"]


def test_a_stray_cell_far_away_in_a_binary_workbook_is_refused(tmp_path):
    binary_workbook(tmp_path / "far.xlsb", ROWS, {(1_048_575, 16_383): 1.0})
    with pytest.raises(FileUnusable, match=r"row 1,048,576 and column 16,384.*too far"):
        open_workbook(tmp_path / "far.xlsb")


@pytest.mark.parametrize("ending", ["ods", "xlsb", "xls"])
def test_a_workbook_under_another_ending_is_read_with_its_marks(workbook, tmp_path, ending):
    path = workbook({"Supports": [*ROWS, ["#REF!", 1.0, "North"]]}).rename(
        tmp_path / f"plant.{ending}"
    )
    found, result = records(path)
    assert found == EXPECTED
    assert [f.code for f in result.findings] == ["error-cell"]


def test_an_error_text_in_such_a_sheet_is_an_error(tmp_path):
    open_document(tmp_path / "plant.ods", [ROWS[0], ["#REF!", 1.0, "North"]])
    _, result = records(tmp_path / "plant.ods")
    assert "error-cell" in [f.code for f in result.findings]
    assert result.records == ()


@pytest.mark.parametrize("error", ["#REF!", "#N/A", "#DIV/0!", "#NAME?", "Err:502"])
def test_an_error_text_in_csv_is_an_error(text_file, error):
    _, result = records(
        text_file("Supports.csv", [ROWS[0], [error, "1", "N"], ["PS-1", "2", error]])
    )
    assert [(f.code, f.place.cell) for f in result.findings] == [
        ("error-cell", "A2"),
        ("error-cell", "C3"),
    ]


def test_tab_separated_text_is_read(text_file):
    found, result = records(text_file("Supports.tsv", ROWS, "\t"))
    assert found == EXPECTED
    assert result.findings == ()


def test_a_workbook_with_macros_is_read_as_data(workbook, tmp_path):
    path = workbook({"Supports": ROWS}, "plant.xlsm")
    found, _ = records(path)
    assert found == EXPECTED


def test_a_form_saved_as_an_open_document_is_another_kind_of_file_and_not_damaged(tmp_path):
    open_document(tmp_path / "form.ods", ROWS)
    with pytest.raises(FileUnusable, match=r"another kind of file.*save it anew as \.xlsx"):
        opened_form(tmp_path / "form.ods")


def test_half_an_old_workbook_is_damaged(tmp_path):
    path = tmp_path / "old.xls"
    path.write_bytes(compound_file(binary_stream("Supports", ROWS))[:1500])
    with pytest.raises(FileUnusable):
        open_workbook(path)
