"""What tablets send of a campaign: once or twice, late, altered, or under another's name."""

from __future__ import annotations

from datetime import timedelta
from io import BytesIO
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image
from sqlalchemy import func, select

from app.tablets.sent import SentRows
from app.tablets.walk_back import take_walk
from app.tablets.walk_copy import walk_copy
from supports.database import Register
from supports.model import WalkEntry, WalkNoted, WalkPhoto, WalkReturn
from supports.operations.walkdowns.campaigns import take_out
from supports.operations.walkdowns.returns import choose_entry, contradictions, read_in
from supports.queries.walkdowns.lookups import campaign_of
from supports.queries.walkdowns.rows import walked_rows
from tests.operations.days import START, day
from tests.web.desks import signed_in
from tests.web.tablets import HOUR, WALK, Tablet, campaign_out, tablet_of


def held(register: Register, number: str = WALK) -> dict[str, dict[str, object]]:
    """Return what a campaign holds, row by row: values, conflicts, doubts."""
    with register.reading() as session:
        return {
            str(row.item.id): {
                **row.settled.values, "conflicts": row.settled.conflicts, "doubts": row.found.doubts
            }
            for row in walked_rows(session, campaign_of(session, number))
        }  # fmt: skip


def count(register: Register, table: type) -> int:
    with register.reading() as session:
        return session.scalar(select(func.count(table.id))) or 0


@pytest.fixture
def walk(both_staffed: Register) -> Register:
    """Give a register in which a campaign is issued, on each database."""
    campaign_out(both_staffed)
    return both_staffed


def test_what_is_sent_twice_counts_once(walk):
    tablet = tablet_of(walk, "IN")
    noted = tablet.noted("C1", load="20.5", pointer="40", seen="yes")
    assert tablet.became(noted) == ["taken"]
    before = held(walk), count(walk, WalkEntry), count(walk, WalkReturn)
    assert tablet.became(noted, noted) == ["known", "known"]
    assert (held(walk), count(walk, WalkEntry), count(walk, WalkReturn)) == before
    row = held(walk)[noted["row"]]
    assert (row["load"], row["pointer"], row["seen"]) == (20_500.0, 0.040, True)


def test_a_reading_is_of_the_day_on_which_it_was_noted(walk):
    tablet = tablet_of(walk, "IN")
    later = tablet_of(walk, "IN", now=day(3))
    later.name = tablet.name
    noted = tablet.noted("C1", load="20.5", at=tablet.clock - 49 * HOUR)
    assert later.became(noted) == ["taken"]
    assert (
        held(walk)[noted["row"]]["read_on"]
        == (START + timedelta(days=3, hours=-49)).date().isoformat()
    )


def test_a_tablet_whose_clock_runs_ahead_notes_nothing_in_days_to_come(walk):
    tablet = tablet_of(walk, "IN")
    noted = tablet.noted("C1", load="20.5", at=tablet.clock + 90 * HOUR)
    assert tablet.became(noted) == ["taken"]
    assert held(walk)[noted["row"]]["read_on"] == START.date().isoformat()


def test_a_blank_stays_a_blank_and_a_nought_a_nought(walk):
    tablet = tablet_of(walk, "IN")
    blank = tablet.noted("C1", load="", pointer="  ", plant_state="operating, steady")
    nought = tablet.noted("C2", pointer="0")
    assert tablet.became(blank, nought) == ["taken", "taken"]
    known = held(walk)
    assert "load" not in known[blank["row"]]
    assert known[nought["row"]]["pointer"] == 0.0
    assert count(walk, WalkEntry) == 1


def test_a_later_revision_stands_in_for_an_earlier_one_whichever_arrives_first(walk):
    tablet = tablet_of(walk, "IN")
    first = tablet.noted("C1", load="21.5", remarks="windy")
    second = tablet.noted("C1", load="20.5")
    assert tablet.became(second) == ["taken"]
    alone = held(walk)
    assert tablet.became(first) == ["known"]
    assert held(walk) == alone
    assert "remarks" not in alone[first["row"]]


def test_a_walker_mends_a_slip_and_takes_a_row_back(walk):
    tablet = tablet_of(walk, "IN")
    assert tablet.became(tablet.noted("C1", load="205")) == ["taken"]
    mended = tablet.noted("C1", load="20.5")
    assert tablet.became(mended) == ["taken"]
    assert held(walk)[mended["row"]]["load"] == 20_500.0
    assert held(walk)[mended["row"]]["conflicts"] == ()
    assert tablet.became(tablet.noted("C1")) == ["taken"]
    assert held(walk)[mended["row"]] == {"conflicts": (), "doubts": {}}
    assert count(walk, WalkEntry) == 3, "what was said before is kept"


