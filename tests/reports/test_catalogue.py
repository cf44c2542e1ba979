"""The catalogue of papers: every paper can be made, by the name that it is listed under."""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path

import pytest

from app.making.makers import MAKERS, forms_of
from demo.paper_pages import SHOWN
from reports.catalogue import PAPERS, Form, paper_of
from reports.languages import languages
from supports.errors import BadInput, NotFound

ROOT = Path(__file__).parents[2]


def test_every_paper_has_its_maker_and_every_maker_its_paper():
    assert {one.name for one in PAPERS} == set(MAKERS)
    assert len({one.title for one in PAPERS}) == len(PAPERS)


@pytest.mark.parametrize("name", sorted(MAKERS))
def test_a_maker_is_there(name):
    module, function = MAKERS[name].split(":")
    assert callable(getattr(import_module(f"app.making.{module}"), function))


@pytest.mark.parametrize("paper", PAPERS, ids=lambda one: one.name)
def test_an_entry_says_what_for_for_whom_and_how(paper):
    assert len(paper.purpose) > 20
    assert paper.who
    assert paper.forms
    assert set(paper.languages) <= set(languages())
    assert paper.languages[0] == "en"


def test_an_unknown_name_is_answered_with_the_nearest():
    with pytest.raises(NotFound, match="plant-status"):
        paper_of("plant-staus")


def test_forms_are_all_there_are_or_those_named():
    paper = paper_of("re-setting-pack")
    assert forms_of(paper, []) == (Form.PDF, Form.XLSX)
    assert forms_of(paper, ["pdf", "pdf"]) == (Form.PDF,)
    with pytest.raises(BadInput, match="no such form"):
        forms_of(paper, ["papyrus"])


@pytest.mark.parametrize("name", [one.name for one in PAPERS])
def test_the_readme_shows_a_picture_of_every_paper_and_the_demo_renews_it(name):
    readme = (ROOT / "README.md").read_text("utf-8")
    shown = re.findall(rf"!\[[^\]]+\]\((demo/pages/{name}(?:-\d+)?\.png)\)", readme)
    assert shown
    assert all((ROOT / one).is_file() for one in shown)
    assert len(shown) == sum(one.words[0] == name for one in SHOWN)
