"""Closed lists of words as people type them."""

from __future__ import annotations

from enum import StrEnum
from typing import TypeVar

from supports.errors import BadInput
from supports.sentences import Sentence, joined
from supports.tags import suggestions

Words = TypeVar("Words", bound=StrEnum)


def word(words: type[Words], text: str) -> Words:
    """Return the word typed; another one is answered with the list.

    Raises
    ------
    BadInput
        The word is not in the list.
    """
    try:
        return words(text.strip().lower())
    except ValueError:
        near = suggestions(text, [str(w) for w in words])
        raise BadInput(
            Sentence("'{text}' is not known", text=text),
            expected=Sentence("one of {names}", names=joined(words)),
            remedy=Sentence("Did you mean {near}?", near=near[0]) if near else "",
        ) from None


def tag_and_position(text: str) -> tuple[str, str]:
    """Split 'PS-12/B' into tag and unit position.

    >>> tag_and_position("PS-12/B")
    ('PS-12', 'B')
    """
    tag, slash, position = text.rpartition("/")
    return (tag, position.upper()) if slash and len(position) == 1 else (text, "")


_MOST_DIGITS = 9


def counting(text: str) -> int | None:
    """Return a number that things are counted by; None for anything else.

    >>> counting("12"), counting("²"), counting("9" * 40_000)
    (12, None, None)
    """
    plain = text.isascii() and text.isdecimal() and len(text) <= _MOST_DIGITS
    return int(text) if plain else None
