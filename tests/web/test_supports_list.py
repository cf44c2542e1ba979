"""The list of supports: filters, order, pages that neither lose nor repeat a support."""

from __future__ import annotations

import io
import re
from datetime import date

import openpyxl
import pytest
from sqlalchemy import select, text

from app.web.asked import answered
from app.web.visits import Visit
from supports.model import Area, Assembly, SupportPoint, SupportTag
from supports.queries.questions import answer_question, saved_question
from supports.queries.register_list import (
    SORTS,
    ListFilter,
    all_listed,
    count_listed,
    listed_page,
    page_query,
)
from supports.rules.questions import Question
from supports.tags import matching_key, natural_key
from tests.operations.days import START
from tests.web.desks import signed_in

TAGS = [f"PS-{n}" for n in (9, 10, 11, 100, 101, 7, 8, 70, 71, 72, 73)]


def many(register) -> None:
    """Enter supports of two kinds and classes, some in an area."""
    with register.writing("KK", "", START, action="furnish") as writing:
        area = Area(code="N")
        writing.session.add(area)
        writing.session.flush()
        for number, tag in enumerate(TAGS):
            point = SupportPoint(
                area_id=area.id if number % 3 else None,
                kind="rest" if number % 2 else "guide",
                criticality="AB"[number % 2] if number % 4 else None,
                in_service="yes",
            )
            writing.session.add(point)
            writing.session.flush()
            writing.session.add(
                SupportTag(point_id=point.id, tag=tag, matching_key=matching_key(tag))
            )
            writing.session.add(Assembly(point_id=point.id, arrangement="single"))


def walked(session, asked, sort, *, falling, size=3):
    """Return the tags of all pages forwards, and of all pages back again."""
    page = listed_page(session, asked, sort, falling=falling, size=size)
    pages = [page]
    while page.after:
        page = listed_page(session, asked, sort, falling=falling, after=page.after, size=size)
        pages.append(page)
    back = [page]
    while page.before:
        page = listed_page(session, asked, sort, falling=falling, before=page.before, size=size)
        back.insert(0, page)
    return [[row.tag for one in way for row in one.rows] for way in (pages, back)]


@pytest.mark.parametrize("falling", [False, True])
@pytest.mark.parametrize("sort", SORTS)
def test_pages_hold_every_support_once_forwards_and_back(register, sort, falling):
    many(register)
    with register.reading() as session:
        forwards, back = walked(session, ListFilter(), sort, falling=falling)
        keys = dict(
            session.execute(
                select(SupportTag.tag, SORTS[sort])
                .join(SupportPoint, SupportPoint.id == SupportTag.point_id)
                .outerjoin(Area, SupportPoint.area_id == Area.id)
            ).all()
        )
    assert forwards == back
    assert sorted(forwards) == sorted(TAGS)
    order = [("" if sort == "tag" else keys[tag], natural_key(tag)) for tag in forwards]
    assert order == sorted(order, reverse=falling)


def test_a_page_by_tag_is_read_off_its_index(register):
    many(register)
    with register.reading() as session:
        page = listed_page(session, ListFilter(), size=3)
        asked = str(
            page_query(ListFilter(), "tag", page.after, size=3).compile(
                session.get_bind(), compile_kwargs={"literal_binds": True}
            )
        )
        how = "EXPLAIN QUERY PLAN"
        if session.get_bind().dialect.name == "postgresql":
            session.execute(text("SET LOCAL enable_seqscan = off"))
            how = "EXPLAIN"
        said = "\n".join(" ".join(map(str, row)) for row in session.execute(text(f"{how} {asked}")))
    assert "ix_support_tag_present_sort_key" in said
    assert "TEMP B-TREE" not in said
    assert "Sort" not in said


@pytest.mark.parametrize(
    ("asked", "left"),
    [
        (ListFilter(kind="rest"), {"PS-10", "PS-100", "PS-7", "PS-70", "PS-72"}),
        (ListFilter(text="ps 7"), {"PS-7", "PS-70", "PS-71", "PS-72", "PS-73"}),
        (ListFilter(text="%"), set()),
        (ListFilter(area="N", kind="guide", criticality="A"), {"PS-11", "PS-73"}),
        (ListFilter(area="nowhere"), set()),
    ],
)
def test_filters_narrow_together(register, asked, left):
    many(register)
    with register.reading() as session:
        assert {row.tag for row in listed_page(session, asked).rows} == left
        assert count_listed(session, asked) == len(left)
        assert {row.tag for row in all_listed(session, asked)} == left


def test_the_list_shows_lines_settings_and_readings(staffed):
    text = signed_in(staffed, "IN").look("/supports").text
    rows = re.findall(r"<tr><th scope=\"row\".*?</tr>", text)
    assert len(rows) == 4
    assert all("/lines/" in row for row in rows)
    assert "never" in text


