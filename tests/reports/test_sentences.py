"""Sentences kept in English come back in the language of the paper, with the values they hold.

A pattern is filled, read back, and must give the same pattern and the same values; what no pattern
made stays word for word. Packs are then made in German and searched for words of English.
"""

from __future__ import annotations

import re
from functools import cache
from string import Formatter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reports.contents.common import PageSize
from reports.contents.pack_of_order import JobFacts, pack_of_order
from reports.contents.plans_of_order import FollowedPlan
from reports.languages import languages, texts
from reports.languages.sentences import (
    filled,
    patterns,
    plain_places,
    read_back,
    standing_words,
    values_in,
)
from reports.pdf.resetting_pack import pack_data, resetting_pack_pdf, spoken
from supports.rules.catalogue import RULES
from supports.rules.rule import ask
from supports.rules.wording import explain
from tests.reports import examples
from tests.reports.english_left import english_left
from tests.reports.examples import head
from tests.reports.reading import pages, signs_outside, squeezed
from tests.reports.test_pack_by_plan import following, order, planned
from tests.rules.cases import one as one_row
from tests.rules.test_every_rule import CASES, LIMITS

OTHERS = [language for language in languages() if language != "en"]
ENGLISH = re.compile(
    r"\b(the|of|and|not|with|from|before|after|unit|round|step|take|put|pointer|required|limit|"
    r"missing|turn|turns|flats|load|nozzle|read|is|are|by|rod|range|done)\b"
)
"""Words that no German sentence has."""
STRANGERS = {"reason", "aim", "head", "nameplate_words", "about", "telephones", "hours", "wrench",
             "assumptions", "place", "kind", "where", "stops", "nozzles", "cases"}  # fmt: skip
"""What people wrote themselves, and names: those of the examples are English."""


PLAIN = {"count": "7", "used": "7.5", "flats": "3", "turns": "7", "turned": "7 turns",
         "deed": "read only", "severity": "ACT"}  # fmt: skip
"""What stands in places that hold a number, or a word of a closed list."""


def places(pattern: str) -> list[str]:
    return [name for _, name, _, _ in Formatter().parse(pattern) if name]


@pytest.mark.parametrize("pattern", patterns())
def test_a_sentence_is_read_back_by_the_pattern_that_made_it(pattern):
    values = {name: f"{number}7.5kN" for number, name in enumerate(places(pattern), 1)}
    values |= {name: one for name, one in PLAIN.items() if name in values}
    assert read_back(filled(pattern, values)) == (pattern, values)


@given(st.text("0123456789.−+ kNm%", min_size=1), st.text("0123456789.−+ kNm%", min_size=1))
def test_values_come_back_whatever_the_numbers(one, other):
    pattern = "moved {movement_seen}, calculated {design_travel}"
    values = {"movement_seen": one, "design_travel": other}
    assert values_in(filled(pattern, values), pattern) == values


def test_every_rule_has_its_pattern_without_formats():
    assert {plain_places(rule.says) for rule in RULES} <= set(patterns())
    assert all("{" not in one for one in standing_words())


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("strange", ["Tank 7, beside the stairs", "#panic()", "{oops} {0}", ""])
def test_a_strangers_words_stay(language, strange):
    assert texts(language).sentence(strange) == strange
    assert texts("en").sentence(strange) == strange


def test_a_rule_speaks_german_with_its_numbers_and_words():
    say = texts("de")
    said = say.sentence("rod M24 carries 22.06 kN of 21.73 kN: 101.6 %")
    assert said == "Gewindestange M24 trägt 22.06 kN von 21.73 kN: 101.6 %"
    assert say.sentence("cannot judge (missing: load per turn, present setting)") == (
        "nicht beurteilbar (es fehlt: Last je Umdrehung, jetzige Einstellung)"
    )
    assert say.sentence("Then HOLD, step 4: take out prop at 7.00 m") == (
        "Dann HALT, Schritt 4: Stütze bei 7.00 m herausnehmen"
    )


