"""Support types as plants write them; most short forms could be two things and are asked.

The synonyms and the short forms are common practice, no source.
"""

from __future__ import annotations

import re

from importers.faults import Fault, Outcome
from supports.sentences import Sentence
from supports.vocabulary import SupportKind as Kind

_SYNONYMS = {
    "constant load hanger": Kind.CONSTANT_HANGER,
    "constant spring hanger": Kind.CONSTANT_HANGER,
    "constant effort hanger": Kind.CONSTANT_HANGER,
    "variable spring hanger": Kind.VARIABLE_HANGER,
    "variable load hanger": Kind.VARIABLE_HANGER,
    "rod hanger": Kind.RIGID_ROD,
    "rigid hanger": Kind.RIGID_ROD,
    "sliding rest": Kind.REST,
    "axial stop": Kind.LINE_STOP,
    "snubber": Kind.SHOCK_ARRESTOR,
}

_CONSTANT = (Kind.CONSTANT_HANGER, Kind.CONSTANT_REST)
_VARIABLE = (Kind.VARIABLE_HANGER, Kind.VARIABLE_REST)
_RIGID = (Kind.RIGID_ROD, Kind.RIGID_STRUT)

_DOUBTFUL: dict[str, tuple[Kind | str, ...]] = {
    "ch": (Kind.CONSTANT_HANGER,),
    "cs": (*_CONSTANT, "cold spring", "carbon steel"),
    "c": (*_CONSTANT, "cold spring", "carbon steel"),
    "constant": _CONSTANT,
    "constant support": _CONSTANT,
    "constant spring": _CONSTANT,
    "sh": (*_VARIABLE, Kind.CONSTANT_HANGER),
    "vh": (Kind.VARIABLE_HANGER,),
    "vs": _VARIABLE,
    "v": _VARIABLE,
    "variable": _VARIABLE,
    "variable spring": _VARIABLE,
    "spg": (*_VARIABLE, *_CONSTANT),
    "spring": (*_VARIABLE, *_CONSTANT),
    "spring hanger": (Kind.VARIABLE_HANGER, Kind.CONSTANT_HANGER),
    "spring support": (*_VARIABLE, *_CONSTANT),
    "hanger": (Kind.RIGID_ROD, Kind.VARIABLE_HANGER, Kind.CONSTANT_HANGER),
    "h": (Kind.RIGID_ROD, Kind.VARIABLE_HANGER, Kind.CONSTANT_HANGER),
    "r": (Kind.REST, *_RIGID, Kind.ROLLER),
    "rh": (Kind.RIGID_ROD, "riser hanger"),
    "rigid": (*_RIGID, Kind.REST),
    "rod": (Kind.RIGID_ROD,),
    "strut": (Kind.RIGID_STRUT,),
    "shoe": (Kind.REST, Kind.GUIDE),
    "support": (Kind.REST, *_RIGID),
    "g": (Kind.GUIDE,),
    "gd": (Kind.GUIDE,),
    "ls": (Kind.LINE_STOP,),
    "stop": (Kind.LINE_STOP, "travel stop of a spring"),
    "a": (Kind.ANCHOR,),
    "anc": (Kind.ANCHOR,),
    "ss": (Kind.SHOCK_ARRESTOR, "stainless steel", "spring support"),
    "sb": (Kind.SWAY_BRACE,),
    "temp": ("temporary", "temperature"),
}

_ARRANGEMENT = re.compile(r"trapeze|riser pair", re.IGNORECASE)
_STATUS = re.compile(r"removed|spare|planned|not found|deleted|temporary", re.IGNORECASE)
_SEVERAL = re.compile(r"[^\W\d][\w ]*\s*[+/&,]\s*[^\W\d][\w ]*")
_SAME_AS = re.compile(r"(?:same as|as|see)\s+\S*\d\S*", re.IGNORECASE)
_CODE_PART = r"(?:[A-Z]{1,4}|[\w/.-]*\d[\w/.-]*)"
_CATALOGUE = re.compile(rf"(?=.*\d)(?=.*[A-Za-z])(?:[\w/.-]+|{_CODE_PART}(?: {_CODE_PART})+)")


def read_type_word(text: str) -> Outcome | None:
    """Return what a word off the list means, or the question it is; None if nothing fits."""
    word = " ".join(re.sub(r"[\W_]+", " ", text.casefold()).split())
    if known := _SYNONYMS.get(word):
        return Outcome(known.value)
    if word in _DOUBTFUL and "?" not in text:
        return Outcome(
            None,
            _ask(
                "type-ambiguous",
                "a short or general word that may mean several things",
                _names(word),
            ),
        )
    for pattern, code, what, expected in _QUESTIONS:
        if pattern.fullmatch(text.strip()) or (code in _ANYWHERE and pattern.search(text)):
            return Outcome(None, _ask(code, what, expected))
    return None


def _names(word: str) -> str:
    meanings = [str(meaning) for meaning in _DOUBTFUL[word]]
    return Sentence(
        "one of {meanings}, written out" if meanings[1:] else "perhaps {meanings}, written out",
        meanings=tuple(meanings),
    )


_ANYWHERE = {"type-is-arrangement", "type-is-status", "value-uncertain"}
_QUESTIONS = (
    (re.compile(r"\?"), "value-uncertain", "the type is marked as uncertain", "the type alone"),
    (
        _ARRANGEMENT,
        "type-is-arrangement",
        "this is an arrangement that hides the type of its units",
        "the type here, and the arrangement in the column 'Arrangement'",
    ),
    (
        _STATUS,
        "type-is-status",
        "this is a status, not a type",
        "the type here, and the status in the column 'In service'",
    ),
    (
        _SAME_AS,
        "ditto",
        "the cell points to another support instead of saying its type",
        "the type itself",
    ),
    (
        _SEVERAL,
        "several-types",
        "the cell names several types",
        "the type that carries the load, and the rest in the column 'Function'",
    ),
    (
        _CATALOGUE,
        "type-is-a-code",
        "this looks like a maker's code, not a type",
        "the type in words, and the code in the column 'Series'",
    ),
)


def _ask(code: str, what: str, expected: str) -> Fault:
    return Fault(code, what, expected, "Write the type out in full words")
