"""Colours for the column of findings: cell styles added to those that a workbook has.

The words say all of it; the colours only lead the eye.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from supports.findings import Severity

COLOURS = {
    Severity.STOP: "F8CBAD",
    Severity.ACT: "FFE0A3",
    Severity.LOOK: "FFF4C2",
    Severity.NOTE: "E7EBEF",
}
"""Fill of a cell by the gravest of its findings, as RRGGBB; dark text is legible on each."""

_ROOT = re.compile(rb"<([\w.-]+:)?styleSheet\b")
_COUNT = re.compile(rb"\scount=[\"']\d+[\"']")

Styles = Mapping[Severity, int]
"""Number of the cell style by the gravest finding."""


def with_colours(data: bytes) -> tuple[bytes, Styles]:
    """Return the XML of a workbook's styles with those of the findings, and their numbers.

    A workbook without fills or cell styles of its own is left as it is, without colours.
    """
    root = _ROOT.search(data)
    prefix = (root[1] or b"") if root else b""
    fills, styles = _part(data, prefix + b"fills"), _part(data, prefix + b"cellXfs")
    if fills is None or styles is None:
        return data, {}
    first_fill = len(re.findall(b"<" + prefix + rb"fill\b", fills[0]))
    first_style = len(re.findall(b"<" + prefix + rb"xf\b", styles[0]))
    new_fills = b"".join(_fill(prefix, colour) for colour in COLOURS.values())
    new_styles = b"".join(_style(prefix, first_fill + i) for i in range(len(COLOURS)))
    data = _added(data, styles, new_styles, first_style + len(COLOURS))
    fills = _part(data, prefix + b"fills") or fills
    data = _added(data, fills, new_fills, first_fill + len(COLOURS))
    return data, {severity: first_style + i for i, severity in enumerate(COLOURS)}


_Part = tuple[bytes, int, int]


def _part(data: bytes, name: bytes) -> _Part | None:
    """Return an element without its closing tag, and where that part begins and ends."""
    found = re.search(b"<" + name + rb"\b[^>]*[^/]>.*?(?=</" + name + b">)", data, re.DOTALL)
    return (found[0], found.start(), found.end()) if found else None


def _added(data: bytes, part: _Part, new: bytes, count: int) -> bytes:
    old, start, end = part
    tag, closing, inside = old.partition(b">")
    tag = _COUNT.sub(b"", tag) + b' count="%d"' % count
    return data[:start] + tag + closing + inside + new + data[end:]


def _fill(prefix: bytes, colour: str) -> bytes:
    return (
        b'<%sfill><%spatternFill patternType="solid"><%sfgColor rgb="FF%s"/>'
        b'<%sbgColor indexed="64"/></%spatternFill></%sfill>'
    ) % (prefix, prefix, prefix, colour.encode(), prefix, prefix, prefix)


def _style(prefix: bytes, fill: int) -> bytes:
    return (
        b'<%sxf numFmtId="49" fontId="0" fillId="%d" borderId="0" xfId="0" applyFill="1" '
        b'applyAlignment="1"><%salignment vertical="top" wrapText="1"/></%sxf>'
    ) % (prefix, fill, prefix, prefix)
