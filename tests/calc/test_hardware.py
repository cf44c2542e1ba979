"""Rods, stack and steel. Example 7 is invented and worked by hand, with an invented allowable."""

from __future__ import annotations

import numpy as np
import pytest

from supports.calc.hardware import (
    Piece,
    bending_stress,
    loads_at_pieces,
    metric_root_diameter,
    midspan_sag,
    point_load_moment,
    rod_rating,
    rod_root_area,
    stack_use,
    utilisation,
)
from supports.errors import CannotCalculate
from supports.units import STANDARD_GRAVITY

ALLOWABLE = 67e6  # Pa, invented
HANGING = 300.0 / STANDARD_GRAVITY  # kg, so that the hardware below weighs 0.3 kN


def _stack(rod: str) -> list[Piece]:
    return [
        Piece("rod", mass=6.0, rating=rod_rating(rod_root_area(rod), ALLOWABLE)),
        Piece("clamp and clevis", mass=HANGING, rating=40e3),
    ]


def test_example_7_rod_areas_and_ratings() -> None:
    assert metric_root_diameter(0.024, 0.003) == pytest.approx(0.020319, abs=5e-7)
    assert metric_root_diameter(0.030, 0.0035) == pytest.approx(0.025706, abs=5e-7)
    assert rod_root_area("M24") == pytest.approx(324.3e-6, abs=0.05e-6)
    assert rod_root_area("M30") == pytest.approx(519.0e-6, abs=0.05e-6)
    assert rod_rating(rod_root_area("M24"), ALLOWABLE) == pytest.approx(21.73e3, abs=5.0)
    assert rod_rating(rod_root_area("M30"), ALLOWABLE) == pytest.approx(34.77e3, abs=5.0)


@pytest.mark.parametrize(
    ("rod", "unit_load", "use", "fits"),
    [
        ("M24", 20.0e3, 0.934, True),
        ("M24", 22.1e3, 1.031, False),
        ("M30", 22.1e3, 0.644, True),
    ],
)
def test_example_7_unit_in_range_rod_is_not(
    rod: str, unit_load: float, use: float, fits: bool
) -> None:
    result = stack_use(unit_load, _stack(rod))
    assert result.weakest is not None
    assert result.weakest.name == "rod"
    assert result.weakest.load == pytest.approx(unit_load + 300.0, rel=1e-12)
    assert result.weakest.utilisation == pytest.approx(use, abs=5e-4)
    assert result.fits is fits


def test_example_7_steel() -> None:
    moment = point_load_moment(24e3, 1.5, 1.5)
    assert moment == pytest.approx(18e3, rel=1e-12)
    assert bending_stress(moment, 194e-6) == pytest.approx(92.8e6, abs=0.05e6)
    assert midspan_sag(24e3, 3.0, 210e9, 1943e-8) == pytest.approx(3.3e-3, abs=0.05e-3)


def test_off_centre_pipe_bends_a_trapeze_beam_less_than_midspan() -> None:
    # 40 kN at 0.6 m and 1.0 m: 40 × 0.6 / 1.6 = 15 kN·m; at midspan 40 × 1.6 / 4 = 16 kN·m
    assert point_load_moment(40e3, 0.6, 1.0) == pytest.approx(15e3, rel=1e-12)
    assert point_load_moment(40e3, 0.8, 0.8) == pytest.approx(16e3, rel=1e-12)


def test_loads_grow_by_what_hangs_below() -> None:
    pieces = [Piece("beam"), Piece("unit", mass=160.0), Piece("rod", mass=10.0), Piece("clamp", 20)]
    expected = (20e3 + 190.0 * STANDARD_GRAVITY, 20e3 + 30.0 * STANDARD_GRAVITY)
    assert loads_at_pieces(20e3, pieces)[:2] == pytest.approx(expected, rel=1e-12)
    assert loads_at_pieces(20e3, pieces)[3] == 20e3


def test_a_mass_not_known_leaves_the_loads_above_not_known() -> None:
    pieces = [Piece("beam"), Piece("rod", mass=None), Piece("clamp", mass=20.0)]
    loads = loads_at_pieces(20e3, pieces)
    assert loads[0] is None
    assert loads[1] == pytest.approx(20e3 + 20.0 * STANDARD_GRAVITY, rel=1e-12)


def test_a_rating_not_known_is_never_ok() -> None:
    result = stack_use(
        20e3, [Piece("rod", 6.0, 40e3), Piece("lug", 2.0), Piece("clamp", 9.0, 40e3)]
    )
    assert result.unknown == ("lug",)
    assert result.fits is None


def test_a_piece_over_its_rating_fails_even_beside_an_unknown_one() -> None:
    result = stack_use(50e3, [Piece("rod", 6.0, 40e3), Piece("lug", 2.0)])
    assert result.fits is False


def test_nothing_listed_cannot_be_judged() -> None:
    result = stack_use(20e3, [])
    assert (result.weakest, result.fits) == (None, None)


def test_exactly_at_the_rating_passes() -> None:
    assert stack_use(40e3, [Piece("clamp", 9.0, 40e3)]).fits is True
    assert stack_use(40.001e3, [Piece("clamp", 9.0, 40e3)]).fits is False


def test_condition_takes_its_share_of_the_rating() -> None:
    result = stack_use(33e3, [Piece("clamp", 9.0, 40e3, derating=0.8)])
    assert result.pieces[0].capacity == pytest.approx(32e3, rel=1e-12)
    assert result.pieces[0].utilisation == pytest.approx(33.0 / 32.0, rel=1e-12)
    assert result.fits is False


def test_nothing_left_of_a_rating_is_over_at_any_load() -> None:
    assert utilisation(1.0, 40e3, 0.0) == float("inf")


def test_utilisation_over_columns() -> None:
    shares = utilisation(np.array([20.3e3, 22.4e3]), np.array([21.73e3, np.nan]))
    assert shares[0] == pytest.approx(0.934, abs=5e-4)
    assert np.isnan(shares[1])


def test_a_size_in_no_table_is_refused_with_the_sizes_known() -> None:
    with pytest.raises(CannotCalculate, match="no size '5/7-9'; expected one of 1/4-20"):
        rod_root_area("5/7-9")