def test_a_tag_leads_straight_to_its_support(staffed):
    answer = signed_in(staffed, "IN").look("/supports?tag=PS-1%2FA")
    assert answer.headers["location"] == "/supports/PS-1%2FA"


def test_the_form_keeps_what_was_asked_and_pages_keep_it_too(staffed):
    many(staffed)
    visitor = signed_in(staffed, "IN")
    text = visitor.look("/supports?kind=guide&text=ps&sort=kind&falling=true").text
    assert '<option value="guide" selected>' in text
    assert 'value="ps"' in text
    assert 'aria-sort="descending"' in text
    assert "6 supports" in text


def test_an_order_that_there_is_not_is_by_tag(staffed):
    assert signed_in(staffed, "IN").look("/supports?sort=colour").status_code == 200


def test_hostile_words_stay_words(staffed):
    visitor = signed_in(staffed, "IN")
    text = visitor.look("/supports?text=%22%3E%3Cscript%3Ealert(1)%3C/script%3E").text
    assert "<script>alert" not in text
    assert "&lt;script&gt;" in text


def shown(text: str) -> list[str]:
    return re.findall(r'<th scope="row" class="id"><a href="/supports/([^"]+)"', text)


def test_the_list_of_a_verdict_is_that_of_the_command(staffed):
    with staffed.reading() as session:
        for verdict in ("re-set", "leave", "cannot judge"):
            wanted = answer_question(session, Question(verdict=verdict), START.date())
            text = signed_in(staffed, "IN").look(f"/supports?verdict={verdict}").text
            assert shown(text) == sorted(set(wanted.tag), key=natural_key)


def test_answers_of_the_rules_are_paged_both_ways(staffed):
    many(staffed)
    visitor = signed_in(staffed, "IN")
    with staffed.reading() as session:
        visit = Visit(None, visitor.app.state.desk, START, None, "", "en")
        whole = answered(visit, session, Question(answer="cannot judge"))
        assert len(whole.tags) > 4
        pages, page = [], whole.page(session, None, None, 3)
        while True:
            pages.append(page)
            if page.after is None:
                break
            page = whole.page(session, page.after, None, 3)
        back = [page]
        while page.before:
            page = whole.page(session, None, page.before, 3)
            back.insert(0, page)
        assert [row.tag for one in pages for row in one.rows] == list(whole.tags)
        assert [one.rows for one in back] == [one.rows for one in pages]


def test_an_answer_is_kept_until_the_register_changes(staffed, monkeypatch):
    asked = []

    def counting(*words):
        asked.append(words)
        return answer_question(*words)

    monkeypatch.setattr("app.web.asked.answer_question", counting)
    visitor = signed_in(staffed, "S1")
    for _ in range(2):
        visitor.look("/supports?severity=STOP")
    assert len(asked) == 1
    many(staffed)
    visitor.look("/supports?severity=STOP")
    assert len(asked) == 2


def test_a_question_is_kept_and_asked_again(staffed):
    visitor = signed_in(staffed, "S1")
    visitor.look("/supports?kind=rigid+rod&room_below=2+kN")
    asked = "/saved-questions?kind=constant+hanger&room_below=2+kN&text=c&not_read_since=2031-01-01"
    assert visitor.hand_in(asked, name="near the end").status_code == 303
    led = visitor.look("/saved-questions/near%20the%20end").headers["location"]
    with staffed.reading() as session:
        kept = saved_question(session, "near the end")
    assert kept == Question(
        kind="constant hanger", room_below=2000.0, part_of_tag="c", not_read_since=date(2031, 1, 1)
    )
    text = visitor.look(led).text
    assert 'value="2.00 kN"' in text
    assert "near the end" in text
    assert visitor.hand_in("/saved-questions", name=" ").status_code == 400


def test_what_is_shown_comes_as_a_workbook(staffed):
    visitor = signed_in(staffed, "S1")
    answer = visitor.get("/supports-as-workbook?kind=constant+hanger")
    sheet = openpyxl.load_workbook(io.BytesIO(answer.content))["Answer"]
    tags = {row[1].value for row in sheet.iter_rows()} & {"C1", "C2", "V1", "R1"}
    assert tags == {"C1", "C2"}


@pytest.mark.parametrize(
    "wrong", ["kind=spring", "room_below=2", "not_read_since=soon", "rule=nobodys", "severity=BAD"]
)
def test_a_question_that_cannot_be_asked_is_told(staffed, wrong):
    answer = signed_in(staffed, "S1").look(f"/supports?{wrong}")
    assert answer.status_code in {400, 404}
    assert "Not done" in answer.text
