"""What each support of a line carries by its share of the spans: the stand-in for an analysis."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from demo.plant.lines import PlantLine
from supports.calc.closure import lever_shares
from supports.units import STANDARD_GRAVITY


def shares(line: PlantLine, carriers: Sequence[float]) -> dict[float, float]:
    """Return the load [N] at each carrier, given by its distance along the line [m].

    Half of each span goes to either side, a fitting by the lever; the ends of the line carry too
    and are among the answers.
    """
    stops = sorted({0.0, *carriers, line.way.length})
    loads = dict.fromkeys(stops, 0.0)
    for before, after in pairwise(stops):
        half = line.weight_per_length * (after - before) / 2.0
        loads[before] += half
        loads[after] += half
        for fitting in line.fittings:
            if before <= fitting.middle < after:
                weight = fitting.mass * STANDARD_GRAVITY
                arms = (fitting.middle - before, after - fitting.middle)
                near, far = lever_shares(weight, *arms)
                loads[before] += near
                loads[after] += far
    return loads
