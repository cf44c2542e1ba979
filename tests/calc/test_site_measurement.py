"""Load cell, case spread, step of the scale. Invented numbers worked by hand."""

from __future__ import annotations

import pytest

from supports.calc.constant_support import relative_difference
from supports.calc.elementwise import at_most
from supports.calc.site_measurement import case_spread, measured_band, step_disagreement
from supports.errors import CannotCalculate


def test_example_4_band_from_a_load_cell() -> None:
    band = measured_band(21200.0, 19400.0)
    assert (band.mean, band.half_band) == pytest.approx((20300.0, 900.0), rel=1e-12)
    assert band.deviation == pytest.approx(0.0443, abs=5e-5)
    assert relative_difference(band.mean, 20000.0) == pytest.approx(0.015, rel=1e-12)


def test_exchanged_readings_are_asked_about() -> None:
    with pytest.raises(CannotCalculate, match="look exchanged"):
        measured_band(19400.0, 21200.0)


def test_case_spread_by_hand() -> None:
    spread = case_spread([20900.0, 22100.0, 23400.0])
    assert (spread.middle, spread.half_spread) == pytest.approx((22150.0, 1250.0), rel=1e-12)
    assert spread.relative == pytest.approx(0.0564, abs=5e-5)


def test_no_case_has_no_spread() -> None:
    with pytest.raises(CannotCalculate, match="no operating case"):
        case_spread([])


def test_step_check_by_hand() -> None:
    # four turns of 0.25 kN: 1.00 kN expected, 0.70 kN seen
    assert step_disagreement(1000.0, 700.0) == pytest.approx(0.30, rel=1e-12)
    assert step_disagreement(-1000.0, -700.0) == pytest.approx(0.30, rel=1e-12)
    assert step_disagreement(1000.0, -200.0) == pytest.approx(1.20, rel=1e-12)


def test_step_exactly_at_the_limit_passes() -> None:
    assert at_most(step_disagreement(1000.0, 800.0), 0.20)
    assert not at_most(step_disagreement(1000.0, 799.0), 0.20)
