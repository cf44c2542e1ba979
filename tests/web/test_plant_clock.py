"""The desk shows moments as the plant's clock does, as soon as one is laid down."""

from __future__ import annotations

from datetime import timedelta

from supports.operations.site import lay_down_time_zone
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
