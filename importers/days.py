"""Days in cells: read where they can mean one day only, otherwise asked."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

from importers.faults import Fault, Outcome
from importers.table import Raw, text_of
from importers.tag_words import MONTHS, ditto_fault, is_ditto
from supports.findings import Severity
from supports.sentences import Sentence

FIRST_YEAR = 1930
"""Nothing in a register of supports is older."""

_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]\d{1,2}:\d{2}(?::\d{2})?)?")
_NUMERIC = re.compile(r"(\d{1,2})([-/. ])(\d{1,2})\2(\d{4})")
_NAMED = re.compile(r"(\d{1,2})\.?[ -]*([^\W\d_]{3,})\.?[ ,-]*(\d{4})")
_NAMED_FIRST = re.compile(r"([^\W\d_]{3,})\.? +(\d{1,2})(?:st|nd|rd|th)?,? +(\d{4})")
_MONTHS_OF_YEAR = 12
_ISO_HINT = "a day written as 2009-04-03"
_YEAR = r"(?:19|20)\d\d"
_QUESTIONS = (
    (
        re.compile(
            rf".*\d\s*(?:/|–|-|to|and|&|\+)\s+.*\d.*|{_YEAR}\s*[-–/]\s*{_YEAR}"
            r"|\d{1,2}\.\s*[-–]\s*\d{1,2}\..*",
            re.IGNORECASE,
        ),
        "two-dates",
        "the cell holds two dates or a span of time",
    ),
    (
        re.compile(r"\d{1,2}[-/. ]\d{1,2}[-/. ]'?\d{2}"),
        "date-ambiguous",
        "a year of two digits could be of either century",
    ),
    (
        re.compile(r"\d{1,2}\.?[ -]*[^\W\d_]{3,}\.?[ ,-]*'?\d{2}"),
        "date-ambiguous",
        "a year of two digits could be of either century",
    ),
    (
        re.compile(
            rf"(?:TA|turnaround|outage|shutdown|spring|summer|autumn|fall|winter|q[1-4]|wk|week|kw"
            rf"|before|after|about|ca\.?|early|mid|late|(?:{MONTHS})[a-z]*\.?)\b.*|'?\d\d|{_YEAR}",
            re.IGNORECASE,
        ),
        "date-not-exact",
        "this names a time, but no day",
    ),
)

_MONTHS = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_SHORT = tuple(month[:3] for month in _MONTHS)


def read_day(raw: Raw, latest: date | None = None) -> Outcome:
    """Read a day; a day that cannot be, or that could be two, is a fault."""
    if isinstance(raw, datetime):
        return _checked(raw.date(), latest)
    if isinstance(raw, date):
        return _checked(raw, latest)
    if isinstance(raw, time | timedelta | bool):
        return Outcome(None, _not_possible("a time of day is not a date"))
    if isinstance(raw, float | int):
        return Outcome(None, _day_number(raw))
    return _read_text(text_of(raw).strip(), latest)


def _read_text(text: str, latest: date | None) -> Outcome:
    if match := _ISO.fullmatch(text):
        return _built(int(match[1]), int(match[2]), int(match[3]), latest)
    if match := _NUMERIC.fullmatch(text):
        return _either_order(int(match[1]), int(match[3]), int(match[4]), latest)
    if match := _NAMED.fullmatch(text):
        return _with_name(match[2], int(match[1]), int(match[3]), latest)
    if match := _NAMED_FIRST.fullmatch(text):
        return _with_name(match[1], int(match[2]), int(match[3]), latest)
    return Outcome(None, _question(text))


def maybe_swapped(column: Sequence[Raw]) -> tuple[int, Fault] | None:
    """Return the first day that a program may have turned about, and the question that it is.

    A program that opens text such as 04/03/2009 and 13/04/2009 in the other country's order makes a
    day of what can be one there, month and day exchanged, and leaves the rest as text.
    """
    days = {i: raw for i, raw in enumerate(column) if isinstance(raw, date)}
    left = [raw for raw in column if isinstance(raw, str) and _is_of_one_order(raw.strip())]
    if not days or not left or any(day.day > _MONTHS_OF_YEAR for day in days.values()):
        return None
    what = Sentence(
        "{count} days of this column cannot be told from days with month and day exchanged, beside "
        "text such as {text}",
        count=str(len(days)),
        text=left[0].strip(),
    )
    remedy = "Hold one of them against its paper; if it is exchanged, type them all anew"
    fault = Fault("date-ambiguous", what, "the day of the paper", remedy, Severity.LOOK)
    return next(iter(days)), fault


def _is_of_one_order(text: str) -> bool:
    match = _NUMERIC.fullmatch(text)
    return match is not None and max(int(match[1]), int(match[3])) > _MONTHS_OF_YEAR


def _question(text: str) -> Fault:
    """Return what is to be asked of a text that is no day."""
    if is_ditto(text):
        return ditto_fault("")
    for pattern, code, what in _QUESTIONS:
        if pattern.fullmatch(text):
            return Fault(code, what, _ISO_HINT, "Write the day as year-month-day")
    return _not_possible("this is not a date")


def _built(year: int, month: int, day: int, latest: date | None) -> Outcome:
    try:
        return _checked(date(year, month, day), latest)
    except ValueError:
        return Outcome(None, _not_possible("there is no such day"))


def _checked(day: date, latest: date | None) -> Outcome:
    if day.year < FIRST_YEAR or day == date(1970, 1, 1):
        what = "this is the first day of a computer's calendar, or older than any support"
        return Outcome(None, _not_possible(what))
    if latest is not None and day > latest:
        return Outcome(
            None, _not_possible(Sentence("the day lies after {day}", day=latest.isoformat()))
        )
    return Outcome(day)


def _either_order(first: int, second: int, year: int, latest: date | None) -> Outcome:
    if year >= FIRST_YEAR and 0 < first <= 12 and 0 < second <= 12 and first != second:
        one, other = date(year, first, second), date(year, second, first)
        return Outcome(
            None,
            _ambiguous(
                Sentence(
                    "day and month could change places: {one} or {other}",
                    one=str(one),
                    other=str(other),
                )
            ),
        )
    month, day = (first, second) if second > 12 else (second, first)
    read = _built(year, month, day, latest)
    if read.fault or first == second:
        return read
    return Outcome(read.value, _order_read(read.value))


def _with_name(name: str, day: int, year: int, latest: date | None) -> Outcome:
    word = name.casefold()
    if word in {*_MONTHS, *_SHORT, "sept"}:
        return _built(year, _SHORT.index(word[:3]) + 1, day, latest)
    return Outcome(
        None, _ambiguous(Sentence("the month '{name}' is not an English name", name=name))
    )


def _day_number(number: float) -> Fault:
    if FIRST_YEAR <= number <= 2100:
        return Fault("date-not-exact", "this names a year, but no day", _ISO_HINT)
    if not 1 <= number < 80_000:
        return _not_possible("this number is not a day")
    one = date(1899, 12, 30) + timedelta(days=int(number))
    other = date(1904, 1, 1) + timedelta(days=int(number))
    return _ambiguous(
        Sentence(
            "a bare day number is {one} counted from 1900, {other} counted from 1904",
            one=str(one),
            other=str(other),
        )
    )


def _not_possible(what: str) -> Fault:
    return Fault("date-not-possible", what, _ISO_HINT)


def _ambiguous(what: str) -> Fault:
    return Fault("date-ambiguous", what, _ISO_HINT, "Write the day as year-month-day")


def _order_read(day: object) -> Fault:
    return Fault(
        "date-order-read",
        Sentence("only one order of day and month is possible; read as {day}", day=str(day)),
        severity=Severity.NOTE,
    )
