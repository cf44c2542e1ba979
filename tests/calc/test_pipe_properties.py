"""Pipe dimensions, section, masses, growth. Example 9 is invented and worked by hand."""

from __future__ import annotations

import math

import pytest

from supports.calc.pipe_properties import (
    Pipe,
    growth,
    insulation_mass,
    line_mass,
    movement_between,
    pipe_by_dn,
    pipe_by_nps,
)
from supports.errors import CannotCalculate

NPS_16 = Pipe(0.4064, 0.0127)


def test_example_9_growth() -> None:
    total = growth(13.0e-6, 12.0, 380.0)
    assert total == pytest.approx(59.3e-3, abs=0.05e-3)
    assert movement_between(0.0, total, 12.0, 4.0) == pytest.approx(19.8e-3, abs=0.05e-3)


def test_example_9_between_two_movements() -> None:
    assert movement_between(18e-3, 32e-3, 14.0, 5.0) == pytest.approx(23.0e-3, rel=1e-12)


def test_section_against_fourth_powers() -> None:
    # textbook: I = π (D⁴ − d⁴) / 64, Z = I / (D / 2), A = π (D² − d²) / 4
    outside, inside = 0.4064, 0.3810
    inertia = math.pi * (outside**4 - inside**4) / 64.0
    assert NPS_16.inside_diameter == pytest.approx(inside, rel=1e-12)
    assert NPS_16.second_moment == pytest.approx(inertia, rel=1e-12)
    assert NPS_16.section_modulus == pytest.approx(inertia / (outside / 2.0), rel=1e-12)
    assert NPS_16.metal_area == pytest.approx(math.pi * (outside**2 - inside**2) / 4.0, rel=1e-12)
    assert NPS_16.bore_area == pytest.approx(0.11401, abs=5e-6)


def test_masses_by_hand() -> None:
    # insulation 50 mm on 323.8 mm: π × 373.8 mm × 50 mm = 0.058716 m²; × 120 kg/m³ = 7.046 kg/m
    # sheet 0.8 mm over 423.8 mm: π × 424.6 mm × 0.8 mm = 1067.1 mm²; × 2,700 kg/m³ = 2.881 kg/m
    mass = line_mass(pipe_by_nps(12, "STD"), 7850.0, 1000.0, (0.05, 120.0), (0.0008, 2700.0))
    assert mass.insulation == pytest.approx(7.046, abs=5e-4)
    assert mass.cladding == pytest.approx(2.881, abs=5e-4)
    assert mass.pipe == pytest.approx(73.86, abs=5e-3)
    assert mass.content == pytest.approx(72.94, abs=5e-3)
    assert mass.total == pytest.approx(73.861 + 72.937 + 7.046 + 2.881, abs=2e-3)


def test_a_bare_empty_line_has_only_its_pipe() -> None:
    mass = line_mass(NPS_16, 7850.0)
    assert mass.total == mass.pipe
    assert insulation_mass(0.4064, 0.0, 120.0) == pytest.approx(0.0, abs=1e-15)


@pytest.mark.parametrize("schedule", ["40", "Sch 40", "sch. 40", " 40 "])
def test_schedules_may_be_written_out(schedule: str) -> None:
    assert pipe_by_dn(150, schedule) == pipe_by_nps(6, "40")


@pytest.mark.parametrize(("dn", "nps"), [(15, 0.5), (65, 2.5), (300, 12.0), (600, 24.0)])
def test_metric_and_customary_names_mean_one_pipe(dn: int, nps: float) -> None:
    assert pipe_by_dn(dn, "STD") == pipe_by_nps(nps, "STD")


@pytest.mark.parametrize(("nps", "schedule"), [(7.0, "40"), (6.0, "41"), (6.0, "BS1387HEAVY")])
def test_pipes_in_no_steel_table_are_refused(nps: float, schedule: str) -> None:
    with pytest.raises(CannotCalculate, match="pipe is not in the table"):
        pipe_by_nps(nps, schedule)


def test_an_unknown_dn_is_refused() -> None:
    with pytest.raises(CannotCalculate, match="DN 175"):
        pipe_by_dn(175, "40")


@pytest.mark.parametrize(("outside", "wall"), [(0.1, 0.0), (0.1, 0.051), (0.1, -0.01)])
def test_impossible_dimensions_are_refused(outside: float, wall: float) -> None:
    with pytest.raises(CannotCalculate, match="make no pipe"):
        Pipe(outside, wall)


def test_a_solid_bar_is_the_limit() -> None:
    assert Pipe(0.1, 0.05).bore_area == pytest.approx(0.0, abs=1e-15)
