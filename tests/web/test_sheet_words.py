"""What people say of sheets at the desk: columns, axes, names, units."""

from __future__ import annotations

import re

import pytest

from supports.queries.intake import doubts, profile_history
from supports.queries.joining import decision_history
from tests.rules.planning_lines import NUMBER
from tests.web.sheet_files import LINES, SETTINGS, SUPPORTS, Clerk, words

FORCES = [["Node point", "Hanger", "FX", "FZ"], ["10", "C1", 0.5, -21.0], ["20", "C2", 0.1, -8.0]]
"""Forces on the support along an upward z: a support that carries is pressed down."""


@pytest.fixture
def clerk(staffed, tmp_path):
    return Clerk(staffed, tmp_path)


def confirmed(clerk, page, sheet, as_sheet, chosen, **said):
    """Fill a form of columns in: what each heading is read as; what is not named is left aside."""
    given = clerk.visitor.look(f"{page}/columns?sheet={sheet}&as_sheet={as_sheet}").text
    part = given.partition(f'name="sheet" value="{sheet}"><input type="hidden" name="as_sheet"')[2]
    headings = re.findall(r'<tr><th scope="row">(.*?)</th>', part)
    fields = {f"read-{n}": chosen.get(one, "") for n, one in enumerate(headings)}
    fields |= {"sheet": sheet, "as_sheet": as_sheet} | said
    return clerk.visitor.hand_in(f"{page}/columns", **fields)


def test_columns_of_a_stranger_are_proposed_with_reasons_and_confirmed_by_a_person(clerk, staffed):
    theirs = {"List": [["Pipe line", "Hanger no.", "Type", "Works no"],
                       ["L-9", "H-1", "rigid rod", "A-1"]], "Lines": LINES}  # fmt: skip
    page = clerk.hand_in("theirs.xlsx", theirs)
    asked = clerk.text(f"{page}/columns?sheet=List&as_sheet=Supports")
    assert "the heading is a declared one" in asked
    assert "'Hanger no.' fits better" in asked
    chosen = {"Pipe line": "Line number", "Hanger no.": "Support tag", "Type": "Support type"}
    unnamed = confirmed(clerk, page, "List", "Supports", chosen)
    assert unnamed.status_code == 400
    assert "a profile belongs to a source" in unnamed.text
    assert confirmed(clerk, page, "List", "Supports", chosen, source="works").status_code == 303
    lines = {"Line number": "Line number", "Area": "Area"}
    last = confirmed(clerk, page, "Lines", "Lines", lines, source="works")
    assert last.headers["location"] == page
    assert "support 1 0 0 0" in clerk.text(page)
    with staffed.reading() as session:
        kept = {view.sheet: view for view in profile_history(session, "works")}
    assert kept["List"].profile["left"] == ["Works no"]
    assert kept["List"].person == "KK"
    assert "works · List · read as Supports" in clerk.text("/sheets/profiles")


def test_what_is_left_open_is_asked_and_nothing_typed_is_lost(clerk):
    page = clerk.hand_in("theirs.xlsx", {"List": [["Hanger no.", "Range min"], ["H-1", 8]]})
    answer = confirmed(
        clerk, page, "List", "Supports", {"Hanger no.": "Support tag", "Range min": "?"},
        source="works", reason="list of spring",
    )  # fmt: skip
    assert answer.status_code == 400
    assert "a person must choose" in words(answer.text)
    assert "<option selected>Support tag</option>" in answer.text


