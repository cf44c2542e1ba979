"""Sentences that keep the pattern they were made from, so that each reader's language says them.

Wherever text is wanted a sentence is its English words: stored, in JSON, in a fingerprint.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from string import Formatter
from typing import Any, Self

Value = str | tuple[str, ...]
"""What fills a place of a pattern: words, or several of them in a row."""


class Sentence(str):
    """A pattern with its places filled.

    >>> said = Sentence("{tag}: no {what}", tag="PS-1", what=("load", "rate"))
    >>> said, said.pattern
    ('PS-1: no load, rate', '{tag}: no {what}')
    """

    __slots__ = ("pattern", "values")

    pattern: str
    values: dict[str, Value]

    def __new__(cls, pattern: str, /, **values: Value) -> Self:
        """Fill the places of a pattern, which are names in braces without a format."""
        made = super().__new__(cls, pattern.format_map({n: in_a_row(v) for n, v in values.items()}))
        made.pattern, made.values = pattern, values
        return made

    def __reduce__(self) -> tuple[Callable[..., Sentence], tuple[str, dict[str, Value]]]:
        """Go to another process, or into a copy, with the pattern and its values."""
        return _made_again, (self.pattern, self.values)


def _made_again(pattern: str, values: dict[str, Value]) -> Sentence:
    return Sentence(pattern, **values)


def in_a_row(value: Value) -> str:
    """Return words as they are, several with commas between them."""
    return value if isinstance(value, str) else ", ".join(value)


def filled(template: str, words: Mapping[str, Any]) -> Sentence:
    """Return a sentence from a template whose places say how their words are to be written.

    >>> filled("{share:+} away", {"share": 3, "more": 5}).values
    {'share': '+3'}
    """
    values = {
        name: _as_asked(words[name], form or "")
        for _, name, form, _ in Formatter().parse(template)
        if name
    }
    return Sentence(plain_places(template), **values)


def joined(parts: Iterable[str], between: str = "; ") -> Sentence:
    """Return several sentences as one, each of which stays what it is.

    >>> joined(["set by hand", Sentence("row {row}", row="7")], ", ")
    'set by hand, row 7'
    """
    named = {f"part{number}": part for number, part in enumerate(parts, 1)}
    return Sentence(between.join(f"{{{name}}}" for name in named), **named)


def either(words: Iterable[str]) -> str:
    """Return words of which one will do, each of which stays what it is.

    >>> either(["planner", "coordinator"])
    'planner or coordinator'
    """
    first, *others = [*words] or [""]
    for other in others:
        first = Sentence("{one} or {other}", one=first, other=other)
    return first


def _as_asked(word: Any, form: str) -> str:
    """Return a word in the form asked for; a sentence that nothing is asked of stays one."""
    return word if isinstance(word, Sentence) and not form else format(word, form)


_TYPED = re.compile(r"(\bor)?( with)?: supports [a-z-]+.*$", re.DOTALL)
_OPTION = re.compile(r"(^|[\s(])--[a-z]")


def without_commands(text: str) -> str:
    """Return what is said without what is typed in a terminal for it.

    >>> without_commands("Ask one of those, or be named as deputy: supports people deputy")
    'Ask one of those, or be named as deputy'
    >>> without_commands(Sentence("{tag}: bring it in with: supports sheets import", tag="PS-1"))
    'PS-1: bring it in'
    >>> without_commands("Say it with --reason"), without_commands("See: supports rules handbook")
    ('', '')
    """
    if isinstance(text, Sentence):
        left, values = without_commands(text.pattern), text.values
        return Sentence(left, **{name: _untyped(one) for name, one in values.items()})
    left = _TYPED.sub("", text).rstrip(" ,;") if _TYPED.search(text) else text
    says_nothing = left != text and (" " not in left or left.startswith("See "))
    return "" if says_nothing or _OPTION.search(left) else left


def _untyped(value: Value) -> Value:
    return without_commands(value) if isinstance(value, Sentence) else value


def has_words(template: str) -> bool:
    """Return whether a template has words of its own beside its places.

    >>> has_words("{load} outside"), has_words("|{load} - {other}| / {other}")
    (True, False)
    """
    texts = (text for text, _, _, _ in Formatter().parse(template))
    return any(re.search(r"[^\W\d_]{2}", text) for text in texts)


def plain_places(template: str) -> str:
    """Return a template without the formats of its places.

    >>> plain_places("required {required} is {share:+} away")
    'required {required} is {share} away'
    """
    return "".join(
        text + (f"{{{name}}}" if name else "") for text, name, _, _ in Formatter().parse(template)
    )
