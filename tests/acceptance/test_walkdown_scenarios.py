"""Walkdowns as whole stories, typed command by command, on both databases.

The stories and their figures are worked by hand in the trade's manner: common practice, no source.
"""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest
from sqlalchemy import select

from app.settings import open_register
from app.walkdown_papers import write_package
from supports.errors import BadInput, NotAllowed, NotReady
from supports.model import FieldFinding, Reading, SupportTag, WalkEntry, WalkForm, WalkReturn
from supports.tags import matching_key
from tests.acceptance.site import Site
from tests.acceptance.walkdown_plant import (
    CONSTANT,
    NOW,
    add_support,
    fill,
    key,
    key_rest,
    planned,
    reviewed_and_judged,
)
from tests.reports.reading import pages, squeezed

GOOD = ("--pointer", "178", "--load", "20.0", "--grade", "good", "--photos", "1-4")


def held(site: Site, model: type) -> list:
    with open_register(site.url).reading() as session:
        rows = list(session.scalars(select(model).order_by(model.id)))
        session.expunge_all()
        return rows


def codes(site: Site) -> list[str]:
    return [one.code for one in held(site, FieldFinding)]


def workbook(site: Site, number: str, revision: int) -> openpyxl.Workbook:
    return openpyxl.load_workbook(site.folder / f"{number}-walkdown-rev{revision}.xlsx")


def rows_of(book: openpyxl.Workbook) -> dict[str, dict[str, object]]:
    """Return the cells of the readings by tag and heading."""
    lines = list(book["Readings"].iter_rows(min_row=5))
    heads = [cell.value for cell in lines[0]]
    return {line[1].value: dict(zip(heads, line, strict=True)) for line in lines[1:]}


def walk_facts(book: openpyxl.Workbook, walker: str, day: str = "2031-05-06") -> None:
    for line in book["Walk"].iter_rows(min_row=6):
        line[3].value, line[4].value = walker, day
        line[5].value = "operating, steady"


def saved(site: Site, book: openpyxl.Workbook, name: str) -> str:
    path = site.folder / name
    book.save(path)
    return str(path)


def test_paper_walked_tuesday_keyed_friday_by_another(site):
    fill(site)
    number = planned(site)
    key(site, number, "C-1", "--pointer", "7", "--pointer-unit", "divisions", "--marks", "10")
    key(site, number, "C-2", "--seen", "no", "--why-not", "leak beneath")
    entry, unseen = held(site, WalkEntry)
    # 7 of 10 marks on 200 mm: 140 mm; the load box was left blank and stays so.
    assert entry.values["pointer"] == pytest.approx(0.140)
    assert "load" not in entry.values
    assert entry.written["pointer"] == "7"
    assert str(entry.read_on) == "2031-05-06"
    assert {one.keyed_by for one in held(site, WalkReturn)} == {"Person FO"}
    assert {str(one.keyed_at.date()) for one in held(site, WalkReturn)} == {"2031-05-09"}
    assert unseen.values == {
        "seen": False, "why_not": "leak beneath", "read_on": "2031-05-06",
        "plant_state": "operating, steady",
    }  # fmt: skip
    key_rest(site, number, {"C-1", "C-2"})
    printed = reviewed_and_judged(site, number)
    (reading,) = held(site, Reading)
    assert (reading.scale_load, reading.read_by) == (None, "Person T1")
    assert "7 not seen" in printed or "C-2" in printed
    shown = site.say(f"walkdown show {number}")
    assert "not seen, because: leak beneath" in shown


def test_two_walkers_differ_both_are_kept_and_one_is_chosen_by_name(site):
    fill(site)
    number = planned(site)
    key(site, number, "C-1", "--pointer", "178", "--load", "20")
    said = key(site, number, "C-1", "--pointer", "150", walker="Person T2")
    assert "CONFLICT on pointer" in said
    key_rest(site, number, {"C-1"})
    with pytest.raises(NotReady, match="C-1 pointer: Person T1: 178, Person T2: 150"):
        site.say(f"walkdown read-in {number}", person="FO", on="2031-05-10")
    choose = f"walkdown choose {number} C-1 --walker 'Person T2'"
    with pytest.raises(BadInput, match="give the reason"):
        site.say(choose, person="IN", on="2031-05-10")
    site.say(f"{choose} --reason 'read with a ladder'", person="IN", on="2031-05-10")
    reviewed_and_judged(site, number)
    (reading,) = held(site, Reading)
    assert (reading.pointer, reading.scale_load) == (pytest.approx(0.150), pytest.approx(20e3))
    kept = [one.values.get("pointer") for one in held(site, WalkEntry) if "pointer" in one.values]
    assert kept == [pytest.approx(0.178), pytest.approx(0.150)]


def test_who_walked_or_keyed_does_not_review(site):
    fill(site)
    number = planned(site)
    key(site, number, "C-1", *GOOD, walker="Person IN")
    site.say(f"walkdown read-in {number} --lost 'Person T1'", person="FO", on="2031-05-10")
    with pytest.raises(NotAllowed, match="walked or keyed"):
        site.say(f"walkdown review {number}", person="IN", on="2031-05-10")


