"""Which pages of which papers have a stored picture, and how they are compared and renewed.

The pictures were made by this code: they are regression, not proof. Whoever means to change how a
paper looks renews them with ``python -m tests.reports.pictured`` and looks at each.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import pypdfium2
from PIL import Image

from reports.contents.change_assessment import change_assessment
from reports.contents.line_summary import line_summary
from reports.contents.rules_report import rules_report
from reports.pdf.document import document_pdf
from reports.pdf.hanging_tags import hanging_tags_pdf
from reports.pdf.line_screening import line_screening_pdf
from reports.pdf.load_change_summary import load_change_summary_pdf
from reports.pdf.resetting_pack import resetting_pack_pdf
from reports.pdf.walkdown_package import walkdown_package_pdf
from tests.reports import documents, examples
from tests.reports import test_hanging_tags as tags
from tests.reports import test_line_screening_pdf as screening
from tests.reports import test_reading_papers as reading
from tests.reports import test_walkdown_papers as walks
from tests.rules.line.routes import limits

PICTURES = Path(__file__).parent / "pictures"
SCALE = 0.62
"""Points to pixels: A4 upright becomes 369 by 522."""
NOTICED, MAY_DIFFER = 70, 0.004
"""Grey levels by which a pixel differs, and the share of such pixels that other builds of the same
renderer may show; a moved line of print or a lost box is far above."""

Made = Callable[[], bytes]


def _audit() -> bytes:
    return document_pdf(reading.paper(reading.audit_record(reading.record())))


PAPERS: dict[str, tuple[Made, tuple[int, ...]]] = {
    "audit-record": (_audit, (0,)),
    "change-assessment": (
        lambda: document_pdf(reading.paper(change_assessment(reading.assessed_paper()))), (0, 1),
    ),
    "hanging-tags": (lambda: hanging_tags_pdf(tags.sheet(8)), (0,)),
    "hanging-tags-de": (lambda: hanging_tags_pdf(tags.sheet(8, "de")), (0,)),
    "line-screening": (
        lambda: line_screening_pdf(screening.contents(nozzles=(limits(),))), (0, 1),
    ),
    "line-summary": (
        lambda: document_pdf(
            reading.paper(line_summary(reading.summary_of_line(reading.assessed_paper())))
        ),
        (0,),
    ),
    "load-change-summary": (lambda: load_change_summary_pdf(examples.summary()), (0, 1)),
    "plant-status": (lambda: document_pdf(documents.status_document()), (0,)),
    "plant-status-de": (lambda: document_pdf(documents.status_document("de")), (0,)),
    "re-setting-pack": (lambda: resetting_pack_pdf(examples.pack()), (0, 1, 2, 3, 4, 11)),
    "re-setting-pack-de": (lambda: resetting_pack_pdf(examples.pack(), language="de"), (0, 2, 4)),
    "rules-report": (
        lambda: document_pdf(reading.paper(rules_report(reading.rules_found()))), (0,),
    ),
    "support-data-sheet": (lambda: document_pdf(documents.sheet_document()), (0, 1)),
    "support-data-sheet-de": (lambda: document_pdf(documents.sheet_document("de")), (0, 1)),
    "walkdown-package": (lambda: walkdown_package_pdf(walks.package()), (0, 1, 2, 3)),
}  # fmt: skip
"""Papers by name, with the pages that have a picture."""
CASES = [(name, page) for name, (_, pages) in PAPERS.items() for page in pages]


@cache
def paper_of(name: str) -> bytes:
    """Return a paper, made once."""
    return PAPERS[name][0]()


def rendered(paper: bytes, page: int) -> Image.Image:
    """Return a page as a grey picture (pdfium)."""
    document = pypdfium2.PdfDocument(paper)
    picture = document[page].render(scale=SCALE, grayscale=True).to_pil().convert("L")
    document.close()
    return picture


def stored(name: str, page: int) -> Path:
    """Return where the picture of a page is."""
    return PICTURES / f"{name}-{page + 1}.png"


def differing(seen: Image.Image, kept: Image.Image) -> tuple[float, Image.Image]:
    """Return the share of pixels that differ by what an eye notices, and a picture of them."""
    if seen.size != kept.size:
        return 1.0, seen
    apart = np.abs(np.asarray(seen, dtype=np.int16) - np.asarray(kept, dtype=np.int16))
    noticed = apart > NOTICED
    marked = np.where(noticed, 0, 255 - (255 - np.asarray(seen)) // 4).astype(np.uint8)
    return float(noticed.mean()), Image.fromarray(marked)


def renew() -> None:
    """Make every stored picture anew, in 16 greys; remove those of pages no longer pictured."""
    PICTURES.mkdir(exist_ok=True)
    for old in PICTURES.glob("*.png"):
        old.unlink()
    for name, page in CASES:
        picture = rendered(paper_of(name), page)
        picture.quantize(16).convert("L").save(stored(name, page), optimize=True)


if __name__ == "__main__":
    renew()
