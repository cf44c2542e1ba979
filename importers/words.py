"""Cells of text: names, free text, closed lists of words and whole numbers."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Callable, Mapping
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from functools import cache

from importers.faults import Fault, Outcome
from importers.table import Raw, text_of
from importers.tag_words import ditto_fault, doubt_of_name, doubt_of_tag, is_ditto, is_ordinary
from importers.type_words import read_type_word
from supports import tags
from supports.findings import Severity
from supports.sentences import Sentence, joined
from supports.vocabulary import Known, SupportKind

_WHOLE = re.compile(r"[-+]?\d{1,15}(?:\.0*)?")
_MOST_WHOLE = 2**31 - 1
"""What both databases hold; nothing that is counted comes near it."""


def read_tag(raw: Raw) -> Outcome:
    """Read a support tag."""
    if type(raw) is str and raw.isascii() and is_ordinary(raw):
        return Outcome(raw)
    return _read_named(raw, doubt_of_tag)


def read_name(raw: Raw) -> Outcome:
    """Read the name of something else."""
    return _read_named(raw, doubt_of_name)


def _read_named(raw: Raw, doubt_of: Callable[[str], Fault | None]) -> Outcome:
    """Read a name: text for ever, only odd dashes and spaces are mended."""
    if isinstance(raw, date | datetime | time | timedelta):
        return Outcome(None, _not_a_name("a date", "a tag such as 12-3 that the program changed?"))
    if not isinstance(raw, str):
        return Outcome(None, _not_a_name("a number", "a tag that has lost its leading zeros?"))
    name = raw if _is_tidy(raw) else tags.tidied(raw)
    if name and (doubt := doubt_of(name)):
        return Outcome(None if doubt.severity is Severity.STOP else name, doubt)
    if name in {raw.strip(" "), ""}:
        return Outcome(name or None)
    mended = Sentence("odd dashes or spaces were mended; read as '{name}'", name=name)
    return Outcome(name, Fault("tag-cleaned", mended, severity=Severity.NOTE))


def _is_tidy(text: str) -> bool:
    """Return whether nothing needs mending, which is quickly seen of most names."""
    return text.isascii() and text.isprintable() and text == text.strip() and "  " not in text


def _not_a_name(kind: str, doubt: str) -> Fault:
    return Fault(
        "number-in-tag-cell",
        Sentence(
            "the cell holds {kind} where a name should stand: {doubt}", kind=kind, doubt=doubt
        ),
        "text",
        "Format the column as text and type the name as it is on the drawing",
    )


def read_text(raw: Raw) -> Outcome:
    """Read free text; a number is taken as it shows, with a note."""
    if isinstance(raw, str):
        text = raw.strip()
        return Outcome(None, ditto_fault("")) if is_ditto(text) else Outcome(text)
    note = "the cell holds a number or a date where text should stand; taken as text"
    return Outcome(text_of(raw), Fault("number-as-text", note, severity=Severity.NOTE))


def read_whole(raw: Raw) -> Outcome:
    """Read a whole number."""
    if isinstance(raw, bool | date | time | timedelta):
        return Outcome(None, _not_whole())
    if isinstance(raw, str):
        text = raw.strip()
        raw = float(text) if _WHOLE.fullmatch(text) else math.nan
    if abs(raw) > _MOST_WHOLE:
        return Outcome(None, _too_large())
    is_whole = math.isfinite(raw) and raw == int(raw)
    return Outcome(int(raw)) if is_whole else Outcome(None, _not_whole())


def _not_whole() -> Fault:
    return Fault("not-a-whole-number", "this is not a whole number", "a number such as 3")


def _too_large() -> Fault:
    return Fault("not-a-whole-number", "the number is too large to be one", "a number such as 3")


def plain_word(text: str) -> str:
    """Return a word without case, punctuation and double spaces."""
    return " ".join(re.sub(r"[\W_]+", " ", text.casefold()).split())


@cache
def _accepted(words: type[StrEnum]) -> Mapping[str, StrEnum]:
    table = {plain_word(word.value): word for word in words}
    if words is Known:
        table |= {"y": Known.YES, "n": Known.NO}
    return table


def read_word(raw: Raw, words: type[StrEnum]) -> Outcome:
    """Read a word of a closed list; anything else is a fault with the nearest word."""
    text = text_of(raw)
    accepted = _accepted(words)
    if "?" not in text and (word := accepted.get(plain_word(text))):
        return Outcome(word.value)
    if words is SupportKind and (meant := read_type_word(text)):
        return meant
    if is_ditto(text):
        return Outcome(None, ditto_fault(""))
    near = difflib.get_close_matches(plain_word(text), list(accepted), n=1, cutoff=0.6)
    return Outcome(
        None,
        Fault(
            "word-not-known",
            "the word is not on the list",
            Sentence("one of {names}", names=joined((word.value for word in words), ", ")),
            Sentence("Is '{value}' meant?", value=accepted[near[0]].value) if near else "",
        ),
    )
