"""The screens as people see them: signed in, by keyboard, at desk and tablet size, in the dark."""

from __future__ import annotations

import pytest

from tests.rules.planning_lines import NUMBER


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


def test_a_weight_is_dragged_along_the_line(page_of):
    page = page_of("S1")
    page.goto(f"/lines/{NUMBER}/weight?mass=500+kg")
    drawing = page.locator("#along svg").bounding_box()
    carried = page.locator("tr", has_text="R1").locator("[data-difference]")
    x, y = drawing["x"] + drawing["width"] / 2.0, drawing["y"] + 30.0
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(drawing["x"] + 0.98 * drawing["width"], y, steps=4)
    page.mouse.up()
    assert page.locator("#place").inner_text() == "20.00"
    assert carried.inner_text() == "+4.90"
    page.locator("#f-station").press("Home")
    assert carried.inner_text() != "+4.90"


def test_the_dragged_station_is_the_one_that_the_form_asks_for(page_of):
    page = page_of("S1")
    page.goto(f"/lines/{NUMBER}/weight?mass=500+kg")
    page.locator("#f-station").press("End")
    written = page.locator("[data-load], [data-difference], [data-sink]")
    shown = written.all_inner_texts()
    assert "0" in shown
    page.get_by_role("button", name="Show", exact=True).click()
    page.wait_for_url("**station=*")
    assert written.all_inner_texts() == shown


def test_a_printed_page_leaves_out_what_paper_cannot_do(page_of):
    page = page_of("S1")
    page.goto("/supports")
    page.emulate_media(media="print")
    assert not page.locator(".asking").is_visible()
    assert not page.get_by_role("navigation", name="Places").is_visible()
    assert page.locator("tbody tr").first.is_visible()


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_band_stands_on_one_line_at_a_small_desk(page_of, language):
    page = page_of("KK", viewport={"width": 1280, "height": 800}, locale=language)
    page.goto("/supports")
    shown = page.locator(".top nav > ul > li > *, .find").evaluate_all(
        "all => all.map(one => one.getBoundingClientRect()).map(box => [box.top, box.bottom])"
    )
    assert max(top for top, _ in shown) < min(bottom for _, bottom in shown)


def test_less_used_places_are_reached_without_scripts(page_of):
    page = page_of("KK", java_script_enabled=False)
    page.goto("/supports")
    link = page.get_by_role("link", name="Findings")
    assert not link.is_visible()
    page.get_by_text("More", exact=True).click()
    link.click()
    assert page.url.endswith("/findings")
    assert "here" in (page.get_by_text("More", exact=True).get_attribute("class") or "")


def test_the_record_is_cards_on_a_phone_and_nothing_of_it_stands_outside(page_of):
    page = page_of("S1", viewport={"width": 400, "height": 800})
    page.goto("/record")
    table = page.locator(".wide:has(table.cards)")
    assert table.evaluate("box => box.scrollWidth <= box.clientWidth")
    assert page.locator(".cards td[data-head]").first.is_visible()
    assert not page.locator(".cards thead").is_visible()
