"""The width of one column in the XML of a sheet, whatever spans of columns have theirs."""

from __future__ import annotations

import re

_COL = re.compile(rb"<(?:[\w.-]+:)?col\b[^>]*?/>")
_MIN, _MAX = re.compile(rb"\smin=[\"'](\d+)[\"']"), re.compile(rb"\smax=[\"'](\d+)[\"']")


def with_width(data: bytes, prefix: bytes, column: int, width: int) -> bytes:
    """Return the XML of a sheet in which a column, counted from 0, has a width [characters].

    A span of columns that holds it is cut, its other columns keep what they had.
    """
    number = column + 1
    wide = b'<%scol min="%d" max="%d" width="%d" customWidth="1"/>' % (
        prefix, number, number, width,
    )  # fmt: skip
    opening = b"<" + prefix + b"sheetData"
    before, rows = data.split(opening, 1)
    spans = list(_COL.finditer(before))
    if not spans:
        return before + b"<%scols>%s</%scols>" % (prefix, wide, prefix) + opening + rows
    columns = [part for span in spans for part in _without(span[0], number)]
    after = next((i for i, part in enumerate(columns) if _first(part) > number), len(columns))
    columns.insert(after, wide)
    start, end = spans[0].start(), spans[-1].end()
    return before[:start] + b"".join(columns) + before[end:] + opening + rows


def _first(span: bytes) -> int:
    found = _MIN.search(span)
    return int(found[1]) if found else 1


def _without(span: bytes, number: int) -> list[bytes]:
    """Return the parts of a span on both sides of a column."""
    last = _MAX.search(span)
    least, most = _first(span), int(last[1]) if last else _first(span)
    if not least <= number <= most:
        return [span]
    parts = ((least, number - 1), (number + 1, most))
    return [
        _MAX.sub(b' max="%d"' % end, _MIN.sub(b' min="%d"' % start, span))
        for start, end in parts
        if start <= end
    ]
