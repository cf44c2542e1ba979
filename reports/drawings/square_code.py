"""A square code (ISO/IEC 18004) as a drawing."""

from __future__ import annotations

from itertools import groupby

import segno

from reports.drawings.primitives import Drawing, Fill, Item, Shape, rectangle

QUIET = 4
"""Empty squares around the code, as ISO/IEC 18004 asks for."""


def square_code(text: str) -> list[str]:
    """Return a square code as rows of 0 and 1, the quiet zone left to the paper."""
    code = segno.make(text, error="m", micro=False, boost_error=False)
    return ["".join("1" if dark else "0" for dark in row) for row in code.matrix]


def code_drawing(text: str, side: float = 22.0) -> Drawing:
    """Draw a square code with its quiet zone, `side` wide [mm]."""
    rows = square_code(text)
    step = side / (len(rows) + 2 * QUIET)
    items: list[Item] = []
    for y, row in enumerate(rows, start=QUIET):
        x = QUIET
        for dark, run in groupby(row):
            width = len(list(run))
            if dark == "1":
                corners = rectangle(x * step, y * step, (x + width) * step, (y + 1) * step)
                items.append(Shape(corners, Fill.BLACK, 0.0))
            x += width
    return Drawing(side, side, tuple(items), f"Square code: {text}")
