"""What the number format of a cell shows beside its number: ``0" lbf"`` shows 4500 as 4500 lbf.

What a person sees is what the cell says, whatever the heading says. A format may also show another
number than the one in the cell, in thousands or by conditions; that is asked about. ECMA-376 part
1, 18.8.31, has the codes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from importers.table import text_of

_PIECE = re.compile(
    r'"(?P<quoted>[^"]*)"|\\(?P<escaped>.)|\[\$(?P<money>[^\]-]*)[^\]]*\]|(?P<condition>\[[<>=][^\]]*\])'
    r"|\[[^\]]*\]|[_*].|(?P<number>General|[0#?.,%/@]|[Ee][+-])|(?P<bare>.)",
    re.DOTALL,
)
_DAYS = re.compile(r"[dmyhsDMYHS]")
_WORDS = re.compile(r"[^\W_]|[~<>?≈±°'\"″′#]")
_THOUSANDS = re.compile(r"(?<=[0#?.]),+(?![0#?.])")
_SHOWN_BARE = "~<> "
_NUMBER = "\0"
"""Stands for the number among the words of a section."""


@dataclass(frozen=True, slots=True)
class _Section:
    """One of the parts of a format, parted by semicolons: what stands before and behind."""

    before: str
    behind: str
    digits: int
    scale: float

    def text(self, number: float) -> str:
        size = abs(number) / self.scale
        whole = f"{size:.0f}".zfill(self.digits) if size.is_integer() else text_of(size)
        return f"{self.before}{'-' if number < 0.0 else ''}{whole}{self.behind}"


@dataclass(frozen=True, slots=True)
class NumberFormat:
    """How a cell shows its number, where it shows more or other than the number."""

    sections: tuple[_Section | None, ...]

    def text(self, number: float) -> str | None:
        """Return a number as the cell shows it, all its digits; None where it shows another one."""
        negative = number < 0.0 and len(self.sections) > 1
        section = self.sections[1 if negative else 0]
        return None if section is None else section.text(number)


def format_of(code: str) -> NumberFormat | None:
    """Return what a format shows beside a number; None where it shows the number alone.

    >>> format_of('#,##0.0" kN"').text(4.5), format_of("0.00"), format_of('"PS-"0000').text(7.0)
    ('4.5 kN', None, 'PS-0007')
    >>> format_of("0.0,").text(2100.0), format_of('0.0," kN"').text(2100.0)
    (None, '2.1 kN')
    """
    sections = [list(_PIECE.finditer(part)) for part in _parts(code)[:2]]
    if any(_DAYS.search(piece["bare"] or "") for part in sections for piece in part):
        return None
    conditions = any(piece["condition"] for part in sections for piece in part)
    read = tuple(_section(part) for part in sections)
    if not conditions and all(one is not None and _is_plain(one) for one in read):
        return None
    return NumberFormat((None,) if conditions else read)


def _parts(code: str) -> list[str]:
    """Return the parts of a code, parted by the semicolons that stand outside of quotes."""
    return re.findall(r'(?:"[^"]*"|\\.|[^;"\\])*', code)[: 2 * code.count(";") + 1 : 2] or [""]


def _section(pieces: list[re.Match[str]]) -> _Section | None:
    """Return a part read; None where the number is not shown, or words stand within it."""
    number = "".join(piece["number"] or "" for piece in pieces)
    if not number:
        return None
    words = "".join(map(_word, pieces))
    first, last = words.find(_NUMBER), words.rfind(_NUMBER)
    if words[first:last].strip(_NUMBER + " "):
        return None
    scaled = _THOUSANDS.search(number)
    scale = 1000.0 ** len(scaled[0]) if scaled else 1.0
    before, behind = words[:first].lstrip(), words[last + 1 :].rstrip()
    if scaled and not _WORDS.search(before + behind):
        return None
    return _Section(before, behind, number.partition(".")[0].count("0"), scale)


def _word(piece: re.Match[str]) -> str:
    if piece["number"]:
        return _NUMBER
    if bare := piece["bare"]:
        return bare if bare in _SHOWN_BARE or bare.isalpha() else ""
    return piece["quoted"] or piece["escaped"] or piece["money"] or ""


def _is_plain(section: _Section) -> bool:
    return not _WORDS.search(section.before + section.behind)
