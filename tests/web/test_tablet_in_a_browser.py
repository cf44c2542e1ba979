"""The tablet form in Chromium: taken along, no signal, reloaded, sent; and what stops the work."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from supports.database import Register
from supports.queries.walkdowns.lookups import campaign_of
from supports.queries.walkdowns.rows import walked_rows
from tests.operations.road import Road
from tests.web.desks import PASSWORD
from tests.web.tablets import campaign_out, order_out
from tests.web.test_accessible import faults

TABLET = {"viewport": {"width": 1024, "height": 768}, "has_touch": True}


@pytest.fixture
def walk(site: Register) -> str:
    """Give a campaign of its own on the site that all browser tests share; return its number."""
    return campaign_out(site)


@pytest.fixture(scope="session")
def order(site: Register) -> Road:
    """Give a work order on the site that is given out; two units are turned, one is read."""
    return order_out(site)


@pytest.fixture
def tablet_with(page_of: Callable[..., Any], walk: str) -> Callable[[str], Any]:
    """Return what gives a tablet on which somebody took the campaign along."""

    def taken(person: str) -> Any:
        page = page_of(person, errors_expected=True, **TABLET)
        page.set_default_timeout(10_000)
        page.goto(f"/walkdowns/{walk}")
        page.get_by_role("button", name="Take along on this tablet").click()
        page.wait_for_url("**/tablet#copy/**")
        shown(page, "C1")
        return page

    return taken


def held(site: Register, number: str) -> list[dict[str, Any]]:
    """Return what the campaign holds by row."""
    with site.reading() as session:
        rows = walked_rows(session, campaign_of(session, number))
        return [row.settled.values | {"conflicts": row.settled.conflicts} for row in rows]


def shown(page: Any, tag: str) -> None:
    """Wait until the card of a support takes input."""
    page.get_by_role("heading", level=1, name=tag).wait_for()
    settled(page)


def settled(page: Any) -> None:
    """Wait until nothing on the card is being changed."""
    page.locator("#card[inert], #order[inert]").first.wait_for(state="detached")


def note(page: Any, load: str, pointer: str = "") -> None:
    """Note a reading on the card shown; wait until it is kept."""
    page.get_by_label("Load on the scale").locator("visible=true").fill(load)
    if pointer:
        page.get_by_label("Pointer", exact=True).fill(pointer)
    page.get_by_text("kept on this tablet, not sent yet").wait_for()


def send(page: Any) -> None:
    page.get_by_role("button", name="Send", exact=True).click()


def test_a_walk_without_a_signal(tablet_with, site, walk):
    page = tablet_with("IN")
    page.context.set_offline(True)
    page.get_by_text("no signal", exact=True).wait_for()
    page.get_by_role("radio", name="yes", exact=True).check()
    note(page, "20,5", "40")
    assert faults(page) == []
    page.get_by_role("button", name="Next").click()
    shown(page, "C2")
    page.get_by_role("radio", name="no", exact=True).check()
    page.get_by_label("Not seen, because").fill("scaffold missing")
    page.get_by_text("kept on this tablet, not sent yet").wait_for()
    page.reload()
    shown(page, "C2")
    assert page.get_by_label("Not seen, because").input_value() == "scaffold missing"
    send(page)
    page.get_by_text("2 not sent").wait_for()
    assert held(site, walk)[0] == {"conflicts": ()}
    page.context.set_offline(False)
    send(page)
    page.get_by_text("all sent").wait_for()
    first, second, *_ = held(site, walk)
    assert (first["load"], first["pointer"], first["seen"]) == (20_500.0, 0.040, True)
    assert (second["seen"], second["why_not"]) == (False, "scaffold missing")


def test_sent_twice_after_the_answer_was_lost(tablet_with, site, walk):
    page = tablet_with("IN")
    note(page, "20.5")
    page.route("**/tablet/send/**", lambda route: (route.fetch(), route.abort()))
    send(page)
    page.get_by_text("no signal").first.wait_for()
    assert held(site, walk)[0]["load"] == 20_500.0, "it arrived; only the answer was lost"
    page.get_by_text("1 not sent").wait_for()
    page.unroute("**/tablet/send/**")
    send(page)
    page.get_by_text("all sent").wait_for()
    first = held(site, walk)[0]
    assert (first["load"], first["conflicts"]) == (20_500.0, ())


def test_two_tablets_disagree_and_a_person_chooses(tablet_with, page_of, site, walk):
    one, other = tablet_with("IN"), tablet_with("T1")
    for page, load in ((one, "20.5"), (other, "21.5")):
        note(page, load)
        send(page)
        page.get_by_text("all sent").wait_for()
    other.get_by_text("conflict on load: IN: 20.5, T1: 21.5").wait_for()
    assert held(site, walk)[0]["conflicts"] == ("load",)
    one.goto(f"/walkdowns/{walk}")
    one.get_by_label("Whose word stands").select_option("T1")
    one.get_by_label("Reason", exact=True).fill("read twice")
    one.get_by_role("button", name="Choose").click()
    one.get_by_text("The word of T1 stands").wait_for()
    assert held(site, walk)[0]["load"] == 21_500.0


def test_signing_out_keeps_everything_and_nobody_else_sends_it(tablet_with, sign_ins, site, walk):
    page = tablet_with("FO")
    note(page, "20.5")
    desk = page.context.new_page()
    desk.goto("/own-account")
    desk.locator(".who summary").click()
    desk.get_by_role("button", name="Sign out").click()
    desk.wait_for_url("**/sign-in*")
    sign_ins.pop("FO")
    send(page)
    page.get_by_role("link", name="Sign in").click()
    page.get_by_label("Sign-in name").fill("IN")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("button", name="Open").click()
    shown(page, "C1")
    assert page.get_by_label("Load on the scale").locator("visible=true").input_value() == "20.5"
    send(page)
    page.get_by_text("This copy is of FO; IN is signed in.").wait_for()
    assert held(site, walk)[0] == {"conflicts": ()}, "nothing goes under another's name"


def note_reading(page, load, **others):
    """Note a reading at a unit, and say yes when asked once more."""
    settled(page)
    for label, value in ({"Load on the scale": load} | others).items():
        page.get_by_label(label).locator("visible=true").fill(value)
    page.get_by_role("button", name="Note it", exact=True).click()
    page.get_by_role("button", name="Yes, note it").click()


def test_turns_are_told_only_behind_an_as_found_inside_its_window(page_of, site, order):
    page = page_of("T1", errors_expected=True, **TABLET)
    page.set_default_timeout(10_000)
    page.goto(f"/work-orders/{order.order}")
    page.get_by_role("link", name="Take along on this tablet").click()
    shown(page, "C1")
    page.context.set_offline(True)
    assert page.get_by_text("27 turns").count() == 0
    note_reading(page, "9.5")
    page.get_by_text("As found outside its window.").wait_for()
    page.get_by_text("Turn nothing. Call the engineer.").wait_for()
    assert page.get_by_text("27 turns").count() == 0
    page.get_by_role("button", name="Next").click()
    shown(page, "C2")
    assert page.get_by_text("16 turns").count() == 0
    note_reading(page, "3.23")
    page.get_by_text("16 turns").wait_for()
    page.reload()
    page.get_by_text("16 turns").wait_for()
    note_reading(page, "4.19")
    page.get_by_label("Who lets it go on").fill("S1")
    page.get_by_role("button", name="Note it", exact=True).click()
    page.get_by_text("hold after round 1 released by S1").wait_for()
    for load in ("5.15", "6.08"):
        note_reading(page, load)
        page.locator("#order-noted").get_by_text(load).wait_for()
    page.get_by_role("heading", name="Read as left, by two").wait_for()
    note_reading(page, "6.08", **{"Second reader": "T2", "Whole turns given": "47"})
    page.get_by_text("Nothing more is noted at this unit.").wait_for()
    page.context.set_offline(False)
    send(page)
    page.get_by_text("all sent").wait_for()
    page.goto("/tablet")
    page.get_by_text("C2 · as left: finished, to be checked").wait_for()
    page.context.add_cookies([{"name": "language", "value": "de", "url": page.url}])
    page.reload()
    page.get_by_text("C2 · nach dem Eingriff: ").wait_for()
    assert order.states(order.order) == {
        "C1": "as-found differs, back to the engineer", "C2": "finished, to be checked",
        "V1": "written",
    }  # fmt: skip
