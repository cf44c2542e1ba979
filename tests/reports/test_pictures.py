"""Each paper looks as its stored picture, within a tolerance; what differs is shown."""

from __future__ import annotations

import io

import pikepdf
import pytest
from PIL import Image, ImageDraw

from tests.reports.pictured import (
    CASES,
    MAY_DIFFER,
    PICTURES,
    differing,
    paper_of,
    rendered,
    stored,
)
from tests.reports.reading import pages


@pytest.mark.parametrize(("name", "page"), CASES, ids=[f"{n}-{p + 1}" for n, p in CASES])
def test_a_page_looks_as_its_picture(name, page, tmp_path):
    seen, kept = rendered(paper_of(name), page), Image.open(stored(name, page)).convert("L")
    share, marked = differing(seen, kept)
    if share > MAY_DIFFER:
        shown = tmp_path / f"{name}-{page + 1}-differences.png"
        marked.save(shown)
        pytest.fail(f"{share:.2%} of the page differs; see {shown}")


def test_every_picture_belongs_to_a_page_and_together_they_are_small():
    assert {path.name for path in PICTURES.glob("*.png")} == {stored(*case).name for case in CASES}
    assert sum(path.stat().st_size for path in PICTURES.glob("*.png")) < 1_500_000


def test_a_lost_box_and_a_moved_line_would_be_noticed():
    seen = rendered(paper_of("plant-status"), 0)
    assert differing(seen, seen)[0] == 0.0
    without = seen.copy()
    ImageDraw.Draw(without).rectangle((40, 60, 330, 100), fill=255)
    assert differing(without, seen)[0] > MAY_DIFFER
    moved = Image.new("L", seen.size, 255)
    moved.paste(seen, (0, 3))
    assert differing(moved, seen)[0] > MAY_DIFFER
    assert differing(seen.resize((100, 100)), seen)[0] == 1.0


NAMES = sorted({name for name, _ in CASES})
IDENTIFYING = {
    "en": ("Revision", "Made", "Valid until", "Fingerprint", "Prepared by", "Checked by",
           "Approved by", "Printed copy no."),
    "de": ("Revision", "Erstellt", "Gültig bis", "Fingerabdruck", "Erstellt von", "Geprüft von",
           "Freigegeben von", "Ausdruck Nr."),
}  # fmt: skip


def language_of(name: str) -> str:
    return "de" if name.endswith("-de") else "en"


@pytest.mark.parametrize("name", NAMES)
def test_every_page_says_which_paper_it_is_and_which_page_of_how_many(name):
    read = pages(paper_of(name))
    word, of = {"de": ("Seite", "von"), "en": ("page", "of")}[language_of(name)]
    for number, text in enumerate(read, start=1):
        assert f"{word} {number} {of} {len(read)}" in text
        assert [label for label in IDENTIFYING[language_of(name)] if label not in text] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_paper_is_tagged_has_bookmarks_and_names_its_language(name):
    with pikepdf.open(io.BytesIO(paper_of(name))) as paper:
        assert str(paper.Root.Lang) == language_of(name)
        assert bool(paper.Root.MarkInfo.Marked)
        assert "/StructTreeRoot" in paper.Root
        assert bool(paper.Root.ViewerPreferences.DisplayDocTitle)
        with paper.open_outline() as outline:
            assert len(outline.root) >= 1