def test_a_number_of_things_is_no_word():
    """'Load per turn' was once read as so many turns."""
    say = texts("de")
    assert say.sentence("load per turn") == "Last je Umdrehung"
    assert read_back("any load per turn") is None
    assert say.sentence("3 turns") == "3 Umdrehungen"


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.id)
def test_a_rule_is_explained_without_a_word_of_english(rule):
    case = CASES[rule.id].fails
    said = explain(ask(rule, one_row(rule, case), LIMITS), 0, LIMITS)
    steps = (*said.inputs, *said.worked, *said.limits)
    told = [said.condition, said.says, said.remedy, said.source]
    told += [words for step in steps for words in
             (step.label, step.value, step.formula, step.filled, step.source)]  # fmt: skip
    say = texts("de")
    held = {value for value in case.values() if isinstance(value, str)}
    assert english_left([say.sentence(words) for words in told], "de", held) == set()
    assert say.sentence(said.condition) != said.condition


@cache
def german(kind: str = "re-set"):
    """Return the pack of the planned line as it is written for German readers."""
    assessed, plan = planned()
    follows = FollowedPlan("RP-1", plan, plan.alternatives[0], "A. Example on 2031-05-04")
    say = texts("de")
    return pack_of_order(head("Pack", "WO-1"), order(kind), assessed, JobFacts(), (follows,), say)


def english_in(data: object, key: str = "") -> list[str]:
    """Return the texts of a pack's data that hold a word of English, strangers' words apart."""
    if key in STRANGERS:
        return []
    if isinstance(data, str):
        return [data] if ENGLISH.search(data) else []
    if isinstance(data, dict):
        return [found for name, one in data.items() for found in english_in(one, name)]
    return [found for one in data for found in english_in(one)] if isinstance(data, list) else []


@pytest.mark.parametrize("kind", ["re-set", "undo"])
def test_a_pack_by_a_plan_holds_no_word_of_english(kind):
    say = texts("de")
    data = spoken(pack_data(german(kind), PageSize.A4, say), say)
    shapes = {"limit", "required", "present", "nameplate"}
    assert [one for one in english_in(data) if one not in shapes] == []


def test_the_search_for_english_finds_what_is_left():
    data = pack_data(following(), PageSize.A4)
    assert len(english_in(data)) > 50


def test_a_german_pack_by_a_plan_prints_its_rounds_and_fits_its_sheet():
    made = resetting_pack_pdf(german(), language="de")
    text = squeezed(" ".join(pages(made)))
    for said in ("Runden an Leitung L-1", "Arbeitsfolge an Leitung L-1", "NUR ABLESEN",
                 "am stärksten genutzte Grenze", "VORPRÜFUNG", "wenigste Federkörper"):  # fmt: skip
        assert squeezed(said).lower() in text.lower(), said
    assert signs_outside(made) == 0


def test_shapes_of_marks_are_no_words():
    say = texts("de")
    data = spoken(pack_data(examples.pack(), PageSize.A4, say), say)
    shapes = {mark["shape"] for unit in data["units"] if unit["scale"]
              for mark in (*unit["scale"]["above"], *unit["scale"]["below"])}  # fmt: skip
    assert shapes <= {"present", "required", "hand", "limit", "nameplate"}


IN_GERMAN = (
    ("re-set 46 turns 4 flats", "neu einstellen 46 Umdrehungen 4 Flächen"),
    (
        "take up rod 1 turn, shorten the rod by 6.0 mm",
        "Stange nachstellen 1 Umdrehung, Stange um 6.0 mm verkürzen",
    ),
    ("set back, clockwise from below", "zurückstellen, clockwise from below"),
    ("ACT, clamp slipped", "ENTSCHEIDEN, Schelle verrutscht"),
    ("C2: adjusting range, high end: 91.2%", "C2: Einstellbereich, oberes Ende: 91.2%"),
    (
        "line L-1, change CH-1: from the assessment",
        "Leitung L-1, Änderung CH-1: aus der Beurteilung",
    ),
)


@pytest.mark.parametrize(("english", "german"), IN_GERMAN)
def test_what_a_list_of_work_or_a_plan_froze_is_said_in_german(english, german):
    assert texts("de").sentence(english) == german
