"""One change in the browser from the wish to its closing: seven people, seven roles, a refusal."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from demo.closing_line import TAGS, cast
from demo.desk_story import (
    THE_CHANGE,
    THE_ORDER,
    Clock,
    Story,
    desk_of,
    furnish,
    kept_environment,
    tell,
)
from demo.drive_closing import CHANGE, ORDER
from demo.served import served
from supports.audit import first_break
from supports.model import Refusal, SettingEvent
from supports.queries.change_record import signed_on_change
from supports.queries.history import change_history
from supports.queries.lookups import change_of, unit_of, work_order_of
from tests.web.test_accessible import faults


@pytest.fixture(scope="module")
def told(browser, tmp_path_factory) -> Iterator[tuple[object, Story]]:
    """Tell the story once."""
    clock = Clock()
    with kept_environment():
        register = furnish(tmp_path_factory.mktemp("story"))
    with served(desk_of(register, clock)) as address:
        story = Story(browser, address, clock)
        tell(story)
        yield register, story
        story.close()
    register.close()


def test_the_change_is_closed_by_seven_people(told):
    register, story = told
    with register.reading() as session:
        change = change_of(session, CHANGE)
        actors = {event.actor for event in change_history(session, change)}
        assert change.state == "closed"
        assert work_order_of(session, ORDER).state == "accepted"
        assert first_break(session) is None
    assert actors == set(cast().roles)
    assert set(story.signed_in) == set(cast().roles)


def test_the_checker_was_refused_as_approver_and_that_is_kept(told):
    register, story = told
    who = cast()
    with register.reading() as session:
        refusals = [(one.asked_by, one.action) for one in session.query(Refusal)]
        signed = [
            (one.meaning, one.person)
            for one in signed_on_change(session, change_of(session, CHANGE))
        ]
    assert refusals == [(who.checker, "approve a change")]
    assert signed[:3] == [
        ("prepared", who.engineer), ("checked", who.checker), ("approved", who.approver),
    ]  # fmt: skip
    page = story.look(who.inspector, f"{THE_CHANGE}/history")
    assert "three different people" in page.locator(".events .refused").inner_text()


def test_what_was_typed_is_what_stands_in_the_register(told):
    """22.1 kN asked for, 21.4 kN left: typed in kN, kept in N."""
    register, _ = told
    with register.reading() as session:
        unit = unit_of(session, TAGS[0], "A").id
        newest = list(session.query(SettingEvent).filter_by(unit_id=unit))[-1]
        assert newest.load == pytest.approx(21_400.0)
        assert newest.second_reader == cast().inspector


SCREENS = (
    "/changes", "/changes/new", "/changes/make-safe", THE_CHANGE, f"{THE_CHANGE}/supports",
    f"{THE_CHANGE}/lines", f"{THE_CHANGE}/history", f"{THE_CHANGE}/do/prove", "/work-orders",
    THE_ORDER, f"{THE_ORDER}/units/{TAGS[0]}/A", f"{THE_ORDER}/do/plan", "/travel-stops",
    "/travel-stops/in", "/start-up",
)  # fmt: skip


def test_its_screens_are_accessible(told):
    """By axe-core against WCAG 2.2 AA; the policy is let go so that the checker can run."""
    _, story = told
    context = story.browser.new_context(base_url=story.address, bypass_csp=True)
    story.pages["checking"] = context.new_page()
    story.page("checking").goto("/sign-in")
    story.sign_in(cast().coordinator, story.page("checking"))
    found = {}
    for address in SCREENS:
        story.page("checking").goto(address)
        if wrong := faults(story.page("checking")):
            found[address] = wrong
    assert found == {}
