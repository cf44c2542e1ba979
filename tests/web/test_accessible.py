"""Every screen held against WCAG 2.2 AA by axe-core, in light and dark, and on a tablet.

axe-core is an independent checker of the Web Content Accessibility Guidelines of the W3C; it finds
what a machine can find. That meaning is never told by colour alone is looked at by people.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.planning_lines import NUMBER

AXE = (Path(__file__).parent / "axe" / "axe.min.js").read_text(encoding="utf-8")
WHOLE = {
    "type": "tag",
    "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
}
SCREENS = {
    "waiting": "/",
    "supports": "/supports",
    "asked of the rules": "/supports?verdict=re-set",
    "support": "/supports/C1",
    "lines": "/lines",
    "line": f"/lines/{NUMBER}",
    "weight": f"/lines/{NUMBER}/weight",
    "change": f"/lines/{NUMBER}/change",
    "what if": f"/lines/{NUMBER}/what-if?contents=1000&first=2&out=V1",
    "walkdowns": "/walkdowns",
    "coverage": "/walkdowns/coverage",
    "findings": "/findings",
    "tablet form": "/tablet",
    "rules": "/rules",
    "rule": "/rules/of/variability-high",
    "explained": "/rules/explained?name=C1",
    "limits": "/rules/limits",
    "limit": "/rules/limits/tolerance",
    "record": "/record",
    "batch": "/record/batch/1",
    "history": "/record/row/nameplate/1",
    "as of a day": "/record/day",
    "between two days": "/record/between?since=2031-01-01&support=C1",
    "record whole": "/record/whole",
    "own account": "/own-account",
    "accounts": "/accounts",
    "trouble": "/nowhere",
}
TABLET = {"viewport": {"width": 820, "height": 1180}, "has_touch": True, "is_mobile": True}
LOOKS = {
    "light": ({"color_scheme": "light"}, WHOLE),
    "dark": ({"color_scheme": "dark"}, {"type": "rule", "values": ["color-contrast"]}),
    "tablet": (
        TABLET,
        {"type": "rule", "values": ["target-size", "scrollable-region-focusable", "meta-viewport"]},
    ),
}
"""Each look with what can differ in it."""


def faults(page, rules=WHOLE) -> list[str]:
    """Return what axe-core finds on a page."""
    page.evaluate(AXE)
    found = page.evaluate(
        "rules => axe.run(document, {runOnly: rules, resultTypes: ['violations']})", rules
    )
    return [
        f"{one['id']}: {one['help']}: {node['html'][:120]}"
        for one in found["violations"]
        for node in one["nodes"]
    ]


@pytest.mark.parametrize("look", LOOKS)
def test_every_screen_is_accessible(page_of, look):
    settings, rules = LOOKS[look]
    page = page_of("KK", bypass_csp=True, errors_expected=True, **settings)
    found = {}
    for name, address in SCREENS.items():
        page.goto(address)
        if wrong := faults(page, rules):
            found[name] = wrong
    assert found == {}


def test_the_sign_in_is_accessible(page_of):
    page = page_of("", bypass_csp=True)
    page.goto("/sign-in")
    assert faults(page) == []


def test_the_checker_would_see_a_fault(page_of):
    page = page_of("KK", bypass_csp=True)
    page.goto("/lines")
    page.evaluate("document.querySelector('#f-text').removeAttribute('id')")
    assert any("label" in one for one in faults(page))


def test_nothing_is_cut_off_on_a_tablet(page_of):
    page = page_of("KK", **TABLET)
    for address in SCREENS.values():
        if address != "/nowhere":
            page.goto(address)
            wide = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
            assert wide <= 0, address
