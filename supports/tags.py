"""Tags are text for ever: cleaning that does no harm, comparison, natural order."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from itertools import product
from math import prod

_DASHES = dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2212\ufe58\ufe63\uff0d"), "-")
_SPACES = dict.fromkeys(map(ord, "\u00a0\u2002\u2003\u2007\u2009\u202f\u3000\t\r\n"), " ")
_ZERO_WIDTH = dict.fromkeys(map(ord, "\u200b\u200c\u200d\ufeff\u00ad"), "")
_NUMBER = re.compile("[0-9]+")
_LONGEST = 250
"""Characters of a tag that decide its place; an index takes no text of any length."""
_BEHIND = "\x01"
"""What parts the order of a tag from the tag itself: it sorts before all that a tag is made of."""
_ALIKE = {"0": "0O", "1": "1IL"}
_LOOKALIKES = str.maketrans({"O": "0", "I": "1", "L": "1"})


def tidied(tag: str) -> str:
    """Return the tag with odd dashes, spaces and line breaks mended; case is kept.

    >>> tidied(" PS\u20131024 A ")
    'PS-1024 A'
    """
    plain = tag.translate(_DASHES).translate(_SPACES).translate(_ZERO_WIDTH)
    return re.sub(r" +", " ", plain).strip()


def matching_key(tag: str) -> str:
    """Return what two writings of one tag share: no spaces, dashes or case.

    >>> matching_key("ps 1024a") == matching_key("PS-1024A")
    True
    """
    return re.sub(r"[ \-_]", "", tidied(tag)).upper()


def lookalike_key(tag: str) -> str:
    """Return a key under which O/0 and I/l/1 coincide; only ever a question for a person.

    >>> lookalike_key("PS-1O24") == lookalike_key("PS-1024")
    True
    """
    return matching_key(tag).translate(_LOOKALIKES)


def lookalikes(tag: str, most: int) -> list[str]:
    """Return every matching key that looks like a tag's; none if there are more than `most`.

    >>> lookalikes("A-1", 10)
    ['A1', 'AI', 'AL']
    """
    choices = [_ALIKE.get(letter, letter) for letter in lookalike_key(tag)]
    if prod(map(len, choices)) > most:
        return []
    return ["".join(letters) for letters in product(*choices)]


def natural_key(tag: str) -> str:
    """Return a text under which PS-9 stands before PS-10, and no two tags stand level.

    Each number is preceded by a character for the count of its digits, so that plain comparison,
    here and in both databases, puts short numbers before long ones. The register stores this text;
    whoever words it otherwise writes a revision that words the stored ones anew.

    >>> natural_key("ps-10")[:6]
    'PS-210'
    >>> sorted(["PS-10", "PS-9"], key=natural_key)
    ['PS-9', 'PS-10']
    """
    ordered = _NUMBER.sub(_counted_digits, tag.upper())
    return f"{ordered[:_LONGEST]}{_BEHIND}{tag[:_LONGEST]}"


def _counted_digits(number: re.Match[str]) -> str:
    digits = number[0].lstrip("0") or "0"
    return f"{chr(ord('0') + min(len(digits), _LONGEST))}{digits}"


def suggestions(tag: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Return known tags that resemble `tag`, nearest first."""
    pool = list(known)
    wanted = lookalike_key(tag)
    same = [other for other in pool if lookalike_key(other) == wanted]
    near = difflib.get_close_matches(tag, pool, n=most, cutoff=0.7)
    return list(dict.fromkeys(same + near))[:most]
