"""Tags are text for ever."""

from __future__ import annotations

import doctest

import pytest

from supports import tags


def test_the_examples_in_the_text() -> None:
    assert doctest.testmod(tags).failed == 0
    assert doctest.testmod(tags).attempted >= 4


@pytest.mark.parametrize("tag", ["007", "1E5", "NA", "TRUE", "1-2", "0010", "12.0", "=A1"])
def test_a_tag_that_looks_like_something_else_stays_text(tag: str) -> None:
    assert tags.tidied(tag) == tag


def test_leading_zeros_make_another_tag() -> None:
    assert tags.matching_key("PS-007") != tags.matching_key("PS-7")
    assert tags.natural_key("PS-007") != tags.natural_key("PS-7")


@pytest.mark.parametrize(
    "written",
    [" PS-1024 ", "PS\u20131024", "PS\u22121024", "PS-1024\u200b", "\ufeffPS-1024", "PS-1024\n"],
)
def test_harmless_dirt_is_cleaned(written: str) -> None:
    assert tags.tidied(written) == "PS-1024"


@pytest.mark.parametrize("written", ["PS 1024\u00a0A", "PS\t1024  A", "PS 1024\nA", "PS 1024\r\nA"])
def test_odd_spaces_and_line_breaks_become_one_space(written: str) -> None:
    assert tags.tidied(written) == "PS 1024 A"


@pytest.mark.parametrize("written", ["ps-1024", "PS 1024", "PS_1024", "Ps1024", "PS\u20111024"])
def test_writings_of_one_tag_match(written: str) -> None:
    assert tags.matching_key(written) == "PS1024"


def test_lookalikes_match_only_under_their_own_key() -> None:
    assert tags.matching_key("PS-1O24") != tags.matching_key("PS-1024")
    assert tags.lookalike_key("PS-IO24") == tags.lookalike_key("PS-l024")


def test_natural_order() -> None:
    wild = ["PS-10", "PS-9A", "PS-9", "10-PS", "9-PS", "PS-1024", "", "PS"]
    assert sorted(wild, key=tags.natural_key) == [
        "", "9-PS", "10-PS", "PS", "PS-9", "PS-9A", "PS-10", "PS-1024",
    ]  # fmt: skip


def test_suggestions_put_lookalikes_first() -> None:
    known = ["PS-1025", "PS-1024", "GH-7"]
    assert tags.suggestions("PS-1O24", known)[0] == "PS-1024"
    assert "GH-7" not in tags.suggestions("PS-1O24", known)
    assert tags.suggestions("XYZ", known) == []


def test_no_more_suggestions_than_asked_for() -> None:
    assert len(tags.suggestions("PS-1", [f"PS-1{n}" for n in range(9)], most=2)) == 2