def test_an_old_form_comes_back_after_a_new_one_and_a_new_reading(site):
    fill(site)
    number = planned(site)
    old = workbook(site, number, 1)
    key(site, number, "C-1", "--pointer", "178")
    key(site, number, "C-3", "--pointer", "175")
    site.type(
        "walkdown", "package", number, "--into", str(site.folder), person="IN", on="2031-05-09"
    )
    assert [form.revision for form in held(site, WalkForm)] == [1, 2]
    rows = rows_of(old)
    walk_facts(old, "Person T2")
    rows["C-2"]["Found pointer"].value = 181
    rows["C-1"]["Found pointer"].value = 160
    rows["C-3"]["Found pointer"].value = 175
    file = saved(site, old, "late.xlsx")
    said = site.type("walkdown", "return", number, file, person="FO", on="2031-05-10")
    assert "revision 1, the newest is 2: compared three ways" in said
    assert "C-2: taken" in said
    assert "C-1: CONFLICT on pointer: Person T2 wrote 160 mm, known is 178 mm" in said
    assert "C-3: CONFLICT" not in said
    assert "8 rows, 5 left blank, 1 with conflicts." in said
    again = site.type("walkdown", "return", number, file, person="FO", on="2031-05-10")
    assert "read in before; nothing was changed" in again


def test_a_newer_form_carries_what_is_known_and_reads_back_as_untouched(site):
    fill(site)
    number = planned(site)
    key(site, number, "C-1", *GOOD)
    site.type(
        "walkdown", "package", number, "--into", str(site.folder), person="IN", on="2031-05-09"
    )
    entries = len(held(site, WalkEntry))
    new = workbook(site, number, 2)
    assert rows_of(new)["C-1"]["Found pointer"].value == pytest.approx(178.0)
    walk_facts(new, "Person T2")
    said = site.type(
        "walkdown", "return", number, saved(site, new, "second.xlsx"), person="FO", on="2031-05-10"
    )
    assert "0 with conflicts" in said
    assert len(held(site, WalkEntry)) == entries


@pytest.mark.parametrize("heading", ["Row id", "Row seal", "Tag"])
def test_a_form_altered_where_it_may_not_be_is_refused_with_its_row(site, heading):
    fill(site)
    number = planned(site)
    book = workbook(site, number, 1)
    rows_of(book)["C-2"][heading].value = "999"
    walk_facts(book, "Person T1")
    with pytest.raises(BadInput, match=r"row 7") as refused:
        site.type(
            "walkdown",
            "return",
            number,
            saved(site, book, "bad.xlsx"),
            person="FO",
            on="2031-05-10",
        )
    assert "nothing was taken" in str(refused.value)
    assert held(site, WalkEntry) == []


def test_a_stuck_travel_stop_in_operation_is_a_stop_and_names_the_unit(site):
    fill(site)
    number = planned(site)
    key(
        site,
        number,
        "C-5",
        "--pointer",
        "40",
        "--load",
        "20",
        "--stop",
        "seized",
        "--grade",
        "worn",
    )
    key(site, number, "C-2", *GOOD, "--stop", "out and missing")
    key(site, number, "C-3", *GOOD, "--stop", "out")
    key_rest(site, number, {"C-2", "C-3", "C-5"})
    printed = reviewed_and_judged(site, number)
    assert "STOP C-5" in printed
    assert "LOOK C-2            lock-not-in-holder: travel stop out and missing" in printed
    # The rules over the whole register hear of it from the walk.
    site.say("rules run", person="S1", on="2031-05-12")
    shown = site.say("rules show --rule lock-not-in-holder", on="2031-05-12")
    assert "C-2" in shown
    assert "C-3" not in shown
    assert {"lock-in-while-running", "lock-seized"} <= set(codes(site))
    (stop, *_) = [one for one in held(site, FieldFinding) if one.code == "lock-seized"]
    assert (stop.how_soon, stop.severity) == ("before start", "STOP")


def test_an_unreadable_plate_is_cannot_judge_and_a_finding(site):
    fill(site)
    with open_register(site.url).writing("tests", "", NOW, action="fill") as writing:
        add_support(writing.session, "C-9", 9, "constant hanger", plate={})
    number = planned(site)
    key(
        site, number, "C-9", "--pointer", "50", "--pointer-unit", "mm", "--grade", "good",
        "--wrong", "plate not readable",
    )  # fmt: skip
    key_rest(site, number, {"C-9"})
    printed = reviewed_and_judged(site, number)
    assert "plate-not-readable" in codes(site)
    assert "ACT  C-9" in printed
    shown = site.say(f"walkdown show {number}")
    assert "cannot tell (missing:" in shown
    assert "setting" in shown


