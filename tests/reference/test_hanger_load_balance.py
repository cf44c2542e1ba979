"""Totals of a published hanger load balance; its free bodies are in the list of published checks.

Source: Estimator's Piping Man-Hour Manual, 5th ed. (1999), Section Eleven, "Hanger load
calculations", pages 240 to 246. A hanger's total adds two answers printed as whole pounds, so 2 lb
is given. Each total is formed by lever and by the line solver.
"""

from __future__ import annotations

from math import fsum

import pytest

from supports.calc.closure import lever_shares
from supports.verification.hanger_balance import BODIES, by_lever, by_solver

WAYS = (by_lever, by_solver)
TOTALS = {
    "H-1": ((("second end to H-1", 1), ("anchor to H-1 with overhang", 1)), 0, 5065),
    "H-2": ((("first end to H-2", 1), ("H-2 to H-3 with overhang", 0)), 0, 4762),
    "H-3": ((("H-2 to H-3 with overhang", 1), ("H-4 to H-3", 1)), 0, 7979),
    "H-4": ((("last end to H-4", 1), ("H-4 to H-3", 0)), 0, 5875),
    "H-6": ((("corner to H-6", 1), ("tee to H-6 with overhang", 1)), 0, 1156),
    "H-7": ((("H-7 to H-6", 0),), 102 + 437 + 152 + 1318 - 650, 1800),
}
"""Printed totals: which answers make them up, and pounds added directly."""


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("hanger", TOTALS)
def test_hanger_totals(hanger, way) -> None:
    pieces, direct, printed = TOTALS[hanger]
    answers = [way(name)[end] for name, end in pieces]
    assert fsum(answers) + direct == pytest.approx(printed, abs=2.0)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", BODIES)
def test_reactions_carry_all_the_loads(name, way) -> None:
    loads = BODIES[name][1]
    assert fsum(way(name)) == pytest.approx(fsum(load for load, _ in loads), rel=1e-9)


def test_two_support_beam_as_printed() -> None:
    # A small published check: load 10 on a span of 20 at 17 and 3 gives 1.5 and 8.5, exact.
    assert lever_shares(10.0, 17.0, 3.0) == pytest.approx((1.5, 8.5), rel=1e-12)
