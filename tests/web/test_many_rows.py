"""A list of more than twenty supports, whose pages are gone through above it and below it."""

from __future__ import annotations

import re
from collections import Counter

import pytest

from supports.model import SupportPoint, SupportTag
from supports.tags import matching_key
from tests.operations.days import START
from tests.web.desks import signed_in


@pytest.mark.parametrize("language", ["en", "de"])
def test_no_two_landmarks_of_a_page_have_one_name(staffed, language):
    """WAI-ARIA practices, W3C: landmarks of one role are told apart by their names."""
    with staffed.writing("KK", "", START, action="more supports") as writing:
        for number in range(25):
            point = SupportPoint(kind="rigid rod", in_service="in place")
            writing.session.add(point)
            writing.session.flush()
            tag = f"Z-{number}"
            writing.session.add(
                SupportTag(point_id=point.id, tag=tag, matching_key=matching_key(tag))
            )
    page = signed_in(staffed, "S1").look("/supports", headers={"accept-language": language}).text
    names = Counter(re.findall(r'<nav[^>]* aria-label="([^"]+)"', page))
    assert sum(names.values()) == 3
    assert set(names.values()) == {1}
