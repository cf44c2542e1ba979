"""Sheets at the desk: shown, stored whole or not at all, called off, and seen to have died."""

from __future__ import annotations

import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest
from sqlalchemy import func, select

from app.web.sheets import shelf, works
from app.web.sheets.held import is_held, take
from app.web.sheets.shelf import KEPT, HandedIn, Shelf, plain_name
from importers.workbook import open_workbook
from supports.errors import FileUnusable
from supports.model import ImportRun, SourceRow, SupportTag
from supports.queries.intake import doubts
from tests.operations.days import START
from tests.shape.sources import ROOT
from tests.web.desks import Visitor, desk_on
from tests.web.sheet_files import LINES, SETTINGS, SUPPORTS, Clerk

WHOLE = {"Lines": LINES, "Supports": SUPPORTS}


@pytest.fixture
def clerk(staffed, tmp_path):
    return Clerk(staffed, tmp_path)


def imports(register) -> int:
    with register.reading() as session:
        return session.scalar(select(func.count()).select_from(ImportRun)) or 0


def tags(register) -> set[str]:
    with register.reading() as session:
        return set(session.scalars(select(SupportTag.tag)))


def test_a_file_is_shown_before_anything_is_stored(clerk, staffed):
    page = clerk.hand_in("ours.xlsx", WHOLE | {"Settings": SETTINGS})
    text = clerk.text(page)
    assert "Supports Supports 1 2 0" in text  # sheet, read as, headings in row, rows, held back
    assert "support 2 0 0 0" in text  # new, changed, unchanged, refused
    assert "setting 1 0 0 1" in text
    assert "unit-not-stated" in text
    assert "4496.2 lbf" in text
    assert "20.00 kN" in text  # 4496.2 lbf of 4.448222 N
    assert imports(staffed) == 0


def test_all_or_nothing_unless_the_good_is_asked_for(clerk, staffed):
    page = clerk.hand_in("ours.xlsx", WHOLE | {"Settings": SETTINGS})
    assert "nothing was stored" in clerk.store(page)
    assert imports(staffed) == 0
    said = clerk.store(page, accept_the_good="yes", reason="first filling")
    assert "Stored. Values that wait for an answer now: 1." in said
    assert {"PS-1", "PS-2"} <= tags(staffed)
    assert "D3 C2 22" in clerk.text("/sheets/doubts")  # cell, about, as entered
    again = clerk.text(clerk.hand_in("again.xlsx", WHOLE))
    assert "support 0 0 2 0" in again


def test_the_same_alike_findings_are_one_group_with_the_first_cell(clerk):
    dirty = [SUPPORTS[0], *(["PS-3" + str(n), "L-9", "rigd", ""] for n in range(40))]
    text = clerk.text(clerk.hand_in("dirty.xlsx", {"Lines": LINES, "Supports": dirty}))
    assert "40 rows, first Supports C2: the word is not on the list" in text


def test_what_changed_meanwhile_is_not_stored_unseen(clerk, staffed):
    one = clerk.hand_in("one.xlsx", WHOLE)
    two = clerk.hand_in("two.xlsx", WHOLE)
    assert "Stored." in clerk.store(one)
    assert "no longer what you were shown" in clerk.store(two)
    assert imports(staffed) == 1


def test_their_own_file_comes_back_with_a_column_of_findings(clerk, tmp_path):
    page = clerk.hand_in("ours.xlsx", {"Lines": LINES, "Settings": SETTINGS})
    answer = clerk.visitor.get(f"{page}/back")
    assert "ours-findings.xlsx" in answer.headers["content-disposition"]
    path = tmp_path / "back.xlsx"
    path.write_bytes(answer.content)
    (sheet,) = (t for t in open_workbook(path).tables if t.sheet == "Settings")
    told = [" ".join(map(str, row[len(SETTINGS[0]) :])) for row in sheet.rows]
    assert "unit-not-stated" in told[0]
    assert told[1] == ""


def test_the_whole_register_and_the_blank_workbook_are_given(clerk):
    for form in ("text", "history"):
        assert clerk.visitor.get(f"/sheets/register-as/{form}").content.startswith(b"PK")
    assert clerk.visitor.get("/sheets/register-as/picture").status_code == 404
    assert len(clerk.visitor.get("/sheets/blank-workbook").content) > 10_000


def test_the_register_that_was_given_says_nothing_new(clerk):
    given = clerk.visitor.get("/sheets/register-as/workbook").content
    page = clerk.send("register.xlsx", given).headers["location"]
    assert "Nothing of it is new." in clerk.text(page)


@pytest.mark.parametrize("name", ["../../etc/passwd", "x.exe", "", ".xlsx.", "a\x00b.pdf"])
def test_a_name_of_no_sheets_is_refused(clerk, name):
    with pytest.raises(FileUnusable):
        plain_name(name)


@pytest.mark.parametrize(
    "name",
    ["../../up.xlsx", "C:\\temp\\up.xlsx", "/root.csv", "..\\..\\a b.ods", "x" * 500 + ".csv"],
)
def test_no_name_leads_out_of_the_shelf(tmp_path, name):
    place = Shelf(tmp_path / "shelf")
    with (tmp_path / "given").open("wb+") as content:
        content.write(b"a;b\n1;2\n")
        content.seek(0)
        kept = place.put(HandedIn("t" * 32, name, "KK", START), content)
    inside = place.file(kept).resolve()
    assert inside.is_relative_to((tmp_path / "shelf").resolve())
    assert inside.read_bytes() == b"a;b\n1;2\n"


