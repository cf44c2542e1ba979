"""The fonts that ship with the papers: proved before use, and the only ones used."""

from __future__ import annotations

import hashlib
import json
import unicodedata
from bisect import bisect_right
from functools import cache
from pathlib import Path
from typing import Any

import typst

from reports.contents.written import plain
from supports.errors import FileUnusable

FOLDER = Path(__file__).parent / "fonts"


def proved(folder: Path) -> dict[str, Any]:
    """Return the manifest of a folder of fonts after holding each file against it.

    Raises
    ------
    FileUnusable
        A font is missing or is not the file that was shipped.
    """
    manifest: dict[str, Any] = json.loads((folder / "manifest.json").read_text("utf-8"))
    for name, wanted in manifest["files"].items():
        file = folder / name
        found = hashlib.sha256(file.read_bytes()).hexdigest() if file.is_file() else "no file"
        if found != wanted:
            raise FileUnusable(
                "a font of the papers is missing or changed",
                where=name,
                found=found,
                expected=wanted,
                remedy="Install the program again",
            )
    return manifest


@cache
def fonts() -> typst.Fonts:
    """Return the shipped fonts, and no other, for the typesetter."""
    proved(FOLDER)
    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FOLDER)]
    )


@cache
def _covered() -> tuple[tuple[int, ...], tuple[int, ...]]:
    ranges = proved(FOLDER)["covered"]
    return tuple(low for low, _ in ranges), tuple(high for _, high in ranges)


@cache
def printable(sign: str) -> bool:
    """Return whether a sign can be printed: a font covers it and it steers nothing."""
    if unicodedata.category(sign) in {"Cc", "Cf", "Cs", "Co", "Cn"}:
        return False
    lows, highs = _covered()
    place = bisect_right(lows, ord(sign)) - 1
    return place >= 0 and ord(sign) <= highs[place]


def safe(text: str) -> str:
    """Return text that prints: unprintable and steering signs are written as code points.

    >>> safe("PS-1\u202e024")
    'PS-1‹U+202E›024'
    """
    return "".join(sign if printable(sign) else f"‹U+{ord(sign):04X}›" for sign in plain(text))
