"""Lines and tables that fit their terminal, word for word."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from app.fitting import NARROWEST, fitted, table

WORDS = st.lists(st.text("abc-/", min_size=1, max_size=NARROWEST - 20), min_size=1, max_size=30)


@given(WORDS, st.integers(NARROWEST, 120), st.integers(0, 6))
def test_folding_loses_no_word_and_keeps_the_width(words, width, indent):
    line = " " * indent + " ".join(words)
    folded = fitted(line, width)
    assert " ".join(folded).split() == line.split()
    assert all(len(one) <= width for one in folded)


def test_what_no_terminal_reads_is_whole():
    assert fitted("x " * 200, 0) == ["x " * 200]


def test_a_table_is_as_wide_as_its_cells_and_nothing_without_rows():
    assert table([], ("tag", "kind")) == []
    assert table([("PS-1", "a"), ("P", "bb")], ("tag", "k")) == ["tag   k", "PS-1  a", "P     bb"]
