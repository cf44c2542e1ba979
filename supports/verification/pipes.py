"""Pipe dimensions and masses of ASME B36.10M, and masses of a printed estimator's table."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from supports.calc.pipe_properties import line_mass, pipe_by_nps
from supports.units import Kind, from_si
from supports.verification.check import PublishedCheck, Trust

SOURCE = "ASME B36.10M"
PRINTED_TABLE = "Estimator's Piping Man-Hour Manual, 5th ed. (1999)"
STEEL, WATER = 7850.0, 1000.0

ROWS = (
    (2.0, "40", "60.3", "3.91", "5.44", "2.16"),
    (2.0, "80", "60.3", "5.54", "7.48", "1.90"),
    (3.0, "40", "88.9", "5.49", "11.29", "4.77"),
    (4.0, "40", "114.3", "6.02", "16.08", "8.21"),
    (6.0, "40", "168.3", "7.11", "28.26", "18.65"),
    (6.0, "80", "168.3", "10.97", "42.56", "16.82"),
    (8.0, "40", "219.1", "8.18", "42.55", "32.28"),
    (8.0, "80", "219.1", "12.70", "64.64", "29.47"),
    (10.0, "40", "273.0", "9.27", "60.29", "50.85"),
    (12.0, "STD", "323.8", "9.53", "73.86", "72.94"),
    (12.0, "XS", "323.8", "12.70", "97.44", "69.93"),
    (16.0, "STD", "406.4", "9.53", "93.27", "117.84"),
    (16.0, "40", "406.4", "12.70", "123.31", "114.01"),
    (20.0, "STD", "508.0", "9.53", "117.15", "187.76"),
    (24.0, "STD", "610.0", "9.53", "141.12", "274.27"),
)
"""NPS, schedule, outside diameter and wall [mm], steel and water [kg/m]."""

POUNDS = (
    (6.0, "40", "18.97"), (6.0, "80", "28.57"), (16.0, "STD", "62.6"), (16.0, "XS", "82.8"),
)  # fmt: skip
"""NPS, schedule, steel [lb/ft] as printed on pages 256 and 261."""


def checks() -> Iterator[PublishedCheck]:
    """Give the checks of every row."""
    for nps, schedule, od, wall, steel, water in ROWS:
        named = f"NPS {nps:g} {schedule}"
        exact = "the dimension itself"
        rule = "half the last digit, and 0.0246615 (D - t) t rounded"
        for what, printed, unit, ours, slack, why in (
            ("outside diameter", od, "mm", partial(_outside, nps, schedule), 1e-9, exact),
            ("wall", wall, "mm", partial(_wall, nps, schedule), 1e-9, exact),
            ("steel", steel, "kg/m", partial(_steel, nps, schedule), 0.006, rule),
            ("water", water, "kg/m", partial(_water, nps, schedule), 0.006, rule),
        ):
            yield PublishedCheck(
                "Pipe", SOURCE, "tables, masses by its rule", f"{named}: {what}", printed,
                float(printed), unit, ours, slack, why, Trust.MEMORY,
            )  # fmt: skip
    for nps, schedule, printed in POUNDS:
        yield PublishedCheck(
            "Pipe", PRINTED_TABLE, "pages 256 and 261", f"NPS {nps:g} {schedule}: steel", printed,
            float(printed), "lb/ft", partial(_pounds, nps, schedule), 2e-3 * float(printed),
            "0.2 %: old tables use 10.68 (D - t) t where 10.69 fits 7,850 kg/m³", Trust.READ,
        )  # fmt: skip


def _outside(nps: float, schedule: str) -> float:
    return pipe_by_nps(nps, schedule).outside_diameter * 1e3


def _wall(nps: float, schedule: str) -> float:
    return pipe_by_nps(nps, schedule).wall * 1e3


def _steel(nps: float, schedule: str) -> float:
    return line_mass(pipe_by_nps(nps, schedule), STEEL).pipe


def _water(nps: float, schedule: str) -> float:
    return line_mass(pipe_by_nps(nps, schedule), STEEL, WATER).content


def _pounds(nps: float, schedule: str) -> float:
    return from_si(_steel(nps, schedule), "lb/ft", Kind.MASS_PER_LENGTH)
