"""Cells written many at a time say what they say one by one."""

from __future__ import annotations

from datetime import date

import orjson
from hypothesis import given
from hypothesis import strategies as st

from importers.cells_as_found import CellsAsFound, Found, Where
from importers.table import DeclaredCell, ErrorCell, PercentCell, StruckCell
from supports.freezing import written

NUMBERS = st.floats() | st.floats(-1e4, 1e4).map(lambda x: round(x, 3)) | st.integers().map(float)
RAW = st.one_of(
    NUMBERS,
    st.sampled_from(["", "", "PS-1", '2 "', "\\", "Ä\n", "\u200b"]),
    st.text(max_size=5),
    st.booleans(),
    st.dates(),
    st.sampled_from(
        [ErrorCell("#REF!"), StruckCell("~~4~~"), PercentCell(0.15), DeclaredCell(4.0, "lbf", "4")]
    ),
)
ROWS = st.lists(st.lists(RAW, min_size=3, max_size=3), min_size=1, max_size=6)
WHERE = {"b": Where(0, "A", "kN"), "ä": Where(1, "B"), "a": Where(2, "C", "", 1)}


@given(ROWS)
def test_rows_written_at_once_say_what_their_cells_say_one_by_one(rows):
    found = Found(WHERE, rows)
    for i in range(len(rows)):
        cells = CellsAsFound(found, i)
        alone = {name: (cell.column, cell.text, cell.unit) for name, cell in cells.items()}
        assert cells.written() == written(alone)


@given(st.lists(st.text('",\\\\a', min_size=1, max_size=3), min_size=1, max_size=6))
def test_texts_of_commas_and_quotes_stay_in_their_rows(texts):
    found = Found({"n": Where(0, "A", "in")}, [[text] for text in texts])
    for i, text in enumerate(texts):
        assert orjson.loads(found.written(i)) == {"n": ["A", text, "in"]}


def test_more_rows_than_are_written_at_once_are_found_in_any_order():
    found = Found({"n": Where(0, "A", "mm")}, [[float(n)] for n in range(600)])
    for i in (599, 0, 300, 255, 256):
        assert orjson.loads(found.written(i)) == {"n": ["A", str(i), "mm"]}


def test_a_day_and_a_number_of_many_digits_are_written_as_they_show():
    found = Found({"n": Where(0, "A")}, [[0.1 + 0.2], [1e-7], [1e22], [date(2031, 5, 4)]])
    shown = [orjson.loads(found.written(i))["n"][1] for i in range(4)]
    assert shown == ["0.3", "1e-07", "1e+22", "2031-05-04"]
