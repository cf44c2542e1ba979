"""Papers of the invented plant, made by name from its register as the command makes them."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

import pytest

from app.making.makers import make
from app.making.wanted import Wanted
from reports.catalogue import Form, paper_of
from supports.database import Register
from supports.errors import BadInput, NotFound
from supports.rules.site_settings import limits
from tests.reports.reading import pages, signs_outside, squeezed

MADE = datetime(2026, 2, 20, 8)  # noqa: DTZ001  the register keeps UTC without zone


@pytest.fixture
def made(plant_register: Register, tmp_path: Path):
    """Make a paper; return its files by form."""

    def make_paper(name: str, *about: str, **more: object) -> dict[str, bytes]:
        paper = paper_of(name)
        forms = tuple(form for form in paper.forms if form is not Form.XLSX)
        wanted = Wanted(about=about, into=tmp_path, made=MADE, forms=forms, **more)
        with plant_register.reading() as session:
            files = make(session, paper, wanted)
        return {path.suffix[1:]: path.read_bytes() for path in files}

    return make_paper


def test_the_line_summary_draws_the_line_and_lists_its_supports(made):
    files = made("line-summary", "1-HO-1203")
    text = " ".join(pages(files["pdf"]))
    assert signs_outside(files["pdf"]) == 0
    assert "cannot be drawn in space" not in text
    for tag in ("PS-1014", "PS-1015/A", "PS-1015/B", "PS-1024", "PS-1026"):
        assert tag in text
    assert "CALC-1203" in text
    assert files["html"].count(b"<svg") == 2


def test_tags_of_a_line_are_one_for_each_spring(made):
    text = " ".join(pages(made("hanging-tags", line="1-HO-1203")["pdf"]))
    assert text.count("Do not turn without a new approved change") == 12
    assert len(re.findall(r"SETTING NOT KNOWN", text)) == 0


def test_a_data_sheet_tells_former_tag_history_and_cells(made):
    files = made("support-data-sheet", "PS-1024")
    text = squeezed(" ".join(pages(files["pdf"])))
    for told in ("PS-88", "98-304018", "1999-09-17", "area-1.xlsx", "F26: 20 [kN]", "P000033"):
        assert squeezed(told) in text
    assert b"P000033" in files["html"]


def test_the_status_counts_what_the_rules_report_lists(made):
    status = pages(made("plant-status")["pdf"])
    assert len(status) == 1
    report = " ".join(pages(made("rules-report")["pdf"]))
    findings, unjudged = map(
        int, re.search(r": (\d+) findings, (\d+) answers that cannot", report).groups()
    )
    rows = re.findall(r"(\d+) (\d+) (\d+) (\d+) (\d+) \d+ \d+(?= )", report)
    assert sum(int(n) for row in rows for n in row[:4]) == findings
    assert sum(int(row[4]) for row in rows) == unjudged
    assert "405 supports known" in status[0]
    assert "NO" in status[0]
    assert f"{len(limits())} of {len(limits())} limits are proposals" in report


def test_what_cannot_be_made_is_refused_before_anything_is_written(made, tmp_path):
    for refusal, words, about, more in (
        (BadInput, "what it is about", "hanging-tags", {}),
        (BadInput, "not complete in this language", "verification-manual", {"language": "de"}),
        (BadInput, "no spring unit", "hanging-tags", {"about": ("PS-1014",)}),
        (NotFound, "PS-9", "support-data-sheet", {"about": ("PS-9",)}),
    ):
        with pytest.raises(refusal, match=words):
            made(about, *more.pop("about", ()), **more)
    assert list(tmp_path.iterdir()) == []


def test_the_same_paper_twice_is_the_same_bytes(made):
    assert made("support-data-sheet", "PS-1019") == made("support-data-sheet", "PS-1019")
