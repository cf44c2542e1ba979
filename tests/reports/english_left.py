"""English that a page in another language still holds: words that its catalogue would say."""

from __future__ import annotations

import html
import re
import sqlite3
from collections.abc import Collection, Iterable, Mapping
from functools import cache
from string import Formatter

from reports.languages import texts
from supports.database import Register

_LETTERS = re.compile(r"[^\W\d_]")
FEWEST = 8
"""Letters of a fragment that is looked for inside other text."""


def nodes_of(page: str) -> list[str]:
    """Return the pieces of text of a page of HTML, and what its boxes are called."""
    bare = re.sub(r"<(style|script|template)\b.*?</\1>", " ", page, flags=re.DOTALL)
    named = re.findall(r'\b(?:aria-label|placeholder|title|alt)="([^"]*)"', bare)
    found = [*re.split(r"<[^>]*>", bare), *named]
    return [text for one in found if (text := " ".join(html.unescape(one).split()))]


FROZEN = re.compile("audit_batch|assessment|plan|form|closeout|result")
"""Tables that hold sentences of the program itself, or what it froze."""


def entered_in(register: Register) -> set[str]:
    """Return the texts that stand in the tables of a register on SQLite, what is frozen apart."""
    with sqlite3.connect(str(register.url.database)) as kept:
        names = [n for (n,) in kept.execute("SELECT name FROM sqlite_master WHERE type='table'")]
        rows = (
            row
            for name in names
            if not FROZEN.search(name)
            for row in kept.execute(f'SELECT * FROM "{name}"')  # noqa: S608  a table of ours
        )
        return {value for row in rows for value in row if isinstance(value, str)}


def english_left(nodes: Iterable[str], language: str, held: Collection[str]) -> set[str]:
    """Return messages of which the pieces of a page are, or hold, the English words.

    Parameters
    ----------
    held
        What people wrote: it stays as it was written in any language.
    """
    whole, parts = _english(language)
    pieces = list(nodes)
    found = {one for one in pieces if one.strip(" :;.,") in whole and one not in held}
    run_on, written = "\n".join(pieces), "\n".join(held)
    return found | {one for one in parts if one in run_on and one not in written}


@cache
def _english(language: str) -> tuple[set[str], set[str]]:
    """Return messages that the language says otherwise, and the longer fragments of their words."""
    words: Mapping[str, str] = texts(language).words
    said = "\n".join(words.values())
    whole = {one.strip(" :;.,") for one, other in words.items() if one != other}
    parts = {" ".join(part.split()) for one in words for part, _, _, _ in Formatter().parse(one)}
    long = {part for part in parts if " " in part and len(_LETTERS.findall(part)) >= FEWEST}
    return whole - set(words.values()), {part for part in long if part not in said}
