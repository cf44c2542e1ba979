"""The record at the desk: what was written, past days, what differs, the check; no secret shown."""

from __future__ import annotations

import io
import re
from datetime import timedelta

import openpyxl
import pytest
from sqlalchemy import func, select

from app.web.record_words import KINDS
from supports.model import ApiToken, Area, AuditBatch, Base, Nameplate, Reading
from supports.operations.accounts import NewToken, give_token
from supports.queries.record import RecordAsked, batch_page
from tests.operations.days import START
from tests.rules.planning_lines import NUMBER
from tests.test_audit import past_the_guards
from tests.web.desks import password_hash, signed_in

LATER = START + timedelta(days=3)
MARK = "hash-of-a-token-of-the-tests"


@pytest.fixture
def written(staffed):
    """Give the furnished register with a plate corrected, a unit read and a token given later."""
    with staffed.writing("EK", "worn plate cleaned", LATER, action="correct a plate") as writing:
        plate = writing.session.scalars(select(Nameplate).order_by(Nameplate.id)).first()
        plate.stop_rating = 77_000.0
        writing.session.add(
            Reading(
                unit_id=plate.unit_id, read_on=LATER.date(), plant_state="operating, steady",
                scale_load=18_200.0, read_by="TN", method="scale", occasion="other",
            )
        )  # fmt: skip
    give_token(staffed, "kk", NewToken("reports", MARK, "read"), acting="KK", now=LATER)
    return staffed


def looker(register):
    return signed_in(register, "KK", now=LATER + timedelta(days=1))


def numbers(text: str) -> list[int]:
    return [int(one) for one in re.findall(r'href="/record/batch/(\d+)[^"]*">\d', text)]


def test_pages_of_the_record_hold_every_batch_once_both_ways(staffed):
    for place in range(5):
        with staffed.writing("KK", "", START, action=f"act {place}") as writing:
            writing.session.add(Area(code=f"A{place}"))
    with staffed.reading() as session:
        pages = [batch_page(session, RecordAsked(), size=3)]
        while pages[-1].older:
            pages.append(batch_page(session, RecordAsked(), older_than=pages[-1].older, size=3))
        back = [pages[-1]]
        while back[0].newer:
            back.insert(0, batch_page(session, RecordAsked(), newer_than=back[0].newer, size=3))
        every = [*session.scalars(select(AuditBatch.id).order_by(AuditBatch.id.desc()))]
    assert [one.number for page in pages for one in page.batches] == every
    assert [page.batches for page in back] == [page.batches for page in pages]


def test_filters_of_the_record_narrow_it(written):
    visitor = looker(written)
    with written.reading() as session:
        batch = session.scalars(
            select(AuditBatch.id).where(AuditBatch.action == "correct a plate")
        ).one()
    for asked in (
        "kind=units+and+nameplates&since=2031-05-05",
        "kind=readings",
        "person=EK",
        "support=C1&until=2031-05-07&since=2031-05-07",
    ):
        assert numbers(visitor.look(f"/record?{asked}").text) == [batch], asked
    assert numbers(visitor.look("/record?person=EK&until=2031-05-06").text) == []
    assert visitor.look("/record?kind=nonsense").status_code == 400
    assert visitor.look("/record?since=soon").status_code == 400


def test_a_batch_and_a_field_show_old_and_new_side_by_side(written):
    visitor = looker(written)
    with written.reading() as session:
        plate = session.scalars(select(Nameplate.id).order_by(Nameplate.id)).first()
        batch = session.scalar(select(func.max(AuditBatch.id)).where(AuditBatch.actor == "EK"))
    page = visitor.look(f"/record/batch/{batch}?support=C1").text
    assert "77000 N" in page
    assert "operating, steady" in page
    assert "worn plate cleaned" in page
    support = visitor.look("/supports/C1").text
    address = f"/record/row/nameplate/{plate}?field=stop_rating"
    assert address in support
    history = visitor.look(address).text
    assert "77000 N" in history
    assert "correct a plate" in history
    assert "load per turn" not in history


