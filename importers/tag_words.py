"""What is written in tag cells beside a tag: two units at once, ranges, old tags, placeholders."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator

from importers.faults import LONGEST_VALUE, Fault
from supports import tags
from supports.findings import Severity
from supports.sentences import Sentence

_DITTO = re.compile(
    r"ditto|do\.|idem|dto\.?|as above|same as (?:above|before)|-*\s*(?:[\"“”„″〃]|'')\s*-*",
    re.IGNORECASE,
)
_SAME_AS = re.compile(r"same as\s+\S.*|see\s+\S.*|as\s+[A-Z]*-?\d+\S*", re.IGNORECASE)
_PLACEHOLDERS = {
    *("new", "tba", "tbd", "tbc", "by others", "none", "unknown", "no tag", "n/a", "-", "--"),
    *("?", "??", "xxx", "x", "not tagged", "missing"),
}
_TWO_UNITS = re.compile(r".*\d\s*([A-Z])\s*[/&+,]\s*([A-Z])", re.IGNORECASE)
_TWO_TAGS = re.compile(
    r"\S*\d\S*(?:\s*[&+,;]\s*|\s+/\s+)\S*\d\S*|[A-Z]+\S*\d/[A-Z]+-?\d\S*"
    r"|([A-Za-z]+)-?\d\S*\s+\1-?\d\S*"
)
_RANGE = re.compile(r".*\d\S*\s*(?:\bthru\b|\bthrough\b|\bto\b|\.\.+|…)\s*\S*\d\S*", re.IGNORECASE)
_OLD = re.compile(
    r"(.*\S)\s*\(?\s*\b(?:old|ex|was|formerly|former)\b[\s:.]*(\S+?)\)?", re.IGNORECASE
)
_SCIENTIFIC = re.compile(r"\d(?:[.,]\d+)?E\+\d+", re.IGNORECASE)
MONTHS = "jan|feb|mar|mrz|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez"
_LIKE_A_DATE = re.compile(rf"\d{{1,2}}[-. ]{{1,2}}(?:{MONTHS})[a-z]*\.?", re.IGNORECASE)
_LETTER_AMONG_DIGITS = re.compile(r"(?<=\d)[OIl](?=\d)|(?<=-)[OIl](?=\d)")
_ORDINARY = re.compile(r"[A-Za-z]{1,6}-?\d{1,9}[A-Za-z]?")
_FOOTNOTE = re.compile(r"(.*[^\s*†‡])\s*[*†‡]+")
_TOTAL = re.compile(
    r"(?:sub|grand|zwischen|gesamt)?[\s-]*(?:total|sum|summe|somme)s?\b.*"
    r"|(?:gesamt|average|mean|mittelwert|durchschnitt|moyenne|anzahl|count)\b\D*",
    re.IGNORECASE,
)
_FOOTER = re.compile(r"(?:page|seite|sheet|blatt)\s+\d+\b.*", re.IGNORECASE)
_WORD = re.compile(r"(?<![^\W_-])[^\W\d_]{2,}(?![\w-])")
_IN_WORDS = "tag-without-number"
_LATIN = ("LATIN", "FULLWIDTH LATIN")
_LONGEST_LETTERS = 4
"""A name of letters alone is hardly longer. Our own choice."""


def is_ditto(text: str) -> bool:
    """Return whether a cell says that the cell above holds here too.

    >>> is_ditto('"'), is_ditto("as above"), is_ditto("PS-1")
    (True, True, False)
    """
    return _DITTO.fullmatch(tags.tidied(text)) is not None


def ditto_fault(above: str) -> Fault:
    """Return the question that a ditto mark is."""
    return Fault(
        "ditto",
        "the cell points to another cell instead of saying its value",
        Sentence("perhaps '{above}', as above", above=above) if above else "the value itself",
        "Type the value into the cell",
    )


def is_total(text: str) -> bool:
    """Return whether a cell opens a row of totals."""
    return not is_ordinary(text.strip()) and _TOTAL.fullmatch(text.strip()) is not None


def doubt_of_name(name: str) -> Fault | None:
    """Return what is wrong with the name of anything, or None."""
    if is_ditto(name) or _SAME_AS.fullmatch(name):
        return ditto_fault("")
    if name.casefold().strip(" .") in _PLACEHOLDERS:
        what = "the cell holds a placeholder, not a name"
        return Fault("tag-placeholder", what, remedy="Give the name, or leave the row out")
    if _SCIENTIFIC.fullmatch(name):
        what = "the program has turned the name into a number in scientific form"
        return Fault("tag-changed-by-program", what, "a name such as 1E24")
    if _LIKE_A_DATE.fullmatch(name):
        what = "the program has turned the name into a date"
        return Fault("tag-changed-by-program", what, "a name such as 12-3")
    return None


def is_ordinary(tag: str) -> bool:
    """Return whether a tag is letters and a number, of which there is nothing to be said."""
    return _ORDINARY.fullmatch(tag) is not None


def doubt_of_tag(tag: str) -> Fault | None:
    """Return what is wrong with a support tag, or None; a STOP means that it is not taken."""
    if is_ordinary(tag):
        return None
    doubts = (doubt_of_name, _two_things, _beside, _lookalike, _of_two_alphabets, _in_words)
    return next((doubt for look in doubts if (doubt := look(tag))), None)


def _two_things(tag: str) -> Fault | None:
    if match := _TWO_UNITS.fullmatch(tag):
        return Fault(
            "two-units-in-tag",
            Sentence(
                "the cell names units {one} and {other} of one support",
                one=match[1],
                other=match[2],
            ),
            "one tag, and the unit in the column 'Unit position'",
            "Write one row for each unit",
        )
    if _RANGE.fullmatch(tag):
        return Fault("tag-range", "the cell names a range of tags", "one tag", "One row for each")
    if _TWO_TAGS.fullmatch(tag):
        return Fault("two-tags-in-cell", "the cell names several tags", "one tag", "One row each")
    return None


def _beside(tag: str) -> Fault | None:
    if match := _OLD.fullmatch(tag):
        return Fault(
            "former-tag-in-cell",
            "the cell names a former tag beside the tag",
            Sentence(
                "'{tag}' here and '{former}' in the column 'Former tag'",
                tag=match[1].rstrip("( "),
                former=match[2],
            ),
        )
    if match := _FOOTNOTE.fullmatch(tag):
        return Fault(
            "footnote-mark",
            "a mark stands behind the tag",
            Sentence("perhaps '{tag}', with the remark in the column 'Note'", tag=match[1]),
        )
    return None


def _lookalike(tag: str) -> Fault | None:
    if not _LETTER_AMONG_DIGITS.search(tag):
        return None
    digits = _LETTER_AMONG_DIGITS.sub(lambda m: "0" if m[0] == "O" else "1", tag)
    return Fault(
        "tag-lookalike",
        "a letter O, I or l stands among digits; the tag was taken as it is",
        Sentence("perhaps '{name}'", name=digits),
        "Check the drawing; nothing is joined on such a likeness without a person",
        Severity.LOOK,
    )


def _of_two_alphabets(tag: str) -> Fault | None:
    """Return a question where a letter of another alphabet stands among Latin ones."""
    if tag.isascii():
        return None
    letters = [(letter, unicodedata.name(letter, "")) for letter in tag if letter.isalpha()]
    foreign = [name.lower() for _, name in letters if not name.startswith(_LATIN)]
    if not foreign or len(foreign) == len(letters):
        return None
    return Fault(
        "tag-lookalike",
        Sentence(
            "a letter of another alphabet stands in the tag ({name}); the tag was taken as it is",
            name=foreign[0],
        ),
        "letters of one alphabet",
        "Type the tag anew; nothing is joined on such a likeness without a person",
        Severity.LOOK,
    )


def _reads_like_words(text: str) -> bool:
    """Return whether a text is more likely a title, a remark or a footer than a name.

    >>> _reads_like_words("Area 2 - turbine hall"), _reads_like_words("Stand: 12.03.2009")
    (True, True)
    >>> _reads_like_words("PS-1024 REV 2"), _reads_like_words("Hanger 12"), _reads_like_words("A")
    (False, False, False)
    """
    if is_ordinary(text):
        return False
    without_number = len(text) > _LONGEST_LETTERS and not any(map(str.isdecimal, text))
    return (
        without_number
        or ": " in text
        or len(_WORD.findall(text)) > 1
        or _FOOTER.fullmatch(text) is not None
    )


def is_in_words(text: str) -> bool:
    """Return whether words stand where a tag should, and nothing else is to be said of them."""
    doubt = doubt_of_tag(text) if len(text) <= LONGEST_VALUE else None
    return doubt is not None and doubt.code == _IN_WORDS


def _in_words(tag: str) -> Fault | None:
    if not _reads_like_words(tag):
        return None
    what = "this reads like a title or a remark; it was taken for a tag"
    return Fault(_IN_WORDS, what, "a support tag", severity=Severity.LOOK)


def alike(found: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield pairs of different tags that differ only in case, dashes, spaces, or O/0 and I/1."""
    first: dict[str, str] = {}
    for tag in dict.fromkeys(found):
        other = first.setdefault(tags.lookalike_key(tag), tag)
        if other != tag:
            yield other, tag
