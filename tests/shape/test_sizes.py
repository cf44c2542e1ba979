"""Files and functions stay small enough to be read at one sitting."""

from __future__ import annotations

from functools import cache
from statistics import median

import pytest

from tests.shape.sources import PACKAGES, Source, python_files

FILE_CAP, FILE_MEDIAN = 400, 150
BODY_CAP, BODY_NINE_IN_TEN, BODY_MEDIAN = 60, 30, 8

ENOUGH = ("supports", "importers", "reports", "app", "demo", "tests")
"""Packages of enough files for a median to say something."""

EXCEPTIONS = {
    "migrations/versions/0001_register.py": "a revision spells out every table in one place",
}
"""Files that may be longer, each with its reason."""


def measured(package: str) -> list[Source]:
    return [source for source in python_files(package) if source.path not in EXCEPTIONS]


@cache
def bodies(package: str) -> dict[str, int]:
    return {
        f"{source.path}:{function.lineno} {function.name}": source.body_lines(function)
        for source in measured(package)
        for function in source.functions()
    }


@pytest.mark.parametrize("package", PACKAGES)
def test_no_file_is_too_long(package):
    assert {s.path: s.lines for s in measured(package) if s.lines > FILE_CAP} == {}


@pytest.mark.parametrize("package", ENOUGH)
def test_half_of_the_files_are_short(package):
    assert median([s.lines for s in measured(package)] or [0]) <= FILE_MEDIAN


@pytest.mark.parametrize("package", PACKAGES)
def test_no_function_is_too_long(package):
    assert {name: n for name, n in bodies(package).items() if n > BODY_CAP} == {}


@pytest.mark.parametrize("package", ENOUGH)
def test_most_functions_are_short(package):
    lengths = sorted(bodies(package).values()) or [0]
    assert median(lengths) <= BODY_MEDIAN
    assert lengths[len(lengths) * 9 // 10 - 1] <= BODY_NINE_IN_TEN


def test_every_exception_is_still_needed():
    long = {s.path for package in PACKAGES for s in python_files(package) if s.lines > FILE_CAP}
    assert set(EXCEPTIONS) <= long


def test_a_body_is_counted_without_docstring_and_blank_lines():
    text = 'def f(a):\n    """Say."""\n\n    b = a\n\n    # why\n    return b\n'
    source = Source("example.py", text)
    assert [source.body_lines(function) for function in source.functions()] == [3]
