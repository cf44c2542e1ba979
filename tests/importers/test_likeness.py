"""Names that resemble another out of many: held against the standard library's own search."""

from __future__ import annotations

import random
from difflib import get_close_matches

from importers.likeness import CUTOFF, Likeness


def test_the_same_names_are_found_in_the_same_order_as_by_comparing_with_each():
    dice = random.Random(20310505)  # noqa: S311  names, no secret
    tags = {f"PS-{dice.randint(1, 9999)}" for _ in range(300)}
    tags |= {f"{dice.choice('HRS')}{dice.randint(1, 99)}/{dice.choice('AB')}" for _ in range(100)}
    pool = [*sorted(tags), "12-SH-7031-PS-01", "ÄÖ-7", ""]
    asked = [dice.choice(pool)[:-1] + dice.choice("0O1lA-") for _ in range(60)]
    likeness = Likeness(pool)
    found = [likeness.closest(one, 3) for one in asked]
    assert found == [get_close_matches(one, pool, n=3, cutoff=CUTOFF) for one in asked]
    assert sum(map(bool, found)) > 40
    assert likeness.closest("", 3) == []
    assert likeness.closest("pump", 3) == []
