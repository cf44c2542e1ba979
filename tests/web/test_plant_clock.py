"""The desk shows moments as the plant's clock does, as soon as one is laid down."""

from __future__ import annotations

from datetime import timedelta

from sqlalchemy import select

from supports.model import Refusal
from supports.operations.site import lay_down_time_zone
from supports.queries.site import zones_laid_down
from tests.operations.days import START
from tests.web.desks import signed_in


def test_moments_are_shown_by_the_plants_clock_as_soon_as_it_is_laid_down(staffed):
    keeper = signed_in(staffed, "KK")
    assert " UTC" in keeper.look("/record").text
    later = START + timedelta(days=1)
    lay_down_time_zone(staffed, "Australia/Brisbane", reason="", acting="KK", now=later)
    page = keeper.look("/record").text
    there = START + timedelta(hours=10)  # Brisbane knows no summer time
    assert f"{there:%Y-%m-%d %H:%M} AEST" in page
    assert " UTC" not in page


LIMITS, LAY_DOWN = "/rules/limits", "/rules/time-zone"


def test_the_keeper_lays_the_time_zone_down_at_the_desk_with_a_reason(staffed):
    keeper = signed_in(staffed, "KK")
    assert "No time zone is laid down: days are counted by UTC." in keeper.look(LIMITS).text
    wrong = keeper.hand_in(LAY_DOWN, zone="Mars/Olympus", reason="it stands there")
    assert wrong.status_code == 400
    assert "there is no such time zone" in wrong.text
    assert 'value="Mars/Olympus"' in wrong.text
    assert 'value="it stands there"' in wrong.text
    laid = keeper.hand_in(LAY_DOWN, zone="Australia/Brisbane", reason="clock on the gate")
    assert laid.headers["location"] == f"{LIMITS}#clock"
    page = keeper.look(LIMITS).text
    assert f"Now it is {START + timedelta(hours=10):%Y-%m-%d %H:%M} AEST." in page
    assert "Australia/Brisbane" in page
    assert "clock on the gate" in page
    record = keeper.look("/record").text
    assert "lay down the time zone" in record
    assert "clock on the gate" in record


def test_another_zone_of_the_same_day_is_refused_in_the_readers_language(staffed):
    engineer = signed_in(staffed, "RE")
    engineer.cookies.set("language", "de")
    page = engineer.look(LIMITS).text
    assert "Keine Zeitzone ist festgelegt: Tage werden nach UTC gezählt." in page
    assert engineer.hand_in(LAY_DOWN, zone="Europe/Berlin", reason="Tor 1").status_code == 303
    again = engineer.hand_in(LAY_DOWN, zone="America/Chicago", reason="Tor 2")
    assert again.status_code == 409
    assert "Zeitzone: heute schon festgelegt, von RE" in again.text
    assert "Was festgelegt ist, bleibt stehen" in again.text


def test_who_holds_neither_role_is_offered_nothing_and_refused(staffed):
    planner = signed_in(staffed, "PL")
    page = planner.look(LIMITS)
    assert LAY_DOWN not in page.text
    refused = planner.hand_in(LAY_DOWN, zone="Europe/Berlin", reason="as I like it")
    assert refused.status_code == 403
    with staffed.reading() as session:
        assert zones_laid_down(session) == ()
        (kept,) = session.scalars(select(Refusal)).all()
        assert (kept.action, kept.subject) == ("lay down the time zone", "Europe/Berlin")
