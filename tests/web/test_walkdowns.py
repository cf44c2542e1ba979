"""Walkdowns at the desk: from the plan to the sign-off, and findings to their end."""

from __future__ import annotations

from io import BytesIO

import pytest
from openpyxl import load_workbook

from supports.database import Register
from supports.operations.people import add_person
from supports.queries.walkdowns.findings import finding_views
from supports.vocabulary import Role
from tests.operations.days import START, day
from tests.web.desks import signed_in
from tests.web.tablets import WALK, campaign_out, tablet_of

HERE = f"/walkdowns/{WALK}"
PLAN = {"title": "yearly walk", "walk_on": "2031-05-06", "state": "operating, steady"}


def act(register: Register, person: str, road: str, /, **fields: str) -> str:
    """Hand in a form of the desk as somebody; return the page that follows, or the refusal."""
    visitor = signed_in(register, person)
    answer = visitor.hand_in(road, **fields)
    if answer.status_code == 303:
        return visitor.look(answer.headers["location"]).text
    return answer.text


@pytest.fixture
def walk(staffed: Register) -> Register:
    """Give a register in which a campaign is issued."""
    campaign_out(staffed)
    return staffed


def test_a_campaign_is_planned_issued_and_taken_along(staffed):
    assert WALK in act(staffed, "IN", "/walkdowns", **PLAN)
    assert "none issued yet" in signed_in(staffed, "IN").look(HERE).text
    assert "revision 1" in act(staffed, "IN", f"{HERE}/issue")
    visitor = signed_in(staffed, "IN")
    answer = visitor.hand_in(f"{HERE}/take-along")
    assert answer.headers["location"] == f"/tablet#take/walkdowns/{WALK}"
    assert "out walking" in visitor.look(HERE).text


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"walk_on": "soon"}, "no day is named"),
        ({"title": " "}, "has no title"),
        ({"line": "L-404"}, "L-404"),
        ({"state": "bare"}, "walked operating or shut down"),
    ],
)
def test_a_plan_that_cannot_be_is_shown_again_with_what_was_typed(staffed, wrong, said):
    page = act(staffed, "IN", "/walkdowns", **(PLAN | {"reason": "as every year"} | wrong))
    assert said in page
    assert "as every year" in page


def test_who_may_not_plan_is_told(staffed):
    assert "may plan a walkdown" in act(staffed, "T1", "/walkdowns", **PLAN)


def test_a_workbook_comes_back_over_the_desk(walk):
    visitor = signed_in(walk, "IN")
    blank = visitor.get(f"/papers/walkdown-package?about={WALK}&form=xlsx")
    book = load_workbook(BytesIO(blank.content))
    sheet = book["Readings"]
    head = next(row for row in sheet.iter_rows() if row[1].value == "Tag")
    columns = {cell.value: cell.column for cell in head}
    first = head[0].row + 1
    sheet.cell(first, columns["Seen?"], "yes")
    sheet.cell(first, columns["Found load"], 8.7)
    kept = BytesIO()
    book.save(kept)
    sent = {"file": ("walked.xlsx", kept.getvalue())}
    fields = {"form_key": visitor.form_key, "walker": "T1"}
    page = visitor.post(f"{HERE}/return", data=fields, files=sent).text
    assert "C1: taken load, seen" in page
    boxes = page.partition("The form box by box")[2]
    assert '<th scope="row" class="id">C1</th><td>load</td><td></td><td>8.70 kN</td>' in boxes
    again = visitor.post(f"{HERE}/return", data=fields, files=sent).text
    assert "This file was read in before" in again
    assert "no workbook was handed in" in visitor.hand_in(f"{HERE}/return").text
    wrong = {"file": ("walked.xlsx", b"no workbook")}
    assert "opened as a workbook" in visitor.post(f"{HERE}/return", data=fields, files=wrong).text


def test_differing_walkers_stand_in_the_way_until_a_person_chooses(walk):
    for who, load in (("IN", "8.7"), ("T1", "9.9")):
        tablet = tablet_of(walk, who)
        tablet.became(tablet.noted("C1", load=load, seen="yes"))
    assert "C1 load: IN: 8.7, T1: 9.9" in act(walk, "IN", f"{HERE}/step/read-in")
    said = {"tag": "C1", "walker": "T1"}
    assert "give the reason" in act(walk, "IN", f"{HERE}/choose", **said)
    page = act(walk, "IN", f"{HERE}/choose", **said, reason="read twice")
    assert "The word of T1 stands; chosen by IN: read twice" in page
    assert "read in" in act(walk, "IN", f"{HERE}/step/read-in")