def test_no_secret_of_the_register_is_on_any_page_of_the_record(written):
    """The key that seals forms, hashes of tokens, passwords and sessions stay where they are."""
    visitor = looker(written)
    with written.reading() as session:
        batches = [*session.scalars(select(AuditBatch.id))]
        token = session.scalars(select(ApiToken.id)).one()
        marks = [MARK, "k" * 32, password_hash(), *_sessions(session)]
        keyed = [*session.connection().exec_driver_sql("SELECT id FROM site_setting")]
    between = "/record/between?since=2031-05-01&until=2031-05-20"
    addresses = [
        "/record", between, "/record/day?day=2031-05-08", "/record/day/2031-05-08/C1",
        f"/record/row/api_token/{token}", *(f"/record/batch/{one}" for one in batches),
        *(f"/record/row/site_setting/{row}" for (row,) in keyed),
        *(f"/record/row/{table}/1" for table in ("account_password", "desk_session")),
    ]  # fmt: skip
    pages = {address: visitor.look(address).text for address in addresses}
    pages["workbook"] = _words_of(visitor.get(f"{between}&form=workbook").content)
    assert "api token" in pages["workbook"]
    assert "not shown: a secret" in pages[f"/record/row/api_token/{token}"]
    found = [(name, mark) for name, text in pages.items() for mark in marks if mark in text]
    assert found == []


def _sessions(session) -> list[str]:
    return [
        mark for (mark,) in session.connection().exec_driver_sql("SELECT mark FROM desk_session")
    ]


def _words_of(content: bytes) -> str:
    sheets = openpyxl.load_workbook(io.BytesIO(content)).worksheets
    return " ".join(str(c.value) for sheet in sheets for row in sheet.iter_rows() for c in row)


def test_the_register_of_a_past_day_is_shown_as_it_stood(written):
    visitor = looker(written)
    assert "/record/day/2031-05-04/C1" in visitor.look("/record/day?day=2031-05-04").text
    assert "0 supports" in visitor.look("/record/day?day=2031-05-03").text
    before = visitor.look("/record/day/2031-05-04/C1").text
    after = visitor.look("/record/day/2031-05-07/C1").text
    assert "18.20" in after
    assert "18.20" not in before
    assert "It is no ground for work today" in before
    assert visitor.look("/record/day/2031-05-03/C1").status_code == 404


def test_what_differs_between_two_days_is_told_with_names(written):
    page = looker(written).look("/record/between?since=2031-05-04&until=2031-05-07&support=C1").text
    assert "77000 N" in page
    assert ">C1/A<" in page
    assert "row version" not in page
    assert (
        looker(written).look("/record/between?since=2031-05-09&until=2031-05-04").status_code == 400
    )


def test_the_check_is_made_anew_each_time_and_tells_what_was_altered(written):
    visitor = looker(written)
    visitor.look("/record/whole")
    sound = visitor.hand_in("/record/whole", rows="yes").text
    assert "The record is whole" in sound
    assert "account password" not in sound
    assert "stop_rating" not in sound
    past_the_guards(written, "UPDATE nameplate SET stop_rating = 1.0 WHERE id = 1")
    rows = visitor.hand_in("/record/whole", rows="yes").text
    assert re.search("nameplate 1 says something else than the record: .*stop_rating", rows)
    past_the_guards(written, "UPDATE audit_batch SET reason = 'nothing' WHERE id = 1")
    assert "was tampered with: batch 1" in visitor.hand_in("/record/whole").text


def test_every_table_on_record_is_of_some_kind_and_lists_come_as_workbooks(written):
    held = {one.class_.__tablename__ for one in Base.registry.mappers if not one.class_.off_record}
    assert {table for tables in KINDS.values() for table in tables} == held - {
        "audit_batch", "audit_entry",
    }  # fmt: skip
    visitor = looker(written)
    for address, word in (
        ("/record?person=EK", "worn plate cleaned"),
        ("/lines?text=", NUMBER),
        ("/findings?shown=all", "How soon"),
        ("/travel-stops?line=", "Put in by"),
    ):
        assert word in _words_of(visitor.get(f"{address}&form=workbook").content)
