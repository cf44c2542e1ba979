"""A paper for reading as PDF: its blocks made ready for the one template."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from reports.contents.blocks import (
    Abreast,
    Block,
    Cell,
    Document,
    Facts,
    Picture,
    Signatures,
    Table,
)
from reports.contents.common import PageSize
from reports.contents.field_words import DEFERENCE
from reports.contents.unknown import unknown_said
from reports.drawings.as_data import as_data
from reports.drawings.square_code import square_code
from reports.languages import texts
from reports.pdf.engine import render
from reports.pdf.head import head_data, signature_data

LONG_WORD, LONG_NAME = 26, 40
"""Signs beyond which a column, or the names of facts, no longer take the width they would."""


def document_pdf(document: Document, page: PageSize = PageSize.A4) -> bytes:
    """Return the paper as PDF bytes; the date is the head's."""
    data = document_data(document, page)
    return render("document", data, date=document.head.made, words=texts(document.language))


def document_data(document: Document, page: PageSize) -> dict[str, Any]:
    """Return what the template prints."""
    say = texts(document.language)
    return {
        "head": head_data(document.head, page),
        "landscape": document.landscape,
        "code": square_code(document.code) if document.code else [],
        "code_words": document.code,
        "deference": say(DEFERENCE),
        "blocks": [block_data(block) for block in unknown_said(document.blocks, say)],
    }


def block_data(block: Block) -> dict[str, Any]:
    """Return one block as plain data, named by its kind."""
    data: dict[str, Any]
    match block:
        case Picture():
            drawing = as_data(block.drawing)
            data = {"drawing": drawing, "caption": block.caption, "sheet": block.sheet}
        case Abreast():
            parts = [[block_data(one) for one in part] for part in block.parts]
            data = {"parts": parts, "shares": list(block.shares)}
        case Table():
            rows = [[cell_data(cell) for cell in row] for row in block.rows]
            data = {**asdict(block), "rows": rows, "shares": shares_of(block)}
        case Signatures():
            data = {"rows": signature_data(block.rows)}
        case Facts():
            pairs = [[name, cell_data(value)] for name, value in block.pairs]
            narrow = all(len(name) <= LONG_NAME for name, _ in block.pairs)
            data = {"pairs": pairs, "columns": block.columns, "narrow": narrow}
        case _:
            data = asdict(block)
    return {"kind": type(block).__name__.lower(), **data}


def shares_of(table: Table) -> list[float]:
    """Return the columns' shares; one as wide as its words gets a share where those are long."""
    longest = [0] * len(table.columns)
    for row in table.rows:
        for place, cell in enumerate(row):
            length = len(cell.text if isinstance(cell, Cell) else cell)
            longest[place] = max(longest[place], length)
    return [
        1.4 if column.share == 0.0 and length > LONG_WORD else column.share
        for column, length in zip(table.columns, longest, strict=True)
    ]


def cell_data(cell: str | Cell) -> dict[str, Any]:
    """Return a cell as plain data."""
    return asdict(cell if isinstance(cell, Cell) else Cell(cell))
