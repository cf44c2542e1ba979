"""A campaign signed off stays as it was; its findings go on to their end, each by another hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import select, text
from sqlalchemy.exc import DBAPIError

from app.settings import open_register
from supports.audit import head
from supports.errors import BadInput, NotAllowed, NotReady
from supports.freezing import fingerprint, short, to_plain
from supports.model import FieldFinding, Nameplate, SupportTag, WalkCloseout
from supports.queries.walkdowns.findings import finding_views
from supports.queries.walkdowns.record import frozen_record
from tests.acceptance.site import Site
from tests.acceptance.walkdown_plant import (
    NOW,
    fill,
    key,
    key_rest,
    planned,
    reviewed_and_judged,
)
from tests.reports.reading import pages, squeezed

DAY = "2031-05-13"


@pytest.fixture
def judged(site):
    """Give a site whose walk is judged: a rod bent, a stop seized; return its findings by tag."""
    fill(site)
    number = planned(site)
    key(site, number, "C-1", "--pointer", "178", "--load", "20", "--grade", "worn",
        "--wrong", "rod bent")  # fmt: skip
    key(site, number, "C-5", "--pointer", "40", "--load", "20", "--stop", "seized",
        "--grade", "good")  # fmt: skip
    key_rest(site, number, {"C-1", "C-5"})
    reviewed_and_judged(site, number)
    return site, number


def numbers(site: Site, code: str) -> list[str]:
    with open_register(site.url).reading() as session:
        rows = session.scalars(select(FieldFinding).where(FieldFinding.code == code))
        return [one.number for one in rows]


def say(site: Site, line: str, person: str, on: str = DAY) -> str:
    return site.say(f"walkdown {line}", person=person, on=on)


def closed(site: Site, number: str) -> None:
    with open_register(site.url).reading() as session:
        found = [one.number for one in finding_views(session)]
    for one in found:
        say(site, f"owner {one} 'Person S1' --due 2031-06-01", "IN")
    say(site, f"owners-named {number}", "IN")
    say(site, f"verdict {number} 'fit to run on'", "S1")
    say(site, f"close {number}", "RE")


def report(site: Site, number: str, on: str, *more: str) -> bytes:
    into = ("--into", str(site.folder))
    path = site.type("walkdown", "report", number, *into, *more, on=on).strip()
    return Path(path).read_bytes()


def test_a_close_out_is_the_same_bytes_after_every_correction(judged, register):
    site, number = judged
    before = report(site, number, DAY)
    closed(site, number)
    with open_register(site.url).reading() as session:
        proof = short(head(session))
    first = report(site, number, DAY)
    assert first != before
    assert squeezed(proof) in squeezed(" ".join(pages(first)))
    with open_register(site.url).writing("tests", "", NOW, action="correct") as writing:
        session = writing.session
        for plate in session.scalars(select(Nameplate)):
            plate.hot_mark, plate.nameplate_load = 0.15, 19e3
        tag = session.scalar(select(SupportTag).where(SupportTag.tag == "C-1"))
        tag.tag = "C-1-corrected"
    (bent,) = numbers(site, "fault-seen")
    say(site, f"answer {bent} 'new rod'", "S1")
    assert report(site, number, "2033-01-02") == first
    now = report(site, number, "2033-01-02", "--now")
    assert now != first
    assert report(site, number, "2033-01-02") == first
    with open_register(site.url).reading() as session:
        (kept,) = session.scalars(select(WalkCloseout))
        assert kept.frozen_by == "Person RE"
        assert fingerprint(kept.content) == kept.fingerprint
        assert fingerprint(to_plain(frozen_record(kept))) == kept.fingerprint
        assert {one.facts.tag for one in frozen_record(kept).rows} >= {"C-1", "C-5"}
        (covers,) = session.execute(
            text("SELECT covers FROM signature WHERE meaning = 'signed off'")
        ).scalars()
        assert kept.fingerprint in str(covers)
    with pytest.raises(DBAPIError), register.engine.begin() as connection:
        connection.execute(text("UPDATE walk_closeout SET fingerprint = 'x'"))


def test_findings_are_seen_to_their_end_by_other_hands_than_did_the_work(judged):
    site, number = judged
    _mended(site, *numbers(site, "fault-seen"))
    _accepted(site, *numbers(site, "lock-seized"))
    # What is unsafe now is made safe, not accepted.
    now = say(site, f"tell {number} C-5 'rod about to part' --how-soon now", "IN")
    urgent = now.split()[1].rstrip(".")
    with pytest.raises(NotAllowed, match="to be answered now"):
        say(site, f"accept {urgent} --until 2031-09-01 --reason 'slight'", "S1")


def _mended(site: Site, bent: str) -> None:
    with pytest.raises(NotReady, match="owner named"):
        say(site, f"answer {bent} 'new rod'", "S1")
    say(site, f"owner {bent} 'Person S1' --due 2031-06-01", "IN")
    with pytest.raises(BadInput, match="what is to be done"):
        say(site, f"answer {bent} ' '", "S1")
    say(site, f"answer {bent} 'new rod' --by WO-7", "S1")
    with pytest.raises(BadInput, match="a day to come"):
        say(site, f"done {bent} 'rod renewed' --on 2031-05-20", "T1")
    with pytest.raises(NotReady, match="done in the field"):
        say(site, f"verify {bent} 'straight'", "I2")
    with pytest.raises(NotAllowed, match="may done"):
        say(site, f"done {bent} 'rod renewed'", "OP")
    # The inspector who did the work, the owner and a technician do not verify it.
    say(site, f"done {bent} 'rod renewed'", "IN")
    for person, words in (("IN", "did the work"), ("S1", "own the finding"), ("T1", "inspector")):
        with pytest.raises(NotAllowed, match=words):
            say(site, f"verify {bent} 'straight'", person)
    with pytest.raises(BadInput, match="seen in the field"):
        say(site, f"verify {bent} ' '", "I2")
    say(site, f"verify {bent} 'still bent' --not-mended", "I2")
    with pytest.raises(NotReady):
        say(site, f"settle {bent}", "IN")
    say(site, f"answer {bent} 'longer rod' --by WO-8", "S1")
    say(site, f"done {bent} 'rod renewed'", "T1", on="2031-05-20")
    say(site, f"verify {bent} 'straight, nut locked'", "I2", on="2031-05-21")
    say(site, f"settle {bent}", "IN", on="2031-05-22")
    told = say(site, f"findings {bent}", "IN", on="2031-07-01")
    assert "closed" in told
    assert "OVERDUE" not in told
    for words in ("2031-05-13 not mended by Person I2: still bent", "2031-05-20 done by Person T1",
                  "2031-05-21 verify by Person I2: straight, nut locked"):  # fmt: skip
        assert words in told


def _accepted(site: Site, seized: str) -> None:
    with pytest.raises(NotAllowed, match="may accept"):
        say(site, f"accept {seized} --until 2031-09-01 --reason 'slight'", "IN")
    for refused in ("--until 2031-09-01", "--until 2031-05-13 --reason slight"):
        with pytest.raises(BadInput, match="until a day to come, for a reason"):
            say(site, f"accept {seized} {refused}", "S1")
    say(site, f"accept {seized} --until 2031-09-01 --reason 'propped'", "S1")
    assert seized not in say(site, "findings --overdue", "IN", on="2031-09-01")
    late = say(site, "findings --overdue", "IN", on="2031-09-02")
    assert f"{seized} STOP C-5" in late
    assert "accepted as it is (Person S1, 2031-09-01) OVERDUE" in late
    # An acceptance is no end: it is taken up again, with a new owner.
    say(site, f"owner {seized} 'Person S2' --due 2031-10-01", "IN", on="2031-09-03")
    assert seized not in say(site, "findings --overdue", "IN", on="2031-09-04")
