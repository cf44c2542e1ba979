"""Threaded rods: root areas, and ratings on two bases in circulation."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from supports.calc.hardware import rod_rating, rod_root_area
from supports.units import Kind, from_si, to_si
from supports.verification.check import PublishedCheck, Trust

BASIS_A = (
    ("3/8-16", "600"), ("1/2-13", "1100"), ("5/8-11", "1800"), ("3/4-10", "2700"),
    ("7/8-9", "3800"), ("1-8", "4900"), ("1-1/4-7", "8000"), ("1-1/2-6", "11600"),
    ("2-4.5", "20700"), ("2-1/4-4.5", "27200"), ("2-1/2-4", "33500"), ("3-4", "50600"),
)  # fmt: skip
"""Size and rating [lbf] at 12,000 psi x 0.75 on the root area, as printed.

1-3/4-5 is printed as 14,700, a misprint: 1.74 in² x 9,000 psi is 15,660 lbf.
"""
BASIS_B = (
    ("3/8-16", "730"), ("1/2-13", "1350"), ("5/8-11", "2160"), ("3/4-10", "3230"),
    ("7/8-9", "4480"), ("1-8", "5900"), ("1-1/4-7", "9500"), ("1-1/2-6", "13800"),
    ("1-3/4-5", "18600"), ("2-4.5", "24600"),
)  # fmt: skip
"""Size and rating [lbf] at 50,000 psi / 3.5 x 0.75 on the root area."""
AREAS = (("1/4-20", "0.0269"), ("7/16-14", "0.0933"), ("1/2-13", "0.1257"))
"""Size and area at the root [in²]."""
METRIC = (
    ("M10", "8.160"), ("M12", "9.853"), ("M16", "13.546"), ("M20", "16.933"), ("M24", "20.319"),
    ("M30", "25.706"), ("M36", "31.093"),
)  # fmt: skip
"""Size and root diameter d3 [mm]."""

STRESS_A, STRESS_B = 9000.0, 50000.0 / 3.5 * 0.75
"""Allowable stresses on the root area [psi]."""


def rating(size: str, allowable_psi: float) -> float:
    """Return the rating of a rod [lbf] at an allowable stress [psi] on its root area."""
    allowable = to_si(allowable_psi, "psi", Kind.STRESS)
    return from_si(rod_rating(rod_root_area(size), allowable), "lbf", Kind.LOAD)


def _area(size: str) -> float:
    return from_si(rod_root_area(size), "in²", Kind.AREA)


def _root(size: str) -> float:
    return math.sqrt(rod_root_area(size) * 4.0 / math.pi) * 1e3


def checks() -> Iterator[PublishedCheck]:
    """Give the checks of every size."""
    for size, printed in BASIS_A:
        yield PublishedCheck(
            "Rods", "ASME B31.1-2016", "para. 121.2(G), 25 % off for threads; table in circulation",
            f"{size}: rating at 9,000 psi", printed, float(printed), "lbf",
            partial(rating, size, STRESS_A), 60.0,
            "printed to a hundred pounds, some rounded, some cut off", Trust.READ,
        )  # fmt: skip
    for size, printed in BASIS_B:
        yield PublishedCheck(
            "Rods", "MSS SP-58 (2002)", "ratings up to 650 °F",
            f"{size}: rating at 10,714 psi", printed, float(printed), "lbf",
            partial(rating, size, STRESS_B), 0.01 * float(printed),
            "1 %: rounded to two or three figures, the stress is a deduction", Trust.MEMORY,
        )  # fmt: skip
    for size, printed in AREAS:
        yield PublishedCheck(
            "Rods", "Handbook of test methods", "unified coarse threads", f"{size}: root area",
            printed, float(printed), "in²", partial(_area, size), 5e-5, "half the last digit",
            Trust.READ,
        )  # fmt: skip
    for size, printed in METRIC:
        yield PublishedCheck(
            "Rods", "DIN 13 / ISO 724", "d3, coarse threads", f"{size}: root diameter", printed,
            float(printed), "mm", partial(_root, size), 6e-4,
            "the last digit, and 1.22687 for 1.226869", Trust.MEMORY,
        )  # fmt: skip
