"""The spring units of the plant, each with a serial and what its nameplate says."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache

from demo.plant.demo_plates import TESTED_BAND, demo_plate
from demo.plant.plates import Plate, constant_plate, variable_plate
from demo.plant.points import ARMS, BEAM_WEIGHT, SHARED_ARMS, Point, points
from demo.plant.seeds import generator
from supports.units import Kind
from supports.vocabulary import Arrangement, SupportKind

WITH_UNITS = frozenset(
    {
        SupportKind.CONSTANT_HANGER, SupportKind.CONSTANT_REST, SupportKind.VARIABLE_HANGER,
        SupportKind.VARIABLE_REST, SupportKind.SHOCK_ARRESTOR,
    }
)  # fmt: skip

_UNREADABLE = (
    ("load_per_turn",),
    ("direction_to_increase", "direction_to_decrease"),
    ("range_low", "range_high"),
    ("nameplate_load", "range_low", "range_high", "load_per_turn"),
)
"""What corrosion, paint and insulation hide on plates of constant units."""


@dataclass(frozen=True, slots=True)
class SpringUnit:
    """One unit.

    Parameters
    ----------
    load
        Its part of the load that calculation revision A requires [N].
    plate
        What its nameplate says; empty where there is none or nothing on it can be read.
    """

    point: Point
    position: str
    serial: str
    series: str
    year_built: int
    load: float | None
    plate: Plate = field(default_factory=dict)

    @property
    def marked_load(self) -> float | None:
        """Load that the plate asks to be set: calibrated, or in operation [N]."""
        value = self.plate.get("nameplate_load", self.plate.get("hot_load"))
        return value if isinstance(value, float) else None


@cache
def spring_units() -> tuple[SpringUnit, ...]:
    """Return all units, support by support."""
    found = (unit for p in points() if p.kind in WITH_UNITS for unit in _units_of(p))
    return tuple(found)


def parts(point: Point) -> tuple[float | None, ...]:
    """Return the part of a support's load that each of its units carries [N]."""
    if point.load is None:
        return (None,)
    if point.also:
        return _shared_parts(point, point.also[2])
    return unit_loads(point.arrangement, point.load)


def unit_loads(arrangement: Arrangement, load: float) -> tuple[float, ...]:
    """Return what each unit carries of a load [N] of one pipe."""
    if arrangement is Arrangement.RISER_PAIR:
        return (load / 2.0, load / 2.0)
    if arrangement is Arrangement.TRAPEZE:
        to_a = load * ARMS[1] / sum(ARMS)
        return (to_a + BEAM_WEIGHT / 2.0, load - to_a + BEAM_WEIGHT / 2.0)
    return (load,)


def _shared_parts(point: Point, other: float) -> tuple[float, float]:
    spacing, loads = sum(ARMS), (point.load or 0.0, other)
    to_b = sum(load * arm for load, arm in zip(loads, SHARED_ARMS, strict=True)) / spacing
    return (sum(loads) - to_b + BEAM_WEIGHT / 2.0, to_b + BEAM_WEIGHT / 2.0)


def _units_of(point: Point) -> Iterator[SpringUnit]:
    rng = generator("units", point.tag)
    year = 1998 if point.area == 1 else 2006
    for position, load in zip("AB", parts(point), strict=False):
        plate = _plate(point, position, load, rng)
        yield SpringUnit(
            point,
            position,
            f"{year % 100:02d}-{rng.randrange(100000, 999999)}",
            _series(point, plate),
            year + rng.randrange(2),
            load,
            plate,
        )


def _series(point: Point, plate: Plate) -> str:
    letter = "C" if point.kind.is_constant else "V" if point.kind.is_variable else "D"
    mass = plate.get("own_mass")
    return f"{letter}{int(mass) // 10 + 10 if isinstance(mass, float) else 10}"


def _plate(point: Point, position: str, load: float | None, rng: random.Random) -> Plate:
    if load is None:
        return {}
    if point.demo:
        fixed = demo_plate(point.tag, position, load, point.moves[2])
        if fixed:
            return fixed
    system, up = point.line.system, point.moves[2]
    if point.kind.is_variable:
        rate = system.own(point.rate, Kind.RATE) if point.rate else None
        plate = variable_plate(system, load, up, rng, rate)
        return _without(plate, ("rate",)) if rng.random() < 0.04 else plate
    plate = constant_plate(system, load, up, rng)
    if point.demo:
        plate["deviation"] = TESTED_BAND
    hidden = rng.random() < 0.17 and not point.demo
    return _without(plate, rng.choice(_UNREADABLE)) if hidden else plate


def _without(plate: Plate, names: tuple[str, ...]) -> Plate:
    return {name: value for name, value in plate.items() if name not in names}
