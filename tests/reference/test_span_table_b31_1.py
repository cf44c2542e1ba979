"""Suggested pipe support spacing, ASME B31.1 Table 121.5 (the same in MSS SP-58), water service.

Spans as printed [m]. The criteria quoted for recent editions: beam fixed at both ends, insulated,
water-filled, bending no more than 2,300 psi (15.86 MPa), sag 0.1 in (2.5 mm) permissible (from
memory). An older rule: M = w L²/10 and 1,500 psi (10.35 MPa). Standard wall from ASME B36.10M (from
memory), 50 mm of insulation at 200 kg/m³. A table is a table: where it does not follow from its
criteria, the test says so.
"""

import pytest

from supports.calc.line.parts import Section
from supports.calc.line.restraints import Anchor
from supports.calc.line.solver import solve
from supports.calc.line.states import cold
from supports.calc.pipe_properties import ring_area, second_moment
from tests.calc.line.example import G, held, spine, straight

MODULUS = 29e6 * 6894.757  # 29e6 psi
LIMIT = 15.86e6
OLD_LIMIT = 10.35e6
SAG = 2.54e-3

# NPS: outside diameter, standard wall [mm], span [m]
TABLE = {
    1: (33.4, 3.38, 2.1),
    2: (60.3, 3.91, 3.0),
    3: (88.9, 5.49, 3.7),
    4: (114.3, 6.02, 4.3),
    6: (168.3, 7.11, 5.2),
    8: (219.1, 8.18, 5.8),
    12: (323.8, 9.53, 7.0),
    16: (406.4, 9.53, 8.2),
    20: (508.0, 9.53, 9.1),
    24: (610.0, 9.53, 9.8),
}


class Pipe:
    """Section and weight of a row of the table."""

    def __init__(self, nps: int) -> None:
        self.od, self.wall = (v / 1e3 for v in TABLE[nps][:2])
        self.span = TABLE[nps][2]
        self.area = float(ring_area(self.od, self.wall))
        self.second = float(second_moment(self.od, self.wall))
        bore = 3.141592653589793 / 4 * (self.od - 2 * self.wall) ** 2
        cover = float(ring_area(self.od + 0.1, 0.05))
        self.weight = G * (7850 * self.area + 1000 * bore + 200 * cover)

    @property
    def section(self) -> Section:
        return Section(self.area, self.second, MODULUS)

    def stress(self, moment: float) -> float:
        return abs(moment) * self.od / 2 / self.second


def fixed(nps: int) -> tuple[float, float]:
    """Largest bending [Pa] and sag [m] of one span fixed at both ends."""
    pipe = Pipe(nps)
    half, end = f"N{pipe.span / 2:g}", f"N{pipe.span:g}"
    line = straight(
        (0, pipe.span / 2, pipe.span),
        (Anchor("A", "N0"), Anchor("B", end)),
        newton_per_metre=pipe.weight,
        section=pipe.section,
    )
    result = solve(line, [cold()])[0]
    return pipe.stress(result.nozzles["A"][4]), -result.movement(half)[2]


def free(nps: int) -> tuple[float, float]:
    """Largest bending [Pa] and sag [m] of one span on two rests."""
    pipe = Pipe(nps)
    half, end = f"N{pipe.span / 2:g}", f"N{pipe.span:g}"
    line = straight(
        (0, pipe.span / 2, pipe.span),
        (spine("N0"), held("A", "N0"), held("B", end)),
        newton_per_metre=pipe.weight,
        section=pipe.section,
    )
    result = solve(line, [cold()])[0]
    return pipe.stress(result.end_forces[0, 4]), -result.movement(half)[2]


@pytest.mark.parametrize("nps", TABLE)
def test_meets_its_criteria_with_fixed_ends(nps: int) -> None:
    stress, sag = fixed(nps)
    assert 0.3 * LIMIT < stress < LIMIT
    assert 0.05 * SAG < sag < SAG


@pytest.mark.parametrize(("nps", "printed"), [(2, 10.3), (6, 10.1), (12, 10.5), (24, 15.4)])
def test_bending_by_the_tenth_rule(nps: int, printed: float) -> None:
    """Bending w L²/10 [MPa] as another program gave it; fixed ends give 10/12 of it.

    The density of its 50 mm of insulation is not stated; between 140 and 240 kg/m³ the answer moves
    by 5 % at NPS 2 and by less above, hence the tolerance.
    """
    assert fixed(nps)[0] * 12 / 10 / 1e6 == pytest.approx(printed, rel=0.05)


@pytest.mark.parametrize("nps", [16, 20, 24])
def test_large_sizes_do_not_follow_the_older_rule(nps: int) -> None:
    """Where the table does not meet 1,500 psi by w L²/10: it must be used as a table."""
    assert fixed(nps)[0] * 12 / 10 > 1.1 * OLD_LIMIT


@pytest.mark.parametrize(("nps", "within"), [(4, True), (12, True), (20, False), (24, False)])
def test_sag_on_two_rests(nps: int, within: bool) -> None:
    """Simply supported, the large sizes sag more than 0.1 in: the end condition matters."""
    sag = free(nps)[1]
    assert (sag <= SAG) is within
    assert sag == pytest.approx(5 * fixed(nps)[1], rel=1e-9)