def test_two_tablets_disagree_both_are_kept_and_a_person_chooses(walk):
    one, other = tablet_of(walk, "IN"), tablet_of(walk, "T1")
    noted = one.noted("C1", load="20.5")
    assert one.became(noted) == ["taken"]
    answer = other.send(other.noted("C1", load="21.5")).json()["rows"][0]
    assert answer["became"] == "taken"
    assert "load: IN: 20.5, T1: 21.5" in answer["words"][0]
    assert held(walk)[noted["row"]]["conflicts"] == ("load",)
    with walk.reading() as session:
        assert len(contradictions(session, campaign_of(session, WALK))) == 1
    choose_entry(walk, WALK, ("C1", ""), "T1", acting="IN", reason="read twice", now=START)
    assert held(walk)[noted["row"]]["load"] == 21_500.0
    assert other.became(other.noted("C1", load="21.7")) == ["taken"]
    assert held(walk)[noted["row"]]["conflicts"] == ("load",), "what was chosen stands no more"


def test_an_altered_row_is_refused_alone(walk):
    tablet = tablet_of(walk, "IN")
    true, other = tablet.noted("C1", load="20.5"), tablet.noted("C2", load="20.5")
    moved = other | {"row": tablet.row("V1")["row"]}
    renamed = tablet.noted("R1", seen="yes") | {"tag": "R2"}
    sealed = tablet.noted("V1", load="9") | {"seal": "0" * 12}
    strange = tablet.noted("R1", seen="yes") | {"row": "999"}
    answers = tablet.became(true, moved, renamed, sealed, strange)
    assert answers == ["taken", "refused", "refused", "refused", "refused"]
    assert count(walk, WalkEntry) == 1


def test_what_cannot_be_read_is_kept_as_written_and_told(walk):
    tablet = tablet_of(walk, "IN")
    noted = tablet.noted("C1", load="twenty", seen="yes")
    answer = tablet.send(noted).json()["rows"][0]
    assert answer["became"] == "taken"
    assert "load 'twenty'" in answer["words"][0]
    with walk.reading() as session:
        assert session.scalars(select(WalkEntry)).one().written["load"] == "twenty"


def test_a_german_tablet_is_told_in_german_what_became_of_its_rows(walk):
    one, other = tablet_of(walk, "IN"), tablet_of(walk, "T1")
    assert one.became(one.noted("C1", load="20.5")) == ["taken"]
    other.speaks("de")
    doubtful = other.noted(
        "C1", load="21.5", pointer="about 3", stop="inn", act_by="soon", seen="no",
        pointer_unit="mm",
    )  # fmt: skip
    altered = other.noted("C2", load="20.5") | {"seal": "0" * 12}
    expected = [
        ("taken", [
            "Widerspruch bei Last: IN: 20.5, T1: 21.5; eine Person wählt",
            "nicht übernommen, Blockierung 'inn': nicht auf der Liste, vielleicht gesteckt",
            "nicht übernommen, handeln bis 'soon': kein Tag als Jahr-Monat-Tag",
            "nicht übernommen, Zeiger 'about 3': keine Zahl",
            "nicht übernommen, gesehen 'no', doch abgelesen: Last",
        ]),
        ("refused", [(
            "die Zeile wurde verändert, wo sie es nicht darf, oder steht nicht auf diesem "
            "Formular; sie wird nicht übernommen"
        )]),
    ]  # fmt: skip
    assert other.told(doubtful, altered) == expected
    (became, words), _ = other.told(doubtful, altered)
    assert (became, sorted(words)) == ("known", sorted(expected[0][1])), "read back as stored"


def test_nobody_sends_what_another_noted(walk):
    tablet = tablet_of(walk, "IN")
    noted = tablet.noted("C1", load="20.5")
    thief = signed_in(walk, "T1")
    tablet.visitor = thief
    assert tablet.send(noted).status_code == 403
    assert tablet.send(noted, person="T1").status_code == 200
    first = tablet_of(walk, "IN")
    first.name = tablet.name
    refused = first.send(first.noted("C2", load="20.5"))
    assert refused.status_code == 403, "a copy stays with one person"
    assert "noted by T1" in refused.json()["error"]


def test_a_session_that_ended_sends_nothing_and_the_next_one_does(walk):
    tablet = tablet_of(walk, "IN")
    noted = tablet.noted("C1", load="20.5")
    tablet.visitor.hand_in("/sign-out")
    tablet.visitor.look("/sign-in")
    assert tablet.send(noted).status_code == 401
    assert tablet.visitor.get("/tablet/who").status_code == 401
    assert count(walk, WalkNoted) == 0
    tablet.visitor = signed_in(walk, "IN")
    assert tablet.became(noted) == ["taken"]


