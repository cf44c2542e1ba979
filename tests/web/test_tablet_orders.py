"""Readings of a work order from a tablet: gates of the register hold, nothing counts twice."""

from __future__ import annotations

import pytest
from sqlalchemy import func, select

from app.returns import by_printed_tag
from app.tablets.order_copy import order_copy
from reports.languages import texts
from supports.database import Register
from supports.model import Reading, StepReading
from supports.operations.work_orders import copy_is_back
from supports.queries.work_order_views import work_order_view
from tests.operations.days import START
from tests.operations.road import Road
from tests.web.at_work import ORDER
from tests.web.desks import signed_in
from tests.web.tablets import Tablet, order_out, order_tablet

UNITS = {"load_unit": "kN", "pointer_unit": "mm", "plant_state": "shut down, drained"}
LEFT = {"load": "6.08", "second_reader": "T2", "turns": "47", "flats": "3"}


@pytest.fixture
def road(both_staffed: Register) -> Road:
    """Give a work order that is given out, on each database."""
    return order_out(both_staffed)


def read(tablet: Tablet, tag: str, occasion: str, **written: str):
    return tablet.noted(tag, row=f"{tag}|{occasion}", **(UNITS | written))


def count(road: Road, table: type) -> int:
    with road.register.reading() as session:
        return session.scalar(select(func.count(table.id))) or 0


def whole_unit(tablet: Tablet) -> list[dict]:
    """Return a unit from as found over its rounds to as left, as the pack told it."""
    rounds = enumerate(("4.19", "5.15", "6.08"), start=1)
    return [
        read(tablet, "C2", "as found", load="3.23"),
        *(read(tablet, "C2", f"round no. {number}", load=load) for number, load in rounds),
        read(tablet, "C2", "as left", **LEFT),
    ]


def test_a_unit_comes_back_whole_and_once(road):
    tablet = order_tablet(road.register, "T1", road)
    rows = whole_unit(tablet)
    assert tablet.became(*rows) == ["taken"] * 5
    assert road.states()["C2"] == "finished, to be checked"
    before = count(road, Reading), count(road, StepReading)
    assert tablet.became(*rows) == ["known"] * 5
    assert (count(road, Reading), count(road, StepReading)) == before == (2, 3)
    with road.register.reading() as session:
        expected = session.scalars(
            select(StepReading.expected).order_by(StepReading.round_no)
        ).all()
    assert expected == pytest.approx([4193.3, 5153.3, 6083.3], abs=0.1)


def test_what_arrives_before_its_gate_waits_on_the_tablet(road):
    tablet = order_tablet(road.register, "T1", road)
    found, *rounds, left = whole_unit(tablet)
    assert tablet.became(left) == ["refused"]
    assert tablet.became(*rounds) == ["refused"] * 3
    assert count(road, Reading) == count(road, StepReading) == 0
    assert tablet.became(found, *rounds, left) == ["taken"] * 5


def test_found_outside_its_window_goes_back_to_the_engineer(road):
    tablet = order_tablet(road.register, "T1", road)
    high = tablet.row("C1")["found_window"][1]
    answer = tablet.send(read(tablet, "C1", "as found", load=f"{high + 0.01:.3f}"))
    assert "back to the engineer" in answer.json()["rows"][0]["words"][0]
    assert tablet.became(read(tablet, "C1", "round no. 1", load="10.31")) == ["refused"]
    again = order_tablet(road.register, "T1", road)
    assert again.row("C1")["may"] == "stop"
    inside = order_tablet(road.register, "T2", road)
    assert inside.became(
        read(inside, "C2", "as found", load=repr(inside.row("C2")["found_window"][0]))
    ) == ["taken"]
    assert road.states()["C2"] == "in hand", "exactly at the end that was told is inside"


def test_another_reading_than_the_one_recorded_is_a_conflict(road):
    one, other = (order_tablet(road.register, who, road) for who in ("T1", "T2"))
    assert one.became(read(one, "C2", "as found", load="3.23")) == ["taken"]
    answer = other.send(read(other, "C2", "as found", load="3.30")).json()["rows"][0]
    assert answer["became"] == "refused"
    assert "CONFLICT: load 3.30 kN on the form, 3.23 kN recorded" in answer["words"][0]


def test_a_round_that_moves_otherwise_is_told(road):
    tablet = order_tablet(road.register, "T1", road)
    found = read(tablet, "C2", "as found", load="3.23")
    answer = tablet.send(found, read(tablet, "C2", "round no. 1", load="4.9")).json()["rows"]
    assert answer[1]["words"] == ["STOP: the step was not as expected; call the engineer"]
    assert tablet.became(read(tablet, "C2", "round no. 9", load="5")) == ["refused"]