def test_loads_of_a_calculation_wait_for_sign_and_axes(clerk, staffed):
    page = clerk.hand_in("forces.xlsx", {"Forces": FORCES}, "stress group")
    said = {"source": "stress group", "force_unit": "kN"}
    shown = clerk.visitor.look(f"{page}/columns?sheet=Forces&as_sheet=Calculation loads").text
    constants = re.findall(r'<label for="k-1-(\d+)">([^<(]+?)(?: \(|<)', shown)
    values = {
        "Calculation": "C-1", "Revision": "B", "Case": "operating", "Case kind": "operating",
        "Line number": NUMBER,
    }  # fmt: skip
    said |= {f"constant-{n}": values.get(name, "") for n, name in constants}
    chosen = {"Hanger": "Support tag"}
    undeclared = confirmed(clerk, page, "Forces", "Calculation loads", chosen, **said)
    assert "cannot be taken without their sign and axes" in words(undeclared.text)
    said |= {"up": "+z", "forces_on": "support"}
    done = confirmed(clerk, page, "Forces", "Calculation loads", chosen, **said)
    assert done.status_code == 303, words(done.text)
    text = clerk.text(page)
    assert "C-1 B C1" in text
    assert "21.00 kN" in text  # pressed down by 21 kN: it carries 21 kN


def test_a_name_is_decided_by_a_person_and_taken_back_by_a_new_word(clerk, staffed):
    sheet = [SETTINGS[0], ["CI", "A", "2030-01-02", "22 kN", "scale", "T1"]]
    page = clerk.hand_in("theirs.xlsx", {"Settings": sheet}, "crew")
    text = clerk.text(f"{page}/names")
    assert "To be decided 1" in text
    assert "C1 : differs in O/0 or I/1 only" in text
    nothing = clerk.visitor.hand_in(f"{page}/names", name="CI", reason="as said")
    assert "a decision says one thing" in nothing.text
    clerk.visitor.hand_in(f"{page}/names", name="CI", way="same", tag="C1", reason="their typing")
    assert "Decided since the file was read: 1." in clerk.text(f"{page}/names")
    clerk.visitor.hand_in(f"{page}/look")
    assert "setting 1 0 0 0" in clerk.text(page)
    clerk.text("/sheets/decisions")
    clerk.visitor.hand_in("/sheets/decisions/undo", source="crew", name="CI", reason="wrong one")
    with staffed.reading() as session:
        kinds = [(one.kind, one.person, one.holds) for one in decision_history(session, "crew")]
    assert kinds == [("same", "KK", False), ("undone", "KK", False)]


def test_a_unit_is_declared_with_a_reason_and_the_value_is_taken(clerk, staffed):
    page = clerk.hand_in("ours.xlsx", {"Settings": SETTINGS})
    clerk.store(page, accept_the_good="yes")
    here = clerk.text("/sheets/doubts")
    assert "The file is here: declare what they are" in here
    clerk.text(f"{page}/unclear")
    said = {"cells": "Settings!D", "unit": "kN"}
    clerk.visitor.hand_in(f"{page}/unclear", **said)
    assert "with a reason only" in clerk.text(page)
    clerk.visitor.hand_in(f"{page}/unclear", **said, reason="as on the scales")
    assert "Values of Settings!D that are in kN: 1." in clerk.text(page)
    assert "Values that waited and were taken: 1." in clerk.store(page)
    with staffed.reading() as session:
        assert doubts(session) == []


def test_a_value_that_nobody_can_tell_stays_unknown_with_a_reason(clerk, staffed):
    clerk.store(clerk.hand_in("ours.xlsx", {"Settings": SETTINGS}), accept_the_good="yes")
    with staffed.reading() as session:
        (one,) = doubts(session)
    clerk.text("/sheets/doubts?tag=C2")
    settle = f"/sheets/doubts/{one.number}/settle"
    assert clerk.visitor.hand_in(settle).status_code == 400
    assert clerk.visitor.hand_in(settle, reason="plate is gone").status_code == 303
    assert "No value waits for an answer." in clerk.text("/sheets/doubts")


def test_every_page_is_there_in_german_and_light(clerk):
    tables = {"Lines": LINES, "Supports": SUPPORTS, "Settings": SETTINGS}
    page = clerk.hand_in("ours.xlsx", tables, "crew")
    clerk.visitor.cookies.set("language", "de")
    for address in ("/sheets", "/sheets/doubts", "/sheets/decisions", "/sheets/profiles", page,
                    f"{page}/columns", f"{page}/names", f"{page}/unclear"):  # fmt: skip
        answer = clerk.visitor.look(address)
        assert answer.status_code == 200, address
        assert len(answer.text) < 150_000
        assert "supports sheets" not in answer.text, address
