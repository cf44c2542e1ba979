"""The desk in German: no sentence of the program is left in English on its screens."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from importers.sheets import SHEETS
from supports.database import Register, sqlite_url
from supports.rules.site_settings import limits
from supports.vocabulary import SettingMethod, SupportKind
from tests.reports.english_left import english_left, entered_in, nodes_of
from tests.rules.planning_lines import NUMBER
from tests.web.at_work import CHANGE, FINDING, ORDER, PLAN
from tests.web.desks import Visitor, signed_in
from tests.web.sheet_files import LINES, SETTINGS, SUPPORTS, Clerk
from tests.web.tablets import WALK

SCREENS = (
    "/", "/supports", "/supports/C1", "/lines", f"/lines/{NUMBER}", f"/lines/{NUMBER}/weight",
    f"/lines/{NUMBER}/change?change={CHANGE}&aim=pipe+back+to+its+level",
    f"/lines/{NUMBER}/what-if?thickness=80+mm&density=120+kg/m³&contents=1000+kg/m³",
    "/rules", "/rules/limits", "/rules/limits/band", "/rules/of/constant-needs-re-set",
    "/rules/of/never-seen", "/rules/explained?name=C1&every=true",
    f"/rules/explained?name={NUMBER}&every=true", "/findings?shown=all", f"/findings/{FINDING}",
    "/changes", f"/changes/{CHANGE}", f"/changes/{CHANGE}/supports", f"/changes/{CHANGE}/lines",
    f"/changes/{CHANGE}/history", f"/plans/{PLAN}", "/work-orders", f"/work-orders/{ORDER}",
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


def test_a_plan_says_its_limits_holds_and_steps_in_german(reader):
    shown = "\n".join(nodes_of(reader.look(f"/plans/{PLAN}").text))
    assert "die am meisten genutzte: C2: Einstellbereich, oberes Ende: " in shown
    assert "Stütze bei 7.00 m: Stütze oder Blockierung, Kraft (abgestellt, entleert)" in shown
    assert "Stütze oder Blockierung einsetzen" in shown
    assert "Vor Freigabe des Gewichts einsetzen: Stütze bei 7.00 m" in shown
    assert not re.search("high end|prop|fewest|shut down", shown.split("Kennung", 1)[1].replace(
        "fewest units; the nozzle keeps its limit with one prop", ""))  # fmt: skip


def test_the_search_finds_what_is_left(reader, held):
    reader.cookies.set("language", "en")
    shown = nodes_of(reader.look("/rules/explained?name=C1&every=true").text)
    reader.cookies.set("language", "de")
    assert len(english_left(shown, "de", held)) > 50


REFUSED = (
    ("/changes/CH-99", 404, "Änderung „CH-99“ steht nicht im Verzeichnis"),
    ("/lines/XX-1", 404, "Leitung „XX-1“ steht nicht im Verzeichnis"),
    ("/record?kind=strange", 400, "eine solche Art von Eintrag gibt es nicht"),
    ("/nowhere", 404, "diese Seite gibt es nicht"),
)


@pytest.mark.parametrize(("address", "status", "says"), REFUSED)
def test_what_is_refused_is_said_in_german(address, status, says, reader, held):
    answer = reader.look(address)
    assert answer.status_code == status
    assert says in answer.text
    assert english_left(nodes_of(answer.text), "de", held) == set()


ACTS = (
    ("PL", "close", "das darf nur Änderungskoordinator: Änderung: abschließen"),
    ("CO", "close", "Stand: zur Ausführung frei"),
    ("RE", "approve", "muss die Änderung stehen auf: zur Freigabe vorgelegt"),
)


@pytest.mark.parametrize(("person", "act", "says"), ACTS)
def test_an_act_that_is_refused_says_why_in_german(person, act, says, told, held):
    visitor = signed_in(told, person)
    visitor.cookies.set("language", "de")
    visitor.look(f"/changes/{CHANGE}/do/{act}")
    answer = visitor.hand_in(f"/changes/{CHANGE}/do/{act}", reason="")
    assert answer.status_code in {400, 403, 409}
    assert says in answer.text
    assert english_left(nodes_of(answer.text), "de", held) == set()


def test_what_was_found_in_a_sheet_is_said_in_german(staffed, tmp_path):
    clerk = Clerk(staffed, tmp_path)
    clerk.visitor.cookies.set("language", "de")
    typed = [SUPPORTS[0], ["PS-1", "L-9", "rigd", ""], ["PS-2; PS-3", "L-9", "rigid rod", ""]]
    settings = [
        *SETTINGS,
        ["C3", "A", "03/04/2030", "21,5 kN", "guess", "T1"],
        ["C 1", "A", "2030-01-05", "20 kN", "scale", "T1"],
    ]
    page = clerk.hand_in(
        "ours.xlsx", {"Lines": LINES, "Supports": typed, "Settings": settings, "Other": [["a"]]}
    )
    text = clerk.text(page)
    assert "das Wort steht nicht auf der Liste" in text
    assert "Ist 'rigid rod' gemeint?" in text  # what is typed is typed in English
    assert "1 Zeile zu 'C 1' gingen an C1" in text
    assert "die Einheit fehlt, in der Überschrift wie in der Zelle (Last)" in text
    held = entered_in(staffed) | set(typed_in_sheets())
    for address in (page, f"{page}/names", f"{page}/unclear"):
        shown = nodes_of(clerk.visitor.look(address).text)
        assert english_left(shown, "de", held) == set(), address
    clerk.store(page, accept_the_good="yes", reason="erste Füllung")
    shown = nodes_of(clerk.visitor.look("/sheets/doubts").text)
    assert english_left(shown, "de", held) == set()


def typed_in_sheets() -> Iterator[str]:
    """Give what stands in sheets as it is typed: their names, headings and closed words."""
    for sheet in SHEETS:
        yield from (sheet.name, *(column.heading for column in sheet.columns))
    for words in (SupportKind, SettingMethod):
        yield from (*words, ", ".join(words))
