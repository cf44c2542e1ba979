"""What formats say of cells: struck-through text, percentages, days that move."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from xml.etree import ElementTree as ET

from importers.byte_search import Searched
from importers.number_formats import NumberFormat, format_of
from importers.table import column_index

_REFERENCE = re.compile(rb"\sr=[\"']([A-Z]{1,3})(\d+)[\"']")
_VALUE = re.compile(rb"<(?:[\w.-]+:)?v[^>]*>(\d+)<")
_MOST_DIGITS = 9
_BUILT_IN_PERCENTS = {9, 10}
"""Number formats 0 % and 0.00 % of ECMA-376 part 1, 18.8.30."""
_SHARED_FORMULA = re.compile(rb"<(?:[\w.-]+:)?f\b[^>]*\ssi=\"(\d+)\"")
_FORMULA = re.compile(rb"<(?:[\w.-]+:)?f\b[^>]*>([^<]*)<")
_EMPTY_TEXT = b't="str"'
_IN_TAG = (b"s=", b"t=")
_BEHIND_NAME = b" \t\r\n/"
"""What may follow the name of an element that closes itself."""
_RUN = re.compile(rb"<(?:[\w.-]+:)?r>(.*?)</(?:[\w.-]+:)?r>", re.DOTALL)
_TEXT = re.compile(rb"<(?:[\w.-]+:)?t\b[^>]*>([^<]*)<")
_STRUCK = re.compile(rb"<(?:[\w.-]+:)?strike(?![^>]*val=\"(?:0|false))")
_CLOCKS = (b"TODAY(", b"NOW(")
_STRINGS_STRUCK = re.compile(rb"<(?:[\w.-]+:)?strike\b")

_RGB = re.compile(r"[0-9A-Fa-f]{2}" + 3 * r"([0-9A-Fa-f]{2})")
_BRIGHT = 80
"""Between the strongest and the weakest of red, green and blue, of 255. Our own choice."""
_FIRST_ACCENT = 4
"""Colours of a theme before this one are its black, white and greys: ECMA-376 part 1, 20.1.6.2."""
_INDEXED_COLOURS = {*range(2, 8), *range(10, 16)}
"""Red, green, blue, yellow, magenta and cyan, twice: ECMA-376 part 1, 18.8.27."""
_MOST_MARKED = 2_000
"""A colour on more cells than this is how the sheet looks, not a mark. Our own choice."""

Address = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Styles:
    """Cell styles that matter here, by their number, and shared texts with struck parts."""

    struck: frozenset[int] = frozenset()
    percent: frozenset[int] = frozenset()
    texts: Mapping[int, str] = field(default_factory=dict)
    coloured: frozenset[int] = frozenset()
    shown: Mapping[int, NumberFormat] = field(default_factory=dict)
    """Formats that show more or other than the number of the cell."""


@dataclass(frozen=True, slots=True)
class CellMarks:
    """Cells that a format or a formula marks, by (row, column) counted from 0."""

    struck: Mapping[Address, str] = field(default_factory=dict)
    percent: frozenset[Address] = frozenset()
    moving: frozenset[Address] = frozenset()
    coloured: frozenset[Address] = frozenset()
    uncounted: Mapping[Address, str] = field(default_factory=dict)
    """Formulas that no program has worked out yet."""
    shown: Mapping[Address, NumberFormat] = field(default_factory=dict)


def read_styles(styles: ET.Element | None, strings: ET.Element | None) -> Styles:
    """Return which cell styles strike through or show percentages, and which texts are struck."""
    texts = dict(_struck_texts(strings)) if strings is not None else {}
    if styles is None:
        return Styles(texts=texts)
    fonts = [_is_on(font.find("strike")) for font in _children(styles, "fonts")]
    formats = {
        _index(item, "numFmtId"): item.get("formatCode", "")
        for item in _children(styles, "numFmts")
    }
    bright = [_is_bright(font.find("color")) for font in _children(styles, "fonts")]
    filled = [_is_bright(fill.find("patternFill/fgColor")) for fill in _children(styles, "fills")]
    cells = list(_children(styles, "cellXfs"))
    return Styles(
        frozenset(i for i, xf in enumerate(cells) if _flag(fonts, _index(xf, "fontId"))),
        frozenset(i for i, xf in enumerate(cells) if _is_percent(xf, formats)),
        texts,
        frozenset(
            i
            for i, xf in enumerate(cells)
            if _flag(bright, _index(xf, "fontId")) or _flag(filled, _index(xf, "fillId"))
        ),
        dict(_shown(cells, formats)),
    )


def _shown(
    cells: list[ET.Element], formats: Mapping[int, str]
) -> Iterator[tuple[int, NumberFormat]]:
    """Yield the cell styles whose format shows more or other than the number."""
    known = {number: format_of(code) for number, code in formats.items() if "%" not in code}
    for i, xf in enumerate(cells):
        if form := known.get(_index(xf, "numFmtId")):
            yield i, form


def _is_bright(colour: ET.Element | None) -> bool:
    """Return whether a colour stands out: no black, white or grey."""
    if colour is None:
        return False
    if rgb := _RGB.fullmatch(colour.get("rgb", "")):
        parts = [int(part, 16) for part in rgb.groups()]
        return max(parts) - min(parts) >= _BRIGHT
    if "theme" in colour.attrib:
        return _index(colour, "theme") >= _FIRST_ACCENT
    return _index(colour, "indexed") in _INDEXED_COLOURS


def may_be_struck(strings: bytes) -> bool:
    """Return whether shared texts hold a struck part anywhere, before they are parsed."""
    return _STRINGS_STRUCK.search(strings) is not None


def _children(root: ET.Element, name: str) -> Iterator[ET.Element]:
    parent = root.find(name)
    return iter(parent if parent is not None else ())


def _is_on(element: ET.Element | None) -> bool:
    return element is not None and element.get("val", "1") not in {"0", "false"}


def _index(element: ET.Element, name: str) -> int:
    """Return which of a list an element points at; the first, which is plain, for no number."""
    stated = element.get(name, "")
    return int(stated) if stated.isdecimal() and len(stated) <= _MOST_DIGITS else 0


def _flag(flags: list[bool], index: int) -> bool:
    return index < len(flags) and flags[index]


def _is_percent(xf: ET.Element, formats: Mapping[int, str]) -> bool:
    number = _index(xf, "numFmtId")
    return number in _BUILT_IN_PERCENTS or "%" in formats.get(number, "")


def _struck_texts(strings: ET.Element) -> Iterator[tuple[int, str]]:
    """Yield shared texts with struck runs, the struck parts between ~~."""
    for index, item in enumerate(strings.iter("si")):
        runs = [(run.findtext("t", ""), _is_on(run.find("rPr/strike"))) for run in item.iter("r")]
        if any(struck for _, struck in runs):
            yield index, "".join(f"~~{text}~~" if struck else text for text, struck in runs)


def read_marks(data: Searched, prefix: bytes, styles: Styles) -> CellMarks:
    """Search the XML of a sheet for the cells that carry marks."""
    has_formulas = data.holds(b"<" + prefix + b"f")
    struck = {
        address: ""
        for number in styles.struck
        for address, _ in _cells_with(data, prefix, b's="%d"' % number)
    }
    struck |= dict(_struck_inline(data, prefix))
    if styles.texts:
        found = _shared(data, prefix)
        struck |= {address: styles.texts[n] for address, n in found if n in styles.texts}
    return CellMarks(
        struck,
        frozenset(
            address
            for number in styles.percent
            for address, _ in _cells_with(data, prefix, b's="%d"' % number)
        ),
        frozenset(_moving(data, prefix) if has_formulas else ()),
        frozenset(
            address
            for number in styles.coloured
            if data.count(b's="%d"' % number) <= _MOST_MARKED
            for address, _ in _cells_with(data, prefix, b's="%d"' % number)
        ),
        dict(_uncounted(data, prefix)) if has_formulas else {},
        {
            address: form
            for number, form in styles.shown.items()
            for address, _ in _cells_with(data, prefix, b's="%d"' % number)
        },
    )


def _uncounted(data: Searched, prefix: bytes) -> Iterator[tuple[Address, str]]:
    """Yield cells with a formula and no value; an empty text is a value."""
    xml = data.data
    ending = re.compile(rb"(?:<%bv\s*/>|<%bv></%bv>)?</%bc>" % ((prefix,) * 4))
    for behind in _behind_formulas(data, prefix):
        if not ending.match(xml, behind):
            continue
        cell = xml[xml.rfind(b"<" + prefix + b"c ", 0, behind) : behind]
        tag = cell[: cell.find(b">")]
        where, formula = _REFERENCE.search(tag), _FORMULA.search(cell)
        if where and _EMPTY_TEXT not in tag:
            text = html.unescape(formula[1].decode()) if formula else ""
            yield (int(where[2]) - 1, column_index(where[1].decode())), f"={text}"


def _behind_formulas(data: Searched, prefix: bytes) -> Iterator[int]:
    """Yield where each formula has ended, those of one element without contents at last."""
    closing = b"</" + prefix + b"f>"
    yield from (at + len(closing) for at in data.places(closing))
    for at in data.places(b"<" + prefix + b"f"):
        end = data.data.find(b">", at)
        if data.data[end - 1 : end] == b"/" and data.data[at + len(prefix) + 2] in _BEHIND_NAME:
            yield end + 1


def _struck_inline(data: Searched, prefix: bytes) -> Iterator[tuple[Address, str]]:
    """Yield cells that hold their own text in runs, some of them struck."""
    for address, cell in _cells_with(data, prefix, b"strike"):
        runs = [(_TEXT.search(run), _STRUCK.search(run) is not None) for run in _RUN.findall(cell)]
        pieces = [(html.unescape(text[1].decode()), struck) for text, struck in runs if text]
        if any(struck for _, struck in pieces):
            yield address, "".join(f"~~{text}~~" if struck else text for text, struck in pieces)


def _moving(data: Searched, prefix: bytes) -> Iterator[Address]:
    """Yield the cells whose formula asks for today, also where a formula is shared."""
    for clock in _CLOCKS:
        for address, cell in _cells_with(data, prefix, clock):
            yield address
            if shared := _SHARED_FORMULA.search(cell):
                mark = b'si="' + shared[1] + b'"'
                yield from (other for other, _ in _cells_with(data, prefix, mark))


def _cells_with(data: Searched, prefix: bytes, mark: bytes) -> Iterator[tuple[Address, bytes]]:
    """Yield address and XML of each cell that holds a mark in its tag or its formula."""
    opening, closing, xml = b"<" + prefix + b"c ", b"</" + prefix + b"c>", data.data
    for at in data.places(mark):
        start = xml.rfind(opening, 0, at)
        cell = xml[start : xml.find(closing, at)] if start >= 0 else b""
        where = _REFERENCE.search(cell[: cell.find(b">") + 1 or None])
        if where and (not mark.startswith(_IN_TAG) or mark in cell[: cell.find(b">")]):
            yield (int(where[2]) - 1, column_index(where[1].decode())), cell


def _shared(data: Searched, prefix: bytes) -> Iterator[tuple[Address, int]]:
    for address, cell in _cells_with(data, prefix, b't="s"'):
        if value := _VALUE.search(cell):
            yield address, int(value[1])
