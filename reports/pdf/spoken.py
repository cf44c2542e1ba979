"""What the templates print, said in the paper's language: words and known sentences."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from reports.contents.common import PaperHead
from reports.contents.unknown import unknown_said
from reports.languages import Texts

NAMES = frozenset(
    {"head", "tag", "serial", "line", "job", "change", "code", "verdict", "place", "shape"}
)
"""What is called by a name, in every paper: it is never taken for a word of the catalogue."""


def head_spoken(head: PaperHead, say: Texts) -> PaperHead:
    """Return a head with its title and its words in the language."""
    return replace(
        head,
        title=say.word(head.title),
        about=say.sentence(head.about),
        revision=say.sentence(head.revision),
        valid_until=say.sentence(head.valid_until),
    )


def spoken(value: Any, say: Texts, names: frozenset[str] = NAMES) -> Any:
    """Return data with each text that is a message of the catalogue in its language.

    Parameters
    ----------
    names
        Keys of what is called by a name and stays as it is.
    """
    if isinstance(value, str):
        return unknown_said(say.sentence(value), say)
    if isinstance(value, dict):
        if "anchor" in value:
            return {**value, "text": unknown_said(value["text"], say)}
        return {
            key: inner if _stays(key, inner, names) else spoken(inner, say, names)
            for key, inner in value.items()
        }
    return [spoken(inner, say, names) for inner in value] if isinstance(value, list) else value


_STROKES = {"none", "white", "black", "hatch", "dots", "stroke", "shape", "circle"}
"""How an item of a drawing is drawn; its words were said where it was drawn."""


def _stays(key: str, value: Any, names: frozenset[str]) -> bool:
    """Return whether a value is a name; the job of a unit has names of its own inside."""
    if key in {"fill", "kind"} and value in _STROKES:
        return True
    return key == "head" or (key in names and not isinstance(value, dict))