def test_a_sending_from_elsewhere_is_refused(walk):
    tablet = tablet_of(walk, "IN")
    tablet.visitor.form_key = "0" * 64
    assert tablet.send(tablet.noted("C1", load="20.5")).status_code == 403
    assert count(walk, WalkNoted) == 0


def test_a_campaign_that_is_read_in_takes_nothing_and_says_so(walk):
    tablet = tablet_of(walk, "IN")
    assert tablet.became(tablet.noted("C1", load="20.5")) == ["taken"]
    read_in(walk, WALK, acting="IN", now=START)
    refused = tablet.send(tablet.noted("C2", load="20.5"))
    assert refused.status_code == 409
    assert "read in" in refused.json()["error"]
    known = tablet.noted("C1", load="20.5") | {"revision": 1}
    assert tablet.became(known) == ["known"], "an answer that was lost is given all the same"


def test_only_the_holder_takes_the_copy_along(walk):
    tablet_of(walk, "IN")
    other = signed_in(walk, "T1")
    answer = other.get(f"/tablet/copies/walkdowns/{WALK}")
    assert answer.status_code == 409
    assert "not out with T1" in answer.json()["error"]


def test_taking_along_twice_takes_one_copy(walk):
    first, again = tablet_of(walk, "IN"), tablet_of(walk, "IN")
    assert first.copy["copy"] == again.copy["copy"] == 1
    assert tablet_of(walk, "T1").copy["photos_from"] == 2000


def test_photos_are_kept_once_and_only_with_their_row(walk, tmp_path, monkeypatch):
    monkeypatch.setenv("SUPPORTS_PHOTOS", str(tmp_path / "photos"))
    tablet = tablet_of(walk, "IN")
    noted, drawn = tablet.noted("C1", photos="1001"), BytesIO()
    Image.new("RGB", (64, 48), "white").save(drawn, "JPEG")
    said = {name: noted[name] for name in ("row", "tag", "line", "seal")}
    said |= {"campaign": WALK, "form": tablet.copy["form"], "person": "IN"}
    said |= {"number": "1001", "subject": "scale"}

    def send(**other):
        return tablet.visitor.post(
            "/tablet/photos", data=said | other, headers={"x-form-key": tablet.visitor.form_key},
            files={"picture": ("1001.jpg", drawn.getvalue())},
        )  # fmt: skip

    assert [send().json(), send().json()] == [{"new": 1}, {"new": 0}]
    assert send(seal="0").status_code == send(row="x").status_code == 400
    assert send(person="T1").status_code == 403
    assert count(walk, WalkPhoto) == 1


VALUES = ("", "20.5", "21.5", "no number")
NOTES = st.lists(st.tuples(st.sampled_from(("C1", "C2")), st.sampled_from(VALUES)), max_size=5)


@settings(max_examples=6, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(notes=NOTES, data=st.data())
def test_any_order_of_sending_ends_in_the_same_register(both_staffed, notes, data):
    """Lots of any size in any order, sent again where the answer was lost: one and the same end."""
    plain, mixed = Walked(both_staffed), Walked(both_staffed)
    for one in (plain, mixed):
        one.note(notes)
    plain.send(*plain.rows)
    places = data.draw(st.permutations(range(len(notes))))
    again = data.draw(st.lists(st.sampled_from(range(len(notes))), max_size=3)) if notes else []
    for lot in lots_of([*places, *again], data.draw(st.integers(1, 3))):
        mixed.send(*(mixed.rows[place] for place in lot))
    assert mixed.held() == plain.held()


def lots_of(places: list[int], size: int) -> list[list[int]]:
    return [places[start : start + size] for start in range(0, len(places), size)]


class Walked:
    """A campaign of its own, walked with one tablet that sends without a browser."""

    def __init__(self, register: Register) -> None:
        self.register, self.number = register, campaign_out(register)
        take_out(register, self.number, "IN", acting="IN", now=START)
        with register.reading() as session:
            copy = walk_copy(session, self.number, "IN", START)
        self.tablet = Tablet(None, copy)
        self.rows: list[dict[str, Any]] = []

    def note(self, notes: list[tuple[str, str]]) -> None:
        self.rows = [self.tablet.noted(tag, load=load) for tag, load in notes]

    def send(self, *rows: dict[str, Any]) -> None:
        if rows:
            sent = SentRows(**self.tablet.said(*rows))
            answers = take_walk(self.register, sent, acting="IN", now=START)
            assert {one.became for one in answers} <= {"taken", "known"}

    def held(self) -> dict[str, Any]:
        tags = {row["row"]: row["tag"] for row in self.tablet.copy["rows"]}
        return {tags[row]: said for row, said in held(self.register, self.number).items()}
