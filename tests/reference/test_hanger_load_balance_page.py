"""A published hanger load balance, its free bodies solved by the line solver.

Source: J. S. Page, 'Estimator's Piping Man-Hour Manual', 5th ed. (1999), Section Eleven, printed
pages 240 to 246: the line is cut into free bodies on two points. Loads in pounds and arms in feet
are fed in as they stand. Intermediate answers are printed as whole pounds (±1), totals add two of
them (±2). The printed product 3460.625 of body 2 is a misprint for 3461.625 without effect.
"""

import pytest

from supports.calc.line.parts import LumpedMass
from supports.calc.line.solver import solve
from supports.calc.line.states import added, cold
from tests.calc.line.example import G, held, spine, straight

# span; loads with their arms from the first point; printed answers at first and second point.
BODIES = {
    "1, O to H-2": (9.0, ((775, 3.625), (790, 7.0)), (638, 927)),
    "2, O to H-1": (7.458, ((775, 3.625), (543, 6.375)), (477, 841)),
    "3, A to H-1": (3.708, ((4354, 1.583), (500, 3.291), (638, 11.166)), (1268, 4224)),
    "4, H-2 to H-3": (
        14.5,
        ((477, -9.0), (790, 2.0), (1550, 7.183), (3173, 9.0), (1550, 10.817), (99, 14.25)),
        (3835, 3804),
    ),
    "5a, corner to H-6": (2.0, ((146, 0.792), (62, 1.563)), (102, 106)),
    "5b, H-7 to H-6": (11.292, ((95, 0.25), (653, 5.458), (146, 10.5)), (441, 453)),
    "6, tee to H-6": (15.5, ((140, 0.0), (95, 0.25), (1025, 8.125), (453, 17.5)), (663, 1050)),
    "7, H-4 to H-3": (17.0, ((2488, 6.292), (3667, 14.417), (148, 16.625)), (2128, 4175)),
}
LAST = (7.083, ((285, 1.083), (247, 2.125), (5418, 4.583), (130, 6.75)))
# printed totals: which answers make them up, and pounds added directly
TOTALS = {
    "H-1": ((("2, O to H-1", 1), ("3, A to H-1", 1)), 0, 5065),
    "H-2": ((("1, O to H-2", 1), ("4, H-2 to H-3", 0)), 0, 4762),
    "H-3": ((("4, H-2 to H-3", 1), ("7, H-4 to H-3", 1)), 0, 7979),
    "H-6": ((("5a, corner to H-6", 1), ("6, tee to H-6", 1)), 0, 1156),
    "H-7": ((("5b, H-7 to H-6", 0),), 102 + 437 + 152 + 1318 - 650, 1800),
}


def solved(span: float, hung: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    places = tuple(sorted({0.0, span, *(arm for _, arm in hung)}))
    supports = (spine("N0"), held("first", "N0"), held("second", f"N{span:g}"))
    masses = [LumpedMass(f"{i}", f"N{arm:g}", load / G) for i, (load, arm) in enumerate(hung)]
    result = solve(straight(places, supports), [added(cold(), *masses)])[0]
    return result.supports["first"].load, result.supports["second"].load


@pytest.mark.parametrize("name", BODIES)
def test_free_body(name: str) -> None:
    span, hung, printed = BODIES[name]
    assert solved(span, hung) == pytest.approx(printed, abs=1.0)


def test_last_body_and_its_hanger() -> None:
    """(H-4)'' = 3747 is printed; with (H-4)' = 2128 it makes H-4 = 5875."""
    second = solved(*LAST)[1]
    assert second == pytest.approx(3747, abs=1.0)
    span, hung, _ = BODIES["7, H-4 to H-3"]
    assert second + solved(span, hung)[0] == pytest.approx(5875, abs=2.0)


@pytest.mark.parametrize("hanger", TOTALS)
def test_hanger_totals(hanger: str) -> None:
    pieces, direct, printed = TOTALS[hanger]
    answers = [solved(*BODIES[name][:2])[end] for name, end in pieces]
    assert sum(answers) + direct == pytest.approx(printed, abs=2.0)
