"""Nameplates of the demo line whose figures are given: one is chosen for each kind of verdict."""

from __future__ import annotations

from demo.plant.plates import Plate, constant_plate, travels, variable_plate
from demo.plant.seeds import generator
from demo.plant.unit_systems import CUSTOMARY, METRIC
from supports.units import Kind

_SHARES = {"PS-1021": 0.15, "PS-1022": 0.15, "PS-1023": 0.15, "PS-1024": 0.15, "PS-1019": 0.15}
_PER_TURN = {
    ("PS-1021", "A"): 250.0,
    ("PS-1022", "A"): 200.0,
    ("PS-1022", "B"): 150.0,
    ("PS-1023", "A"): 250.0,
    ("PS-1024", "A"): 250.0,
}
"""Load per turn [N]."""
_NOMINAL = {"PS-1023": 20_000.0}
"""Nameplate load [N] where it is not the load calculated first."""
_TOTAL = {"PS-1020": 0.127, "PS-1021": 0.200, "PS-1022": 0.200, "PS-1023": 0.200}
"""Total travel [m] where a longer one than the shortest that suits was bought."""
TESTED_BAND = 0.025
"""Deviation that each constant of the line showed on the maker's test bench: bought with a narrower
band than the standards ask for, as so many of them hang one run."""
_UNREADABLE = {
    "PS-1019": ("load_per_turn", "direction_to_increase", "direction_to_decrease"),
}


def demo_plate(tag: str, position: str, load: float, up: float) -> Plate:
    """Return the plate of a unit of the demo line, empty where nothing special is wanted of it."""
    rng = generator("demo plate", tag, position)
    if tag == "PS-1016":
        return variable_plate(METRIC, load, up, rng, rate=53.0)
    if tag == "PS-1017":
        plate = variable_plate(METRIC, load, up, rng, rate=80.0)
        return {**plate, "working_low": 8e3, "working_high": 16e3, "take_up": "turnbuckle"}
    if tag == "PS-1020":
        per_turn = CUSTOMARY.si(55.0, Kind.LOAD)
        plate = constant_plate(CUSTOMARY, load, up, rng, share=0.10, per_turn=per_turn)
        return {**plate, **travels(CUSTOMARY, up, _TOTAL[tag]), "deviation": TESTED_BAND}
    if tag not in _SHARES:
        return {}
    per_turn_given = _PER_TURN.get((tag, position))
    nominal = _NOMINAL.get(tag, load)
    plate = constant_plate(METRIC, nominal, up, rng, _SHARES[tag], per_turn_given)
    plate |= {**travels(METRIC, up, _TOTAL.get(tag, 0.0)), "deviation": TESTED_BAND}
    return {name: v for name, v in plate.items() if name not in _UNREADABLE.get(tag, ())}