def test_no_other_address_leads_to_a_file(clerk):
    for token in ("..%2fregister.db", "%2e%2e", "key", "A" * 40):
        assert clerk.visitor.look(f"/sheets/in/{token}").status_code in {400, 404}, token


def test_files_go_after_a_week_and_are_not_heaped_up(clerk, staffed, tmp_path, monkeypatch):
    monkeypatch.setattr(shelf, "MOST_OF_ONE", 2)
    pages = [clerk.hand_in(f"{n}.xlsx", {"Lines": LINES}) for n in range(2)]
    refused = clerk.send("more.xlsx", (tmp_path / "0.xlsx").read_bytes())
    assert refused.status_code == 409
    later = Clerk(staffed, tmp_path, now=START + KEPT + timedelta(days=1))
    assert "Nothing waits here." in later.text("/sheets")
    assert later.visitor.look(pages[0]).status_code == 404
    assert not any(Path(f"{staffed.url.database}-handed-in").iterdir())


def test_another_persons_file_is_not_discarded_but_by_a_keeper(clerk, staffed, tmp_path):
    page = Clerk(staffed, tmp_path, "PL").hand_in("ours.xlsx", {"Lines": LINES})
    other = Clerk(staffed, tmp_path, "T1")
    other.visitor.look(page)
    assert other.visitor.hand_in(f"{page}/discard").status_code == 403
    clerk.visitor.look(page)
    assert clerk.visitor.hand_in(f"{page}/discard").headers["location"] == "/sheets"
    assert clerk.visitor.look(page).status_code == 404


def test_work_that_is_called_off_leaves_nothing_behind(staffed, tmp_path, monkeypatch):
    clerk = Clerk(staffed, tmp_path)
    page = clerk.hand_in("ours.xlsx", WHOLE)
    note = works._note

    def at_storing(place, handed, work):
        note(place, handed, work)
        if work.said == "storing":
            clerk.visitor.hand_in(f"{page}/call-off")

    monkeypatch.setattr(works, "_note", at_storing)
    assert "Called off. Nothing was stored." in clerk.store(page)
    assert imports(staffed) == 0
    assert "PS-1" not in tags(staffed)


def test_work_goes_on_beside_the_desk_and_tells_how_far_it_is(staffed, tmp_path):
    waiting = []
    clerk = Clerk(staffed, tmp_path, hands=waiting.append)
    page = clerk.hand_in("ours.xlsx", WHOLE)
    text = clerk.visitor.look(page).text
    assert '<noscript><meta http-equiv="refresh"' in text
    assert "waits for its turn" in text
    assert "/supports" in clerk.visitor.look("/supports").text
    assert clerk.visitor.hand_in(f"{page}/look").status_code == 409
    waiting.pop()()
    part = clerk.visitor.get(page, headers={"hx-request": "true"})
    assert part.headers["hx-refresh"] == "true"
    assert "support 2 0 0 0" in clerk.text(page)


DYING = """
import os, signal, sys
from functools import partial
from app.web.sheets import shelf, works
from app.web.sheets.looks import Wish, look, store_it
from app.web.sheets.shelf import HandedIn, Shelf
from supports.database import Register
from tests.operations.days import START
register, shelf = Register(sys.argv[1]), Shelf(__import__("pathlib").Path(sys.argv[2]))
(handed,) = shelf.all(START)
seen = works.kept_of(shelf, handed, "look")
def die(said, done, of):
    if said == "storing" and done:
        os.kill(os.getpid(), signal.SIGKILL)
wish = Wish("KK", "", seen["mark"], False)
run = partial(store_it, register, shelf, handed, wish, START)
works.begin(shelf, handed, works.Work("store", "KK", START), lambda told: run(die), lambda w: w())
"""


@pytest.mark.skipif(sys.platform == "win32", reason="no signal kills there")
def test_a_killed_process_leaves_nothing_half_written_and_the_page_says_so(clerk, staffed):
    page = clerk.hand_in("ours.xlsx", WHOLE)
    url = staffed.url.render_as_string()
    done = subprocess.run(
        [sys.executable, "-c", DYING, url, f"{staffed.url.database}-handed-in"],
        check=False, capture_output=True, text=True, cwd=ROOT,
    )  # fmt: skip
    assert done.returncode == -9, done.stderr
    assert "was stopped before its end. Nothing was stored." in clerk.text(page)
    with staffed.reading() as session:
        assert not session.scalar(select(func.count()).select_from(SourceRow))
    assert "Stored." in clerk.store(page)


def test_a_lock_is_held_by_one_and_seen_by_others(tmp_path):
    held = take(tmp_path / "lock")
    assert held is not None
    assert is_held(tmp_path / "lock")
    assert take(tmp_path / "lock", tries=1) is None
    held.close()
    assert not is_held(tmp_path / "lock")


def test_nobody_reads_or_hands_in_without_signing_in(staffed, clerk):
    page = clerk.hand_in("ours.xlsx", WHOLE)
    stranger = Visitor(desk_on(staffed))
    for address in ("/sheets", "/sheets/doubts", "/sheets/register-as/workbook", page,
                    f"{page}/back", f"{page}/columns", f"{page}/names"):  # fmt: skip
        assert stranger.look(address).headers["location"].startswith("/sign-in"), address
    with staffed.reading() as session:
        assert doubts(session) == []
