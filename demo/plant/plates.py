"""Nameplates that agree in themselves: ranges, turns, travels, rates and marks."""

from __future__ import annotations

import math
import random

from demo.plant.unit_systems import UnitSystem
from supports.units import Kind
from supports.vocabulary import Known, PlateSource, TurnCounts

Plate = dict[str, float | int | str]
"""Field of the nameplate sheet: SI value or text."""

SPARE_TRAVEL = 0.025
"""Least travel kept in reserve [m]; common practice, no source."""
MAX_VARIABILITY = 0.18
"""Most that the load of a variable unit may change on its way, of the operating load [1]."""

_WAYS = (
    ("clockwise seen from below", "anticlockwise seen from below"),
    ("arrow marked plus", "arrow marked minus"),
    ("clockwise seen from the scale side", "anticlockwise seen from the scale side"),
)


def travel_to_hold(design: float) -> float:
    """Return the travel [m] that a unit should have for a design travel [m]."""
    return abs(design) + max(SPARE_TRAVEL, 0.2 * abs(design))


def common(system: UnitSystem, load: float) -> Plate:
    """Return what plates of all units say."""
    return {
        "source": PlateSource.PLATE.value,
        "scale_unit": system.symbol(Kind.LOAD),
        "pointer_unit": system.symbol(Kind.LENGTH),
        "zero_end": "top",
        "stop_rating": system.load(2.0 * load),
        "own_mass": float(round(35.0 + load * 4.5e-3)),
    }


def constant_plate(
    system: UnitSystem,
    load: float,
    up: float,
    rng: random.Random,
    share: float | None = None,
    per_turn: float | None = None,
) -> Plate:
    """Return the plate of a constant unit for a load [N] and a movement up [m].

    `share` is the adjusting range to either side [1] and `per_turn` the load per turn [N]; those
    not given are drawn.
    """
    nominal = system.load(load)
    range_share = share or rng.choice((0.10, 0.15, 0.15, 0.20))
    increase, decrease = rng.choice(_WAYS)
    step = 0.005 if system.symbol(Kind.LOAD) == "kN" else 0.5
    return {
        **common(system, nominal),
        **travels(system, up),
        "nameplate_load": nominal,
        "range_low": nominal * (1.0 - range_share),
        "range_high": nominal * (1.0 + range_share),
        "load_per_turn": per_turn or system.rounded(nominal / 80.0, Kind.LOAD, step),
        "direction_to_increase": increase,
        "direction_to_decrease": decrease,
        "load_bolts": 1,
        "turn_counts": TurnCounts.EVERY_BOLT.value,
        "bolt_pitch": 0.003,
        "free_to_increase": 0.060,
        "free_to_decrease": 0.060,
        "deviation": rng.choice((0.04, 0.05, 0.05, 0.06)),
        "setting_changes_travel": Known.NO.value,
        "may_turn_locked": Known.YES.value,
    }


def travels(system: UnitSystem, up: float, least: float = 0.0) -> Plate:
    """Return travels and pointer marks, the way of the pointer in the middle of the scale.

    The total travel is the shortest made that suits and that is no less than `least` [m].
    """
    step = 1.0 if system.symbol(Kind.LENGTH) == "mm" else 0.1
    design = system.rounded(up, Kind.LENGTH, step)
    needed = system.own(max(travel_to_hold(design), least), Kind.LENGTH)
    total = system.si(next(t for t in system.travels if t >= needed - 1e-9), Kind.LENGTH)
    return {
        "total_travel": total,
        "design_travel": design,
        "cold_mark": (total + design) / 2.0,
        "hot_mark": (total - design) / 2.0,
    }


def variable_plate(
    system: UnitSystem,
    load: float,
    up: float,
    rng: random.Random,
    rate: float | None = None,
) -> Plate:
    """Return the plate of a variable unit for an operating load [N] and a movement up [m].

    `rate` is the spring rate in the unit of the system; the stiffest one suited where not given.
    """
    hot = system.load(load)
    step = 1.0 if system.symbol(Kind.LENGTH) == "mm" else 0.05
    way = system.rounded(up, Kind.LENGTH, step)
    stiffness = system.si(rate, Kind.RATE) if rate else suited_rate(system, hot, way)
    cold = hot + stiffness * way
    low, high = _working_range(system, (hot + cold) / 2.0, stiffness, abs(way))
    return {
        **common(system, max(hot, cold)),
        "rate": stiffness,
        "working_low": low,
        "working_high": high,
        "hot_load": hot,
        "cold_load": cold,
        "movement": way,
        "thread_pitch": 0.003,
        "take_up": rng.choice(("turnbuckle", "turnbuckle", "nut")),
    }


def suited_rate(system: UnitSystem, hot: float, way: float) -> float:
    """Return the stiffest spring made [N/m] that keeps a load [N] near itself over a way [m]."""
    softest = system.own(MAX_VARIABILITY * hot / max(abs(way), 0.010), Kind.RATE)
    made = max((rate for rate in system.rates if rate <= softest), default=system.rates[0])
    return system.si(made, Kind.RATE)


def _working_range(
    system: UnitSystem, middle: float, stiffness: float, way: float
) -> tuple[float, float]:
    """Return the longest working range that stays well above no load [N]."""
    strokes = [system.si(stroke, Kind.LENGTH) for stroke in system.strokes]
    fitting = [s for s in strokes if stiffness * s <= 1.3 * middle and s >= 1.6 * way]
    half = stiffness * max(fitting, default=strokes[0]) / 2.0
    step = system.scale
    low = math.floor(round(system.own(max(middle - half, 0.1 * middle), Kind.LOAD) / step, 6))
    high = math.ceil(round(system.own(middle + half, Kind.LOAD) / step, 6))
    return system.si(low * step, Kind.LOAD), system.si(high * step, Kind.LOAD)