def test_a_campaign_to_its_end_and_a_finding_to_its_own(walk):
    add_person(walk, "I2", [Role.INSPECTOR], acting="KK", now=START)
    tablet = tablet_of(walk, "T1")
    rows = [
        tablet.noted(row["tag"], seen="yes", load=load, plant_state="operating, steady")
        for row, load in zip(tablet.copy["rows"], ("8.7", "3.23", "", "6.0"), strict=True)
    ]
    rows[0]["written"]["fault"] = "fastener loose or missing"
    tablet.became(*rows)
    assert "read in" in act(walk, "T1", f"{HERE}/step/read-in")
    assert "they walked or keyed in" in act(walk, "T1", f"{HERE}/step/review")
    act(walk, "IN", f"{HERE}/step/review")
    page = act(walk, "IN", f"{HERE}/step/judge")
    assert f"{WALK}-F01" in page
    assert "has no owner" in act(walk, "CO", f"{HERE}/step/owners-named")
    with walk.reading() as session:
        raised = finding_views(session)
    for one in raised:
        act(walk, "CO", f"/findings/{one.number}/owner", person="S1", day="2031-06-01")
    assert "findings given owners" in act(walk, "CO", f"{HERE}/step/owners-named")
    verdict = f"{HERE}/step/give-verdict"
    assert "engineer" in act(walk, "S1", verdict, words="as expected, one nut loose")
    assert "signed off" in act(walk, "RE", f"{HERE}/step/sign-off")
    _see_to_its_end(walk, raised[0].number)


def _see_to_its_end(walk: Register, number: str) -> None:
    road = f"/findings/{number}"
    assert "answer proposed" in act(walk, "S1", f"{road}/answer", words="tighten", by="WO-2031-001")
    assert "day to come" in act(walk, "T1", f"{road}/done", words="tight", day="2031-07-01")
    assert "done in the field" in act(walk, "T1", f"{road}/done", words="tight", day="2031-05-04")
    assert "they did the work" in act(walk, "T1", f"{road}/verify", words="seen")
    assert "owner named" in act(walk, "IN", f"{road}/not-mended", words="still loose")
    act(walk, "S1", f"{road}/answer", words="new nut")
    act(walk, "T1", f"{road}/done", words="new nut", day="2031-05-04")
    assert "verified by inspector" in act(walk, "IN", f"{road}/verify", words="tight now")
    assert "closed" in act(walk, "CO", f"{road}/close")


def test_overdue_findings_are_listed_first_and_accepted_ones_wait(walk):
    number = "WD-2031-001-F01"
    act(walk, "IN", f"{HERE}/tell", tag="C1", what="scale dirty", how_soon="watch")
    assert "a finding says what is wrong" in act(
        walk, "IN", f"{HERE}/tell", tag="C1", how_soon="now"
    )
    act(walk, "CO", f"/findings/{number}/owner", person="S1", day="2031-05-10")
    late = signed_in(walk, "CO", now=day(10))
    assert "overdue in all: 1" in late.look("/findings?shown=overdue").text
    assert number in late.look("/findings?owner=S1").text
    assert number not in late.look("/findings?shown=without+owner").text
    accepted = act(walk, "S1", f"/findings/{number}/accept", words="reads well", day="2031-06-30")
    assert "accepted as it is" in accepted
    assert number not in late.look("/findings").text
    assert number in late.look("/findings?shown=all").text
    assert number in signed_in(walk, "CO", now=day(70)).look("/findings?shown=overdue").text


def test_coverage_names_what_is_overdue(walk):
    tablet = tablet_of(walk, "IN")
    page = tablet.visitor.look("/walkdowns/coverage").text
    assert page.count("never") >= 4
    tablet.became(tablet.noted("C1", load="8.7", seen="yes", plant_state="operating, steady"))
    assert tablet.visitor.look("/walkdowns/coverage").text.count("never") == page.count("never") - 1


@pytest.mark.parametrize(
    ("road", "status"),
    [("/walkdowns/WD-404", 404), ("/findings/WD-404-F01", 404), (f"{HERE}/step/dance", 400)],
)
def test_what_is_not_there_is_told(walk, road, status):
    visitor = signed_in(walk, "IN")
    answer = visitor.hand_in(road) if "step" in road else visitor.look(road)
    assert answer.status_code == status
