"""Nozzle rules and test water. Loads and limits are invented, worked by hand."""

from __future__ import annotations

import pytest

from supports.calc.elementwise import at_most
from supports.calc.hardware import utilisation
from supports.calc.hydrotest import locked_load, water_weight
from supports.calc.nozzle import (
    combined_rule,
    combined_use,
    component_uses,
    equivalent_diameter,
    imbalance_bound,
    resultant,
)
from supports.errors import CannotCalculate
from supports.units import Kind, to_si

RULE = combined_rule("steam turbine")


def _use(force_lbf: float, moment_lbf_ft: float, nominal_in: float) -> float:
    return combined_use(
        to_si(force_lbf, "lbf", Kind.LOAD),
        to_si(moment_lbf_ft, "lbf·ft", Kind.MOMENT),
        to_si(nominal_in, "in", Kind.LENGTH),
        RULE,
    )


def test_combined_rule_by_hand() -> None:
    # D = 10 in: De = 26/3 = 8.667, limit 4,333; 3 × 900 + 1,500 = 4,200; 120 lbf more: 4,560
    assert equivalent_diameter(0.254, RULE) == pytest.approx(8.667, abs=5e-4)
    assert _use(900.0, 1500.0, 10.0) == pytest.approx(0.97, abs=5e-3)
    assert _use(1020.0, 1500.0, 10.0) == pytest.approx(4560.0 / 4333.33, rel=1e-6)


def test_combined_rule_exactly_at_its_limit_passes() -> None:
    assert at_most(_use(1000.0, 1000.0, 8.0), 1.0)  # 4,000 against 500 × 8
    assert not at_most(_use(1000.0, 1001.0, 8.0), 1.0)


@pytest.mark.parametrize(("nominal", "counted"), [(4.0, 4.0), (8.0, 8.0), (11.0, 9.0)])
def test_small_nozzles_count_in_full(nominal: float, counted: float) -> None:
    assert equivalent_diameter(nominal * 0.0254, RULE) == pytest.approx(counted, rel=1e-9)


def test_a_rule_carries_its_source_and_an_unknown_one_is_refused() -> None:
    assert "NEMA SM 23" in RULE.source
    with pytest.raises(CannotCalculate, match="no name 'fan'"):
        combined_rule("fan")


def test_friction_alone_may_use_up_a_nozzle() -> None:
    force, moment = imbalance_bound(0.05 * 22.1e3, 2.0)
    assert (force, moment) == pytest.approx((1105.0, 2210.0), rel=1e-12)
    by_force, by_moment = component_uses({"fy": force, "mz": moment}, {"fy": 3e3, "mz": 2e3})
    assert by_force.share == pytest.approx(0.368, abs=5e-4)
    assert by_moment.share == pytest.approx(1.105, rel=1e-12)


def test_sign_does_not_save_a_component_and_unknown_is_no_pass() -> None:
    fx, fy = component_uses({"fx": -3.3e3}, {"fx": 3e3, "fy": 3e3})
    assert fx.share == pytest.approx(1.1, rel=1e-12)
    assert (fy.load, fy.share) == (None, None)


def test_resultant_by_hand() -> None:
    assert resultant(3.0, 4.0, 12.0) == pytest.approx(13.0, rel=1e-12)


def test_hydrotest_by_hand() -> None:
    # bore 381 mm: 0.11401 m², 1,118 N/m; 6.0 m: 6.71 kN; 20.0 + 6.71 = 26.71 kN
    assert water_weight(0.381, 1.0) == pytest.approx(1118.0, abs=0.5)
    water = water_weight(0.381, 6.0)
    assert water == pytest.approx(6.71e3, abs=5.0)
    carried = locked_load(20e3, water)
    assert carried == pytest.approx(26.71e3, abs=5.0)
    assert utilisation(carried, 40e3) == pytest.approx(0.67, abs=5e-3)
    assert utilisation(carried + 300.0, 21.73e3) == pytest.approx(1.24, abs=5e-3)
