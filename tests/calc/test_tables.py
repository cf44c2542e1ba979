"""Shipped tables: every row has its source; readings carry it, and say what is from memory."""

from __future__ import annotations

import pytest

from supports.calc.tables import density, mean_expansion, modulus, rows
from supports.errors import CannotCalculate

TABLES = (
    "densities",
    "mean_expansion",
    "modulus",
    "nominal_sizes",
    "nozzle_combined_rules",
    "rod_pitches_metric",
    "rod_root_areas_unc",
)


@pytest.mark.parametrize("name", TABLES)
def test_every_row_names_its_source(name: str) -> None:
    assert rows(name)
    assert all(one["source"].strip() for one in rows(name))


@pytest.mark.parametrize("name", TABLES)
def test_every_row_fills_every_column(name: str) -> None:
    assert all(None not in one and None not in one.values() for one in rows(name))


def test_what_is_from_memory_is_not_called_confirmed() -> None:
    for name in ("densities", "mean_expansion", "modulus"):
        for one in rows(name):
            assert ("memory" in one["source"] and one["confirmed"] == "yes") is False


def test_halfway_between_two_rows() -> None:
    # carbon steel 191.3 GPa at 200 °C, 185.3 GPa at 300 °C
    found = modulus("carbon steel", 250.0 + 273.15)
    assert found.value == pytest.approx(188.3e9, rel=1e-9)
    assert found.confirmed


def test_a_value_between_a_printed_and_a_remembered_row_is_not_confirmed() -> None:
    printed, remembered = 700.0, 800.0  # °F, 9Cr-1Mo
    kelvin = [(f + 459.67) / 1.8 for f in (printed, 750.0, remembered)]
    assert [mean_expansion("9Cr-1Mo steel", k).confirmed for k in kelvin] == [True, False, False]


@pytest.mark.parametrize("kelvin", [200.0, 900.0])
def test_no_guess_outside_a_table(kelvin: float) -> None:
    with pytest.raises(CannotCalculate, match="does not reach to the temperature"):
        mean_expansion("carbon steel", kelvin)


def test_twenty_degrees_celsius_serves_as_seventy_fahrenheit() -> None:
    assert mean_expansion("carbon steel", 293.15).value == pytest.approx(6.4e-6 * 1.8, rel=1e-9)


def test_an_unknown_material_is_refused_with_those_known() -> None:
    with pytest.raises(CannotCalculate, match="no material 'lead'; expected one of carbon steel"):
        modulus("lead", 300.0)
    with pytest.raises(CannotCalculate, match="no material 'lead'"):
        density("lead")


def test_density_carries_its_source() -> None:
    water = density("water")
    assert water.value == pytest.approx(1000.0, rel=1e-12)
    assert "memory" in water.source
