"""What a paper for reading is made of: headings, words, facts, tables, pictures.

Plain data, the same for paper and for the screen; how each looks is decided where it is drawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from reports.contents.common import PaperHead, Signature
from reports.drawings.primitives import Drawing


class Mark(StrEnum):
    """Signs by shape that stand before words; none of them needs colour."""

    NONE = ""
    LEAVE = "leave"
    RE_SET = "re-set"
    ENGINEER_DECIDES = "engineer decides"
    CANNOT_BE_SET = "cannot be set"
    HARDWARE_FAILS = "hardware fails"
    CANNOT_JUDGE = "cannot judge"
    STOP = "STOP"
    ACT = "ACT"
    LOOK = "LOOK"
    NOTE = "NOTE"


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: its words, whether they are strong, whether they are a name, and a sign."""

    text: str
    strong: bool = False
    name: bool = False
    mark: Mark = Mark.NONE


Written = str | Cell


@dataclass(frozen=True, slots=True)
class Column:
    """One column: heading, share of the width (0: as wide as its words), numbers to the right."""

    heading: str
    share: float = 1.0
    right: bool = False


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 begins a new page on paper, level 2 a part, level 3 a piece of it.

    Parameters
    ----------
    listed
        Whether a line of contents names it; one of very many alike is found by scrolling.
    flows
        Whether a heading of level 1 stays on the page where what comes before it ends.
    """

    text: str
    level: int = 2
    listed: bool = True
    flows: bool = False


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Words that run on."""

    text: str
    strong: bool = False
    small: bool = False


@dataclass(frozen=True, slots=True)
class Listing:
    """A list of sentences."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Facts:
    """Names with their values, in columns side by side."""

    pairs: tuple[tuple[str, Written], ...]
    columns: int = 2


@dataclass(frozen=True, slots=True)
class Figure:
    """One large number with what it counts; `doubt` where it must not look settled."""

    number: str
    what: str
    mark: Mark = Mark.NONE


@dataclass(frozen=True, slots=True)
class Figures:
    """Large numbers side by side."""

    items: tuple[Figure, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table; without a row it prints what that means."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Written, ...], ...]
    empty: str = "–"
    small: bool = False


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing, with the words beneath it.

    Parameters
    ----------
    sheet
        A sheet of its own on paper, landscape, where the drawing needs a larger one; '' for none.
    """

    drawing: Drawing
    caption: str = ""
    sheet: str = ""


@dataclass(frozen=True, slots=True)
class Plot:
    """A drawing that is SVG already, with what it shows in words."""

    svg: str
    told: str


@dataclass(frozen=True, slots=True)
class Caution:
    """Words in a strong frame."""

    title: str
    text: str


class Weight(StrEnum):
    """How an answer is drawn: by shape and weight, never by colour alone."""

    NO = "no"
    DOUBT = "doubt"
    YES = "yes"


@dataclass(frozen=True, slots=True)
class Answered:
    """A question with its answer in large letters."""

    question: str
    answer: str
    weight: Weight
    words: str = ""


@dataclass(frozen=True, slots=True)
class Signatures:
    """Lines to sign."""

    rows: tuple[Signature, ...]


Plain = (
    Heading
    | Paragraph
    | Listing
    | Facts
    | Figures
    | Table
    | Picture
    | Plot
    | Caution
    | Answered
    | Signatures
)


@dataclass(frozen=True, slots=True)
class Abreast:
    """Parts side by side, with their shares of the width; below each other on a small screen."""

    parts: tuple[tuple[Plain, ...], ...]
    shares: tuple[float, ...]


Block = Plain | Abreast


@dataclass(frozen=True, slots=True)
class Document:
    """A whole paper for reading.

    Parameters
    ----------
    code
        What the square code on the first page holds: a point's lasting id and nothing else; ''
        for none.
    """

    head: PaperHead
    blocks: tuple[Block, ...]
    language: str = "en"
    landscape: bool = False
    code: str = ""
