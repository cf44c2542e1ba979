"""The desk in German: no sentence of the program is left in English on its screens."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from supports.database import Register, sqlite_url
from supports.rules.site_settings import limits
from tests.reports.english_left import english_left, entered_in, nodes_of
from tests.rules.planning_lines import NUMBER
from tests.web.at_work import CHANGE, FINDING, ORDER, PLAN
from tests.web.desks import Visitor, signed_in
from tests.web.tablets import WALK

SCREENS = (
    "/", "/supports", "/supports/C1", "/lines", f"/lines/{NUMBER}", f"/lines/{NUMBER}/weight",
    f"/lines/{NUMBER}/change?change={CHANGE}&aim=pipe+back+to+its+level",
    f"/lines/{NUMBER}/what-if?thickness=80+mm&density=120+kg/m³&contents=1000+kg/m³",
    "/rules", "/rules/limits", "/rules/limits/band", "/rules/of/constant-needs-re-set",
    "/rules/of/never-seen", "/rules/explained?name=C1&every=true",
    f"/rules/explained?name={NUMBER}&every=true", "/findings?shown=all", f"/findings/{FINDING}",
    "/changes", f"/changes/{CHANGE}", f"/changes/{CHANGE}/supports", f"/changes/{CHANGE}/lines", f"/changes/{CHANGE}/history",
    f"/plans/{PLAN}", "/work-orders", f"/work-orders/{ORDER}",
    f"/work-orders/{ORDER}/units/C1/A", f"/walkdowns/{WALK}", "/start-up", "/record",
    f"/record?change={CHANGE}", "/record/whole",
)  # fmt: skip
BY_NAME = re.compile(r"<details>\s*<summary><h2>.*?</details>", re.DOTALL)
"""Where a support's fields stand by the name that the register has for them, and says so."""


@pytest.fixture(scope="module")
def told(at_work_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Register]:
    """Give a plant at work to all screens; they only read it."""
    path = tmp_path_factory.mktemp("german") / "register.db"
    register = Register(sqlite_url(Path(shutil.copy(at_work_file, path))))
    yield register
    register.close()


@pytest.fixture(scope="module")
def reader(told: Register) -> Visitor:
    """Give somebody who reads German."""
    visitor = signed_in(told, "S1")
    visitor.cookies.set("language", "de")
    return visitor


@pytest.fixture(scope="module")
def held(told: Register) -> set[str]:
    """Give what people wrote, and the names of limits, which are typed."""
    return entered_in(told) | set(limits())


@pytest.mark.parametrize("screen", SCREENS)
def test_no_sentence_of_a_screen_is_left_in_english(screen, reader, held):
    answer = reader.look(screen)
    assert answer.status_code == 200
    assert '<html lang="de"' in answer.text
    assert english_left(nodes_of(BY_NAME.sub("", answer.text)), "de", held) == set()


def test_the_search_finds_what_is_left(reader, held):
    reader.cookies.set("language", "en")
    shown = nodes_of(reader.look("/rules/explained?name=C1&every=true").text)
    reader.cookies.set("language", "de")
    assert len(english_left(shown, "de", held)) > 50
