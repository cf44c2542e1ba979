"""A line as it would be, at the desk: shown at once, carried into a change, never stored."""

from __future__ import annotations

import html
import re
from urllib.parse import urlencode

import pytest
from sqlalchemy import select

from supports.model import Line
from supports.queries.audit_head import audit_head
from supports.queries.change_views import change_view
from supports.queries.route_views import route_view
from supports.rules.line.what_if import Supposed, what_if
from tests.operations.days import START
from tests.rules.planning_lines import NUMBER
from tests.web.desks import signed_in

PAGE = f"/lines/{NUMBER}/what-if"
HIDDEN = re.compile(r'<input type="hidden" name="(\w+)" value="([^"]*)"')


def asked(**said):
    return f"{PAGE}?{urlencode(said)}"


def test_the_empty_form_offers_the_supports_and_says_nothing_yet(staffed):
    text = signed_in(staffed, "S1").look(PAGE).text
    held = text.partition('name="held"')[2].partition("</select>")[0]
    assert "<option>R1" in text.partition('name="held"')[0]
    assert "<option>C1" in held
    assert "<option>R1" not in held
    assert "nothing stored" not in text


def test_the_answer_is_that_of_the_screening_and_nothing_is_stored(staffed):
    visitor = signed_in(staffed, "S1")
    with staffed.reading() as session:
        head = audit_head(session)
        wanted = what_if(route_view(session, NUMBER), Supposed(contents=300.0, taken_out="V1"))
    text = visitor.look(asked(contents="300", out="V1")).text
    assert "screening, nothing stored" in text
    assert "V1 taken out" in text
    for one in wanted.supports:
        row = re.search(rf">{one.tag}</a></th>(.*?)</tr>", text, re.DOTALL)[1]
        assert f">{one.before / 1e3:.2f}<" in row
        assert (f">{one.after / 1e3:.2f}<" if one.after is not None else "is taken out") in row
    assert f"<strong>{wanted.added / 1e3:+.2f}</strong>" in text
    with staffed.reading() as session:
        assert audit_head(session) == head


def test_what_does_not_differ_is_a_plain_0_and_the_page_says_what_it_means(staffed):
    text = signed_in(staffed, "S1").look(asked(held="C1")).text
    row = re.search(r">R1</a></th>(.*?)</tr>", text, re.DOTALL)[1]
    assert row.count(">0<") == 2
    assert not re.search(r">[+-]?0\.00?<", row)
    assert "0: no difference" in text


@pytest.mark.parametrize(
    ("said", "status", "words"),
    [
        ({"thickness": "80 mm"}, 409, "cannot judge (missing: density of the insulation)"),
        ({"density": "120 kg/m3"}, 409, "cannot judge (missing: thickness of the insulation)"),
        ({"contents": "heavy"}, 400, "heavy"),
        ({"contents": "9 kN"}, 400, "kN"),
        ({"contents": "9", "first": "4 m", "last": "4 m"}, 400, "no length"),
        ({"out": "X9"}, 404, "X9"),
        ({"held": "R1"}, 404, "R1"),
    ],
)
def test_what_is_missing_or_cannot_be_read_is_told_beside_what_was_typed(
    staffed, said, status, words
):
    answer = signed_in(staffed, "S1").look(asked(**said))
    assert answer.status_code == status
    assert words in html.unescape(answer.text)
    for typed in said.values():
        assert typed in answer.text


def test_an_unknown_of_the_line_is_named(staffed):
    with staffed.writing("KK", "", START, action="forget the content") as writing:
        line = writing.session.scalars(select(Line)).one()
        line.content_mass_per_length = None
    answer = signed_in(staffed, "S1").look(asked(out="V1"))
    assert answer.status_code == 409
    assert "missing: content" in answer.text


@pytest.mark.parametrize(
    "page",
    [asked(contents="300", first="4 m", last="10 m"), f"/lines/{NUMBER}/weight?mass=-250+kg"],
)
def test_it_is_carried_into_the_form_of_a_new_change_and_noted_from_there(staffed, page):
    visitor = signed_in(staffed, "S1")
    text = visitor.look(page).text
    form = text.partition('<form method="get" action="/changes/new"')[2].partition("</form>")[0]
    carried = [(name, html.unescape(value)) for name, value in HIDDEN.findall(form)]
    new = visitor.look(f"/changes/new?{urlencode(carried)}").text
    masses = [value for name, value in carried if name == "mass"]
    assert masses
    assert all(f'value="{mass}"' in new for mass in masses)
    fields = ("line", "description", "way", "mass", "along", "off_axis", "above_axis", "source")
    rows = {name: [value for key, value in carried if key == name] for name in fields}
    rows |= {name: [""] * len(masses) for name in ("line", "off_axis", "above_axis")}
    noted = visitor.hand_in(
        "/changes/new", title="tried", reason="", lines=NUMBER, duration="permanent", until="",
        wanted="", number="", **rows,
    )  # fmt: skip
    assert noted.status_code == 303
    with staffed.reading() as session:
        weights = change_view(session, noted.headers["location"].rpartition("/")[2]).weights
    signs = {"added": 1.0, "removed": -1.0}
    wanted = [
        signs[way] * float(mass.split()[0]) for way, mass in zip(rows["way"], masses, strict=True)
    ]
    assert [one.mass for one in weights] == pytest.approx(wanted)


def test_rows_of_an_address_that_are_not_whole_are_refused(staffed):
    answer = signed_in(staffed, "S1").look("/changes/new?description=a&mass=1+kg")
    assert answer.status_code == 400


def test_it_speaks_german(staffed):
    visitor = signed_in(staffed, "S1")
    text = visitor.look(asked(contents="300"), headers={"accept-language": "de"}).text
    assert "Überschlag, nichts gespeichert" in text


def test_it_is_asked_by_keyboard_and_answered_in_place(page_of):
    page = page_of("S1")
    page.goto(PAGE)
    page.evaluate("window.kept = 1")
    page.get_by_label("Contents, density").press_sequentially("300")
    page.keyboard.press("Enter")
    page.wait_for_url("**/what-if?*contents=300*")
    assert page.locator("#answer .mark", has_text="nothing stored").count() == 1
    assert page.evaluate("window.kept") == 1


def test_it_answers_without_scripts_too(page_of):
    page = page_of("S1", java_script_enabled=False)
    page.goto(PAGE)
    page.get_by_label("Support taken out").select_option("V1")
    page.get_by_role("button", name="Show", exact=True).click()
    assert "V1 taken out" in page.locator("#answer").inner_text()