def test_without_a_setting_the_plate_is_not_taken_for_it(site):
    fill(site)
    with open_register(site.url).writing("tests", "", NOW, action="fill") as writing:
        add_support(writing.session, "C-9", 9, "constant hanger", plate=CONSTANT)
    number = planned(site)
    key(site, number, "C-9", "--pointer", "179", "--load", "21.6", "--grade", "good")
    # 21.6 kN against the last setting of 20.0 kN: 8 % off, reading error 2 %.
    key(site, number, "C-1", "--pointer", "179", "--load", "21.6", "--grade", "good")
    key_rest(site, number, {"C-9", "C-1"})
    reviewed_and_judged(site, number)
    rows = site.say(f"walkdown show {number}").splitlines()
    assert "cannot judge" in next(row for row in rows if " C-9 " in row)
    told = [(one.code, one.what) for one in held(site, FieldFinding)]
    assert [code for code, _ in told].count("set-without-record") == 1
    assert any("21.60 kN" in words and "20.00 kN" in words for _, words in told)


def renamed(site: Site, old: str, new: str, on: date) -> None:
    """Give a support a new tag, and hang the old one on another support elsewhere."""
    with open_register(site.url).writing("tests", "", NOW, action="rename") as writing:
        session = writing.session
        held = session.scalar(select(SupportTag).where(SupportTag.tag == old))
        held.valid_to = on
        session.flush()
        session.add(
            SupportTag(
                point_id=held.point_id, tag=new, matching_key=matching_key(new), valid_from=on
            )
        )
        add_support(session, old, 20, "constant hanger", plate=CONSTANT, setting=20e3)


def test_a_renamed_support_keeps_one_story_and_old_papers_their_name(site):
    fill(site)
    number = planned(site)
    book = workbook(site, number, 1)
    renamed(site, "C-1", "PS-1", date(2031, 5, 7))
    # A form printed under the old tag comes back to the support that bore it then.
    rows_of(book)["C-1"]["Found pointer"].value = 178
    walk_facts(book, "Person T1")
    file = saved(site, book, "old-name.xlsx")
    said = site.type("walkdown", "return", number, file, person="FO", on="2031-05-10")
    assert "C-1: taken" in said
    shown = site.say(f"walkdown show {number}")
    assert "178\xa0mm" in next(row for row in shown.splitlines() if "PS-1 " in row)
    key_rest(site, number, {"C-1"})
    reviewed_and_judged(site, number)
    # Its story is one line, found by either name's support; the new C-1 has none of it.
    assert "formerly C-1" in site.say("support show PS-1")
    assert "2031-05-06" in site.say("unit history PS-1")
    assert "2031-05-06" not in site.say("unit history C-1")
    # A paper of the form as issued prints the name of that day, whenever it is printed.
    into = str(site.folder / "again")
    with open_register(site.url).reading() as session:
        paper, _ = write_package(session, number, Path(into), datetime(2032, 1, 2, 8))  # noqa: DTZ001  as printed
    words = squeezed(" ".join(pages(paper.read_bytes())))
    assert "SN-C-1" in words
    assert "PS-1" not in words
    # Next year's form has both, each with its own readings.
    plan = "walkdown plan next --on 2032-05-06 --line L-7 --number WD-B"
    site.say(plan, person="IN", on="2032-05-01")
    site.type("walkdown", "package", "WD-B", "--into", into, person="IN", on="2032-05-01")
    rows = rows_of(openpyxl.load_workbook(site.folder / "again" / "WD-B-walkdown-rev1.xlsx"))
    assert "178" in rows["PS-1"]["Last operating"].value
    assert rows["C-1"]["Last operating"].value == "never"


def test_three_hundred_tags_and_nothing_else(site):
    with open_register(site.url).writing("tests", "", NOW, action="fill") as writing:
        for number in range(1, 301):
            add_support(writing.session, f"T-{number}", number, "unknown", height_above_floor=None)
    said = site.say("walkdown plan everything --on 2031-05-06", person="IN")
    number = said.split()[0]
    site.type("walkdown", "package", number, "--into", str(site.folder), person="IN")
    shown = site.say(f"walkdown show {number}")
    assert shown.count("NOT SEEN, NO REASON") == 300
    assert "as expected" not in shown
    assert "300 never seen, 300 overdue" in site.say("walkdown coverage")
    site.say("rules run", person="S1")
    papers = {
        "walkdown-package": number, "walkdown-close-out": number, "support-data-sheet": "T-17",
        "plant-status": "", "rules-report": "",
    }  # fmt: skip
    for name, about in papers.items():
        words = (name, about) if about else (name,)
        made = site.type("paper", "make", *words, "--form", "pdf", "--into", str(site.folder))
        (file,) = [Path(line) for line in made.split() if line.endswith(".pdf")]
        assert file.read_bytes().startswith(b"%PDF"), name
    report = squeezed(" ".join(pages((site.folder / f"{number}-as-it-stands.pdf").read_bytes())))
    assert squeezed("0 of 300, 300 not seen") in report
    assert squeezed("as expected") not in report
