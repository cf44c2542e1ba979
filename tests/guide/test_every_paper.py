"""Every paper of the catalogue on the invented plant: its caution, and no English in the German.

What a paper says is held against the words of the German catalogue and against what people wrote
into the register; a word that is neither was not said in the language.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from app.making.makers import make
from app.making.wanted import Wanted
from demo.drive_turnaround import TURNAROUND, plan_the_stop
from reports.catalogue import PAPERS, Form, Paper
from reports.contents import field_words, plant_status, turnaround, walkdown_package
from reports.languages import texts
from supports.database import Register, sqlite_url
from supports.rules.catalogue import RULES
from tests.conftest import opened
from tests.guide.conftest import surroundings
from tests.reports.english_left import english_left, entered_in, nodes_of
from tests.reports.reading import pages, squeezed

ABOUT = {
    "changes, by number": "CH-2026-014",
    "re-set plans, by number": "PL-2026-002",
    "work orders, by number": "WO-2026-001",
    "supports, by tag; or --line": "PS-1024",
    "lines, by number": "1-HO-1203",
    "walkdown campaigns, by number": "WD-2026-HO-1",
    "turnarounds, by number": TURNAROUND,
}
MADE = datetime(2026, 11, 2, 8)  # noqa: DTZ001  the register keeps UTC without zone
WORD = re.compile(r"[A-Za-zÄÖÜäöüß]{3,}")
ROWS_BY_NAME = {"audit-record", "support-data-sheet"}
"""Papers that name rows and fields of the register as it does, and say so."""
CITED = {
    "section", "steels", "interpolated", "customary", "columns", "group", "mean", "coefficient",
    "summary",
}  # fmt: skip
"""Words of the publication that metal figures are taken from, and of a paper's number."""
DEFERS = (
    field_words.DEFERENCE, walkdown_package.DEFERENCE, turnaround.DEFERENCE,
    plant_status.WHO_DECIDES,
)  # fmt: skip
SCREENED = ("screening", "überschl", "vorprüfung", "gesichtet")
"""How a paper says that numbers come from the line calculation, in both languages."""
BY_LINE_CALCULATION = {"change-assessment", "re-set-plan", "re-setting-pack", "line-screening"}


@pytest.fixture(scope="module")
def planned(driven: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Register]:
    """Give the register of the invented plant with a turnaround planned as well."""
    folder = tmp_path_factory.mktemp("stop")
    shutil.copy(driven / "register.db", folder / "register.db")
    with surroundings():
        plan_the_stop(folder)
    yield from opened(sqlite_url(folder / "register.db"))


@pytest.fixture(scope="module")
def entered(planned: Register) -> set[str]:
    """Give what people wrote into the register."""
    return entered_in(planned)


@pytest.fixture(scope="module")
def written(entered: set[str]) -> set[str]:
    """Give the words that people wrote into the register, and the names of rules."""
    return {word for text in (*entered, *(rule.id for rule in RULES)) for word in _words(text)}


def _words(text: str) -> set[str]:
    found = (word.lower().replace("ß", "ss") for word in WORD.findall(text))
    return {word for word in found if not re.fullmatch("[a-f]+", word)}


def _glued(word: str, known: set[str]) -> bool:
    """Return whether a word is two or more that the reader of PDF ran together."""
    return word in known or any(
        word[:at] in known and _glued(word[at:], known) for at in range(3, len(word) - 2)
    )


def nodes_in(register: Register, paper: Paper, folder: Path, language: str) -> list[str]:
    """Return what a paper prints: the pieces of text of a screen, or pages."""
    form = Form.HTML if Form.HTML in paper.forms else Form.PDF
    about = ABOUT.get(str(paper.about))
    wanted = Wanted((about,) if about else (), folder, MADE, language=language, forms=(form,))
    with register.reading() as session:
        (file,) = make(session, paper, wanted)
    if form is Form.PDF:
        return pages(file.read_bytes())
    return nodes_of(file.read_text("utf-8"))


@pytest.mark.parametrize("paper", PAPERS, ids=lambda one: one.name)
def test_it_defers_to_the_site_and_no_english_is_left_in_the_german(
    paper, planned, entered, written, tmp_path
):
    language = paper.languages[-1]
    say = texts(language)
    nodes = nodes_in(planned, paper, tmp_path, language)
    text = " ".join(nodes)
    run_on = squeezed(text)
    assert any(squeezed(say(words)) in run_on for words in DEFERS)
    if paper.name in BY_LINE_CALCULATION:
        assert any(words in run_on.lower() for words in SCREENED)
    if language == "en":
        return
    known = {word for said in say.words.values() for word in _words(said)}
    if paper.name in ROWS_BY_NAME:
        return
    assert english_left(nodes, language, entered) == set()
    heard = known | written | CITED
    assert {word for word in _words(text) if len(word) > 3 and not _glued(word, heard)} == set()
