"""Every screen of the desk has its picture in the documentation."""

from __future__ import annotations

import re

from app.web.pages import TEMPLATES
from demo.screen_pictures import EVERY, SHOWN_IN

ON_A_TABLET = {"tablet", "tablet_unit"}
"""Drawn by the tablet's own script: the copies on it, and one unit of a copy."""
HEAVIEST = 60_000
"""No picture weighs more [bytes]."""


def test_every_screen_has_its_picture_and_its_place_on_the_page():
    drawn = {path.name.removesuffix(".html.jinja"): path for path in TEMPLATES.glob("*.jinja")}
    bases = {"base", "change_base"}
    screens = {
        name
        for name, path in drawn.items()
        if name not in bases and re.match(r"{% extends ", path.read_text(encoding="utf-8"))
    }
    assert {one.template for one in EVERY} == screens | ON_A_TABLET
    page = (SHOWN_IN.parents[1] / "screens.md").read_text(encoding="utf-8")
    shown = re.findall(r"\(figures/screens/([\w-]+\.png)\)", page)
    assert sorted(shown) == sorted(one.file for one in EVERY)
    assert {path.name for path in SHOWN_IN.iterdir()} == set(shown)
    assert all(path.stat().st_size < HEAVIEST for path in SHOWN_IN.iterdir())
