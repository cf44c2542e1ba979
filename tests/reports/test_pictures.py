"""Each paper looks as its stored picture, within a tolerance; what differs is shown."""

from __future__ import annotations

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


@pytest.mark.parametrize("name", sorted({name for name, _ in CASES}))
def test_every_page_is_numbered_of_as_many_as_there_are(name):
    read = pages(paper_of(name))
    word, of = ("Seite", "von") if name.endswith("-de") else ("page", "of")
    for number, text in enumerate(read, start=1):
        assert f"{word} {number} {of} {len(read)}" in text
