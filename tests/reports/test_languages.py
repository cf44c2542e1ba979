"""Every language has every message, with the same places to fill, and its own words."""

from __future__ import annotations

import re

import pytest
from babel.messages.pofile import read_po

from reports.languages import FOLDERS, IN_ENGLISH, Texts, languages, texts
from reports.languages.sentences_of_sheets import OF_SHEETS
from supports.errors import BadInput
from tests.reports.messages import (
    python_messages,
    sheet_sentences,
    spoken_papers,
    wanted_messages,
)
from tests.reports.raised import TYPED_ONLY, modules_of_the_desk, raised

OTHERS = [language for language in languages() if language != "en"]
PLACES = re.compile(r"\{(\w+)\}")


def test_there_is_a_language_besides_english():
    assert languages()[0] == "en"
    assert "de" in OTHERS
    assert spoken_papers()


@pytest.mark.parametrize("language", OTHERS)
def test_no_message_is_missing_and_none_is_left_over(language):
    words, wanted = set(texts(language).words), wanted_messages()
    assert wanted - words == set()
    assert words - wanted == set()


@pytest.mark.parametrize("language", OTHERS)
def test_a_message_has_the_same_places_to_fill(language):
    for message, said in texts(language).words.items():
        assert sorted(PLACES.findall(said)) == sorted(PLACES.findall(message)), message


@pytest.mark.parametrize("language", OTHERS)
def test_the_file_names_its_language_and_leaves_nothing_in_doubt(language):
    for folder in FOLDERS:
        with (folder / f"{language}.po").open("rb") as file:
            catalog = read_po(file, abort_invalid=True)
        assert str(catalog.locale) == language
        assert [one.id for one in catalog if one.id and (one.fuzzy or not one.string)] == []


def test_a_message_that_is_not_there_stops_the_paper():
    with pytest.raises(BadInput, match="lacks a message"):
        Texts("xx", {"known": "bekannt"})("unheard of")


def test_places_are_filled_in_both_languages():
    assert IN_ENGLISH("Open changes: {count}", count=3) == "Open changes: 3"
    assert texts("de")("Open changes: {count}", count=3) == "Offene Änderungen: 3"


def test_braces_of_a_stranger_are_no_places():
    assert IN_ENGLISH("as of {day}", day="{oops}") == "as of {oops}"


def test_a_language_that_nobody_wrote_is_refused():
    with pytest.raises(BadInput, match="not written in this language"):
        texts("tlh")


def test_the_reader_of_the_code_finds_literals_and_constants(tmp_path):
    file = tmp_path / "said.py"
    file.write_text('LONG = "a constant"\nsay("plain")\nsay(LONG)\nwanted.say("x" if y else "z")\n')
    assert set(python_messages(file)) == {"plain", "a constant", "x", "z"}


def test_every_error_that_the_desk_can_show_keeps_its_pattern():
    assert [one for one in raised() if not one.is_pattern] == []


@pytest.mark.parametrize("path", TYPED_ONLY)
def test_what_no_visitor_is_shown_would_be_found_otherwise(path):
    assert any(one.startswith(path) for one in modules_of_the_desk())


def test_what_files_were_found_to_hold_is_read_back():
    assert sheet_sentences() | {"row {count}"} == set(OF_SHEETS)