def test_a_german_tablet_is_told_in_german_what_became_of_its_readings(road):
    tablet = order_tablet(road.register, "T1", road)
    tablet.speaks("de")
    found = read(tablet, "C2", "as found", load="3.23")
    slow = read(tablet, "C2", "round no. 1", load="4.9")
    other = read(tablet, "C2", "as found", load="3.30", pointer="41")
    altered = read(tablet, "C1", "as found", load="8.69") | {"seal": "0" * 20}
    assert tablet.told(found, slow, other, altered) == [
        ("taken", ["in Arbeit"]),
        ("taken", ["HALT: der Schritt war nicht wie erwartet; den Ingenieur rufen"]),
        ("refused", [(
            "WIDERSPRUCH: Last 3.30 kN auf dem Formular, 3.23 kN eingetragen; Zeiger 41 mm auf dem "
            "Formular, nichts eingetragen; eine Person muss wählen."
        )]),
        ("refused", [(
            "die Zeile wurde verändert, wo sie es nicht darf, oder steht nicht auf diesem "
            "Formular; sie wird nicht eingetragen"
        )]),
    ]  # fmt: skip
    early = read(tablet, "C1", "as left", **LEFT)
    stopped = read(tablet, "C2", "stopped part-way", load="4.2", second_reader="T2", remarks="rain")
    assert tablet.told(early, stopped) == [
        ("refused", [(
            "dafür (danach abgelesen) muss C1/A stehen auf: in Arbeit, außerhalb des Fensters; "
            "gefunden: Stand: geschrieben."
        )]),
        ("taken", ["unterwegs angehalten; nur ein Ingenieur lässt es weitergehen"]),
    ]  # fmt: skip


def test_work_stopped_part_way_is_recorded_with_its_reason(road):
    tablet = order_tablet(road.register, "T1", road)
    found = read(tablet, "C2", "as found", load="3.23")
    stopped = read(tablet, "C2", "stopped part-way", load="4.2", second_reader="T2", remarks="rain")
    assert tablet.became(found, stopped, stopped) == ["taken", "taken", "known"]
    assert road.states()["C2"] == "stopped part-way"


def test_a_blank_is_no_reading_and_one_reader_is_not_two(road):
    tablet = order_tablet(road.register, "T1", road)
    found = read(tablet, "C2", "as found", load="3.23")
    rows = (
        read(tablet, "C1", "as found", load=""),
        found,
        read(tablet, "C2", "as left", load="6.08", second_reader="T1"),
        read(tablet, "C2", "as guessed", load="6.08"),
    )
    assert tablet.became(*rows) == ["refused", "taken", "refused", "refused"]


def test_altered_rows_are_refused_alone(road):
    tablet = order_tablet(road.register, "T1", road)
    altered = read(tablet, "C1", "as found", load="8.69") | {"seal": "0" * 20}
    moved = read(tablet, "C2", "as found", load="3.23") | {"tag": "C1"}
    assert tablet.became(altered, moved, read(tablet, "C2", "as found", load="3.23")) == [
        "refused", "refused", "taken",
    ]  # fmt: skip


def test_nobody_sends_what_another_read(road):
    tablet = order_tablet(road.register, "T1", road)
    found = read(tablet, "C2", "as found", load="3.23")
    tablet.visitor = signed_in(road.register, "T2", now=road.now)
    tablet.visitor.look("/own-account")
    assert tablet.send(found).status_code == 403
    assert count(road, Reading) == 0


def test_a_copy_that_came_back_is_not_taken_along(road):
    copy_is_back(road.register, road.order, 1, fate="back", acting="PL", now=road.now)
    visitor = signed_in(road.register, "T1", now=road.now)
    answer = visitor.get(f"/tablet/copies/work-orders/{road.order}/1")
    assert answer.status_code == 409
    assert visitor.get(f"/tablet/copies/work-orders/{road.order}/7").status_code == 404


def test_what_a_unit_waits_for_goes_along_to_the_line(at_work):
    with at_work.reading() as session:
        lines = by_printed_tag(work_order_view(session, ORDER))
        copy = order_copy(session, ORDER, 1, "T1", START)
    told = {row["tag"]: row["waits_for"] for row in copy["rows"]}
    assert told == {tag: line.waits_for for tag, line in lines.items() if tag in told}
    assert any(told.values())


def test_a_german_tablet_is_told_in_german_what_to_do_and_what_a_unit_waits_for(at_work):
    with at_work.reading() as session:
        said = order_copy(session, ORDER, 1, "T1", START, texts("de"))
        plain = order_copy(session, ORDER, 1, "T1", START)
    assert any(hold.endswith("Vorarbeiter") for hold in said["holds"])
    waits = [row["waits_for"] for row in said["rows"] if row["waits_for"]]
    assert waits
    assert all(words.startswith(("nach ", "eingesetzt, bevor ")) for words in waits)
    jobs = [
        (row["job"], other["job"]) for row, other in zip(said["rows"], plain["rows"], strict=True)
    ]
    turned = [pair for pair in jobs if pair[0]]
    assert all(
        "Umdrehung" in german["turns"] or "Fläche" in german["turns"] for german, _ in turned
    )
    for german, english in turned:  # by these the tablet goes, in every language
        assert (german["way"], german["part"]) == (english["way"], english["part"])
