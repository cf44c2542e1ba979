"""The list of supports: filters, order, pages that neither lose nor repeat a support."""

from __future__ import annotations

import re

import pytest
from sqlalchemy import select

from supports.model import Area, Assembly, SupportPoint, SupportTag
from supports.queries.register_list import (
    SORTS,
    ListFilter,
    all_listed,
    count_listed,
    listed_page,
)
from supports.tags import matching_key
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
    if sort != "tag":
        order = [(keys[tag], tag) for tag in forwards]
        assert order == sorted(order, reverse=falling)


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
