"""Tags to hang as PDF, to print on weatherproof card and cut along the dashes."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from reports.contents.common import PageSize
from reports.contents.field_words import DEFERENCE
from reports.contents.hanging_tags import HangingTags
from reports.drawings.square_code import square_code
from reports.languages import texts
from reports.pdf.engine import render
from reports.pdf.head import head_data


def hanging_tags_pdf(paper: HangingTags, page: PageSize = PageSize.A4) -> bytes:
    """Return the sheet as PDF bytes; the date is the head's."""
    data = hanging_tags_data(paper, page)
    return render("hanging_tags", data, date=paper.head.made, words=texts(paper.language))


def hanging_tags_data(paper: HangingTags, page: PageSize) -> dict[str, Any]:
    """Return what the template prints."""
    return {
        "head": head_data(paper.head, page),
        "deference": texts(paper.language)(DEFERENCE),
        "tags": [{**asdict(one), "code": square_code(one.point_id)} for one in paper.tags],
    }
