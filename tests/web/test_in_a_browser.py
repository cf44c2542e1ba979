"""The screens as people see them: signed in, by keyboard, at desk and tablet size, in the dark."""

from __future__ import annotations

SIZES = {"desk": (1440, 900), "tablet": (820, 1180)}


def test_signing_in_leads_to_what_waits(page_of):
    page = page_of("PL")
    assert page.url.endswith("/")
    assert page.get_by_role("heading", level=1).inner_text() == "Waiting for me"


def test_the_list_is_narrowed_without_loading_the_page_anew(page_of):
    page = page_of("PL")
    page.goto("/supports")
    page.evaluate("window.kept = 1")
    page.get_by_label("Kind").select_option("rigid rod")
    page.get_by_role("button", name="Show", exact=True).click()
    page.wait_for_url("**/supports?*kind=rigid*")
    assert page.locator("tbody tr").count() == 1
    assert page.evaluate("window.kept") == 1


def test_the_list_answers_without_scripts_too(page_of):
    page = page_of("PL", java_script_enabled=False)
    page.goto("/supports")
    page.get_by_label("Kind").select_option("rigid rod")
    page.get_by_role("button", name="Show", exact=True).click()
    assert page.locator("tbody tr").count() == 1


def test_the_keyboard_reaches_the_content_first(page_of):
    page = page_of("PL")
    page.goto("/supports")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the content"
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == "#main"
