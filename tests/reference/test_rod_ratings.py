"""Threaded rods: what the published lists of `supports.verification.rods` cannot hold."""

from __future__ import annotations

import pytest

from supports.verification.rods import STRESS_A, rating


def test_basis_a_misprint() -> None:
    # 1-3/4-5 is printed as 14,700 lbf; its area is printed as 1.74 in²: half its last digit times
    # 9,000 psi
    assert rating("1-3/4-5", STRESS_A) == pytest.approx(15660.0, abs=45.0)
