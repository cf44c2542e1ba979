"""CSV as text: separators, encodings, quotation marks, formulas, tags kept as they are."""

from __future__ import annotations

import pytest

from importers.reading import read
from importers.text_files import guarded, read_text_table, unguarded
from supports.errors import FileUnusable

ROWS = [
    ["Support tag", "Area", "Rod length pin to pin [mm]", "Note"],
    ["007", "Süd", "1500", "first, second; third"],
    ["1E5", "NA", "900.5", "=1+1"],
    ["NA", "", "", "-12"],
]


def read_tags(path):
    result = read(path)
    assert not result.forbids_storing
    return {record.key[0]: dict(record.values) for record in result.records}


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_separator_and_encoding_are_found(text_file, delimiter, encoding):
    tags = read_tags(text_file("Supports.csv", ROWS, delimiter, encoding))
    assert list(tags) == ["007", "1E5", "NA"]
    assert tags["007"] == {"area": "Süd", "rod_length": 1.5, "note": "first, second; third"}
    assert tags["1E5"]["area"] == "NA"
    assert tags["NA"] == {"note": "-12"}


def test_where_semicolons_part_cells_a_point_before_three_digits_is_asked(text_file):
    """Programs part cells by semicolons where the comma parts decimals and the point thousands."""
    heads = ["Support tag", "Rod length pin to pin [mm]"]

    def asked(other, delimiter):
        rows = [heads, ["PS-1", "12.500"], ["PS-2", other]]
        result = read(text_file("Supports.csv", rows, delimiter))
        return [(f.code, f.place.cell) for f in result.findings]

    assert asked("900", ";") == [("number-ambiguous", "B2")]
    assert asked("900.5", ";") == asked("0.900", ";") == asked("900", ",") == []


def test_a_foreign_encoding_is_said(text_file):
    result = read(text_file("Supports.csv", ROWS, encoding="cp1252"))
    assert [f.code for f in result.findings] == ["encoding-assumed"]


def test_bytes_of_no_known_encoding_are_refused(tmp_path):
    path = tmp_path / "Supports.csv"
    path.write_bytes(b"Support tag,Area\nPS-1,\x81\n")
    with pytest.raises(FileUnusable, match="letters"):
        read(path)


def test_bytes_that_are_no_text_are_refused():
    with pytest.raises(FileUnusable, match="not text"):
        read_text_table("x.csv", "x", b"a\x00b")


def test_an_open_quotation_mark_names_its_line():
    with pytest.raises(FileUnusable, match="line 3"):
        read_text_table("x.csv", "x", b'a,b\n1,2\n"3,4\n')


def test_a_separator_line_is_followed():
    table, _ = read_text_table("x.csv", "x", b"sep=;\na;b,c\n")
    assert table.rows == [["a", "b,c"]]


def test_two_possible_separators_are_asked():
    with pytest.raises(FileUnusable, match="separator"):
        read_text_table("x.csv", "x", b"a,b;c\n1,2;3\n")


def test_one_column_needs_no_separator():
    table, _ = read_text_table("x.csv", "x", b"Tag\nPS-1\nPS-2\n")
    assert table.rows == [["Tag"], ["PS-1"], ["PS-2"]]


@pytest.mark.parametrize("text", ["=1+1", "+49", "-12", "@x", "'=1", "''-", "\tx"])
def test_text_that_looks_like_a_formula_is_guarded_and_comes_back(text):
    assert guarded(text)[0] == "'"
    assert unguarded(guarded(text)) == text


@pytest.mark.parametrize("text", ["PS-1", "'88", "", "22.1"])
def test_other_text_is_left_alone(text):
    assert guarded(text) == text == unguarded(text)


def test_a_folder_of_files_is_one_reading(text_file):
    text_file("set/Supports.csv", [["Support tag", "Line number"], ["PS-1", "L-1"]])
    lines = text_file("set/Lines.csv", [["Line number", "Area"], ["L-1", "North"]])
    result = read(lines.parent)
    assert [(r.subject, r.key) for r in result.records] == [
        ("line", ("L-1",)),
        ("support", ("PS-1",)),
    ]
    assert result.file_name == "Lines.csv, Supports.csv"
    assert len(result.digest) == 64


def test_a_folder_without_tables_is_refused(tmp_path):
    with pytest.raises(FileUnusable, match="no CSV"):
        read(tmp_path)
