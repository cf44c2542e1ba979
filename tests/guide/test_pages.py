"""The documentation says what the program does today: pages from the code, blocks that are run."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config

from docs.blocks import PAGES, answered, beside_the_plant, pages_with_blocks
from docs.reference import PAGES as REFERENCE
from docs.reference import written
from tests.shape.sources import ROOT

FENCES = {"console", "python", ""}


@pytest.fixture(scope="module")
def reference() -> dict[str, str]:
    return written()


def test_pages_of_reference_are_what_the_code_says(reference):
    stale = {
        name
        for name, text in reference.items()
        if (REFERENCE / name).read_text(encoding="utf-8") != text
    }
    assert not stale, "renew them with: python -m docs.reference"
    assert {path.name for path in REFERENCE.iterdir()} == set(reference)


@pytest.mark.parametrize("page", pages_with_blocks(), ids=lambda page: page.stem)
def test_every_block_answers_what_its_page_shows(page: Path, driven: Path, tmp_path: Path):
    text = page.read_text(encoding="utf-8")
    with beside_the_plant(driven, tmp_path):
        now = answered(text)
    assert now == text, "look at the change, then renew with: python -m docs.blocks demo-plant"
    assert "Traceback" not in now


def test_no_block_stands_there_without_being_run():
    for page in PAGES.rglob("*.md"):
        fences = re.findall(r"^```(.*)$", page.read_text(encoding="utf-8"), re.MULTILINE)
        assert set(fences) <= FENCES, page
        assert fences[1::2] == [""] * (len(fences) // 2), page


def test_the_site_is_built_and_no_link_leads_nowhere(tmp_path):
    config = load_config(str(ROOT / "docs" / "mkdocs.yml"), site_dir=str(tmp_path), strict=True)
    build(config)
    assert (tmp_path / "tutorial" / "index.html").is_file()
    assert (tmp_path / "reference" / "exit-codes" / "index.html").is_file()
    built = (tmp_path / "how-it-is-built" / "index.html").read_text(encoding="utf-8")
    assert "the one direction" in built


def test_every_exit_code_of_the_program_stands_in_the_one_table(reference):
    rows = re.findall(r"^\| (\d+) \|", reference["exit-codes.md"], re.MULTILINE)
    assert rows == ["0", "1", "2", "3", "4", "5", "6", "7", "8", "130"]
