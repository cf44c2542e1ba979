"""Lines and tables that fit the terminal they are printed on."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence

NARROWEST = 24
"""Below so many characters folding helps nobody [1]."""

_COLUMN = re.compile(r"\S {2,}(?=\S)")


def fitted(line: str, width: int) -> list[str]:
    """Return a line folded to a width; the rest hangs under the beginning of its last column.

    Parameters
    ----------
    width
        Of the terminal [characters]; 0 is no terminal, and nothing is folded.

    >>> fitted("PS-12   rigid   a line that is long", 24)
    ['PS-12   rigid   a line', '                that is', '                long']
    """
    if width < NARROWEST or len(line) <= width:
        return [line]
    starts = [found.end() for found in _COLUMN.finditer(line) if found.end() <= 2 * width // 3]
    hang = starts[-1] if starts else len(line) - len(line.lstrip()) + 2
    return textwrap.wrap(
        line, width, subsequent_indent=" " * hang, replace_whitespace=False,
        break_on_hyphens=False, drop_whitespace=True,
    )  # fmt: skip


def table(rows: Iterable[Sequence[str]], headings: Sequence[str] = ()) -> list[str]:
    """Return rows as lines, each column as wide as its widest cell and two apart.

    >>> table([("PS-1", "rigid"), ("PS-1024", "")], ("tag", "kind"))
    ['tag      kind', 'PS-1     rigid', 'PS-1024']
    """
    held = [tuple(row) for row in rows]
    if headings and held:
        held.insert(0, tuple(headings))
    widths = [max(len(cell) for cell in column) for column in zip(*held, strict=True)]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in held
    ]
