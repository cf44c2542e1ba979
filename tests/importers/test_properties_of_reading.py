"""Whatever stands in a cell: an answer or a finding, never a crash, never a changed tag."""

from __future__ import annotations

import math
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st

from importers.days import read_day
from importers.export import export_csv, export_xlsx
from importers.faults import Fault
from importers.quantity_text import read_amount
from importers.reading import read
from importers.text_files import guarded, unguarded
from importers.words import read_tag, read_whole
from supports.errors import SupportsError

ANY = st.text(max_size=30)
SIGNS = st.text(alphabet="0123456789.,-+/'\"½ x±~?()eE %kNmin", max_size=12)


@given(ANY | SIGNS)
def test_every_text_is_a_finite_amount_or_a_fault(text):
    answer = read_amount(text)
    assert isinstance(answer, Fault) or math.isfinite(answer.number)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_plain_number_is_read_to_the_last_digit(number):
    answer = read_amount(repr(number))
    assert not isinstance(answer, Fault)
    assert answer.number == number


@given(ANY | st.text(alphabet="0123456789./- JanFebMai", max_size=12))
def test_every_text_is_a_day_or_a_fault(text):
    day, fault = read_day(text)
    assert (day is None) != (fault is None) or (fault and fault.severity.value != "STOP")


@given(st.dates(date(1930, 1, 1), date(2100, 1, 1)))
def test_a_day_as_year_month_day_is_read_as_it_is(day):
    if day != date(1970, 1, 1):
        assert read_day(day.isoformat()) == (day, None)


@given(ANY | st.floats() | st.booleans() | st.sampled_from([math.nan, math.inf, -math.inf]))
def test_whole_numbers_never_crash(raw):
    value, fault = read_whole(raw)
    assert (value is None) != (fault is None)


@given(ANY)
def test_a_guarded_text_comes_back(text):
    assert unguarded(guarded(text)) == text
    assert not guarded(text).startswith(("=", "+", "-", "@"))


TAGS = st.from_regex(r"[A-Z]{1,3}-[0-9]{1,6}[A-C]?|[0-9]{1,7}|[0-9]E[0-9]{1,2}", fullmatch=True)


@settings(max_examples=25, deadline=None)
@given(st.sets(TAGS, min_size=1, max_size=12))
def test_no_tag_is_changed_on_its_way_out_and_in(found):
    existing = {("support", (tag,)): {"kind": "rest"} for tag in found}
    with TemporaryDirectory() as folder:
        export_csv(Path(folder) / "csv", existing)
        export_xlsx(Path(folder) / "book.xlsx", existing)
        for path in (Path(folder) / "csv", Path(folder) / "book.xlsx"):
            assert {record.key[0] for record in read(path).records} == found


@given(st.sampled_from(["PS-1", "007", "1E5", "NA", "nan", "0x1F", "1_000", "True"]))
def test_tags_that_libraries_like_to_change_stay(tag):
    assert read_tag(tag) == (tag, None)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused_in_words(data):
    with TemporaryDirectory() as folder:
        for name in ("Supports.csv", "Supports.xlsx", "Supports.xls", "Supports.ods"):
            path = Path(folder) / name
            path.write_bytes(data)
            said = _said_of(path)
            assert said == "read" or name in said


def _said_of(path):
    try:
        read(path)
    except SupportsError as error:
        return str(error)
    return "read"
