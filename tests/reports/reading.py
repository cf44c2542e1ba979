"""Reading papers back with readers that had no part in making them."""

from __future__ import annotations

import io
import re

import pypdf
import pypdfium2


def pages(paper: bytes) -> list[str]:
    """Return the text of each page (pypdf), white space as single plain spaces."""
    reader = pypdf.PdfReader(io.BytesIO(paper))
    return [re.sub(r"[\s\u00a0\u202f\u200b]+", " ", page.extract_text()) for page in reader.pages]


def squeezed(text: str) -> str:
    """Return text without any white space, for comparing across line ends."""
    return re.sub(r"[\s\u00a0\u202f\u200b]+", "", text)


def signs_outside(paper: bytes) -> int:
    """Count the signs (pdfium) that reach over the edge of their page."""
    document = pypdfium2.PdfDocument(paper)
    outside = 0
    for page in document:
        width, height = page.get_size()
        text = page.get_textpage()
        for place in range(text.count_chars()):
            left, bottom, right, top = text.get_charbox(place)
            outside += left < 0 or bottom < 0 or right > width or top > height
        text.close()
        page.close()
    document.close()
    return outside
