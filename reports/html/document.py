"""A paper for reading as one web page: the same blocks as on paper, no network, no script."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from reports.contents.blocks import Abreast, Block, Cell, Document, Heading
from reports.contents.common import PaperHead
from reports.contents.field_words import DEFERENCE
from reports.contents.unknown import unknown_said
from reports.drawings.as_svg import as_svg
from reports.drawings.primitives import Drawing
from reports.drawings.square_code import code_drawing
from reports.languages import texts
from supports.plant_time import to_the_minute

TEMPLATES = Path(__file__).parent / "templates"
_STEERING = {"Cc", "Cf", "Cs", "Co", "Cn"}


def document_html(document: Document) -> bytes:
    """Return the paper as one web page in UTF-8; same document, same bytes."""
    say = texts(document.language)
    environment = _environment()
    document = replace(document, blocks=unknown_said(document.blocks, say))
    name, contents = anchored(document.blocks)
    made = environment.get_template("document.html.jinja").render(
        document=document,
        head=document.head,
        foot=foot(document.head),
        contents=contents,
        anchor_of=name,
        deference=say(DEFERENCE),
        code=code_drawing(document.code) if document.code else None,
        w=say,
    )
    return made.encode()


def foot(head: PaperHead) -> list[tuple[str, str]]:
    """Return name and value of all that identifies the paper; what is not known is left out."""
    pairs = [
        ("Revision", head.revision),
        ("Made", to_the_minute(head.made)),
        ("Valid until", head.valid_until),
        ("Fingerprint", head.fingerprint),
        ("Record's head", head.chain_head),
        ("Prepared by", head.prepared_by),
        ("Checked by", head.checked_by),
        ("Approved by", head.approved_by),
    ]
    return [(name, value) for name, value in pairs if value]


def visible(text: str) -> str:
    """Return text in which nothing steers unseen: such signs are written as code points.

    >>> visible("PS-1\u202e024")
    'PS-1‹U+202E›024'
    """
    text = _BREAKS.sub(" ", text)
    steering = [sign for sign in set(text) if unicodedata.category(sign) in _STEERING]
    return text.translate({ord(sign): f"‹U+{ord(sign):04X}›" for sign in steering})


_BREAKS = re.compile(r"[\r\n\t]+")


def anchor(text: str, place: int) -> str:
    """Return a name for a heading that can stand in an address, and no other on the page has.

    >>> anchor("Open changes: 3", 2)
    '2-open-changes-3'
    """
    return "-".join([str(place), *re.findall(r"\w+", text.lower())])


def _plain_blocks(blocks: Sequence[Block]) -> Iterator[object]:
    for block in blocks:
        if isinstance(block, Abreast):
            yield from (one for part in block.parts for one in part)
        else:
            yield block


def _cell(value: Any) -> Cell:
    return value if isinstance(value, Cell) else Cell(str(value))


def inline_drawing(drawing: Drawing) -> Markup:
    """Return a drawing as it stands in the page; its words were escaped where it was drawn."""
    return Markup(visible(as_svg(drawing).decode().replace("\n", "")))  # noqa: S704  escaped there


def inline_plot(svg: str) -> Markup:
    """Return a plot as it stands in the page; its words were escaped where it was drawn."""
    return Markup(visible(svg))  # noqa: S704  escaped there


def _kind(block: object) -> str:
    return type(block).__name__.lower()


def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters |= BLOCK_FILTERS
    made.globals["own_styles"] = True
    return made


BLOCK_FILTERS: dict[str, Callable[..., object]] = {
    "seen": visible,
    "cell": _cell,
    "svg": inline_drawing,
    "kind": _kind,
    "inline": inline_plot,
}
"""What the template of blocks asks for."""


def anchored(blocks: Sequence[Block]) -> tuple[Callable[[Heading], str], list[tuple[str, str]]]:
    """Return what names each heading of some blocks, and the headings to go to by name."""
    headings = [one for one in _plain_blocks(blocks) if isinstance(one, Heading)]
    places = {id(one): place for place, one in enumerate(headings)}
    contents = [
        (anchor(one.text, place), one.text)
        for place, one in enumerate(headings)
        if one.level <= 2 and one.listed
    ]
    return lambda one: anchor(one.text, places[id(one)]), contents
