"""The way of a stranger's workbook in a browser: handed in, confirmed, looked at, stored."""

from __future__ import annotations

import pytest

from app.web.desk import make_desk
from demo.served import served
from importers.template import write_tables
from tests.web.desks import PASSWORD, desk_on
from tests.web.test_accessible import LOOKS, faults

THEIRS = {
    "List": [
        ["Pipe line", "Hanger no.", "Type", "Works no"],
        ["L-1", "H-1", "rigid rod", "A-1"],
        ["L-1", "H-2", "rigd", "A-2"],
    ]
}


@pytest.fixture
def desk_page(staffed, browser):
    with served(make_desk(desk_on(staffed))) as address:
        context = browser.new_context(base_url=address, bypass_csp=True)
        yield context.new_page()
        context.close()


def checked(page, *, dark: bool = False) -> None:
    """Hold a page against the guidelines, and see that nothing is cut off on a small screen."""
    assert faults(page) == [], page.url
    if dark:
        page.emulate_media(color_scheme="dark")
        assert faults(page, LOOKS["dark"][1]) == [], page.url
        page.emulate_media(color_scheme="light")
    page.set_viewport_size({"width": 400, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth - window.innerWidth") <= 0
    page.set_viewport_size({"width": 1280, "height": 900})


def test_a_strangers_workbook_is_handed_in_confirmed_looked_at_and_stored(desk_page, tmp_path):
    page, file = desk_page, tmp_path / "theirs.xlsx"
    write_tables(file, THEIRS)
    page.goto("/sign-in?then=/sheets")
    page.get_by_label("Sign-in name").fill("KK")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    checked(page)
    page.get_by_label("Workbook or text table").set_input_files(str(file))
    page.get_by_label("Where it comes from").fill("works")
    page.get_by_role("button", name="Hand it in").click()
    page.get_by_text("The file cannot be read as it is.").wait_for()
    page.get_by_role("link", name="What its columns mean").first.click()
    checked(page)
    page.get_by_role("button", name="Confirm it").click()
    page.get_by_role("heading", name="Store it").wait_for()
    page.get_by_text("the word is not on the list").click()
    assert page.get_by_role("cell", name="'rigd'").is_visible()
    checked(page, dark=True)
    page.get_by_label("Store the good rows").check()
    page.get_by_role("button", name="Store it").click()
    page.get_by_text("Stored.", exact=True).wait_for()
    for link in ("Whose rows these are", "Values that are not clear"):
        page.get_by_role("link", name=link).click()
        checked(page)
    page.goto("/sheets/doubts")
    checked(page)
    page.goto("/supports/H-1")
    assert page.get_by_role("heading", level=1).inner_text().startswith("H-1")
