"""The worked line of two constants as sheets that a user fills in.

Nozzle at 0, constants at 4 m and 10 m, a variable of 80 N/mm at 16 m, a rod at 20 m; the bending
stiffness is 2.5 × 10⁷ N·m². The line has a weight of its own, so that the rod keeps carrying and
all differences are those of the weightless line (superposition).
"""

from __future__ import annotations

from itertools import pairwise
from math import pi
from typing import Any

from scipy.optimize import brentq

from supports.calc.tables import modulus

DIAMETER, BENDING, ADDED = 0.3239, 2.5e7, 6000.0
PLACES = (0, 4, 10, 16, 20)
Table = list[list[Any]]


def wall() -> float:
    """Return the wall that gives the stiffness of the worked line [mm]."""
    stiff = modulus("carbon steel", 293.15).value

    def away(thick: float) -> float:
        return stiff * pi / 64.0 * (DIAMETER**4 - (DIAMETER - 2.0 * thick) ** 4) - BENDING

    return 1e3 * float(brentq(away, 1e-3, 50e-3, xtol=1e-12))


def _lines() -> Table:
    heads = ["Line number", "Area", "Nominal size", "Outside diameter [mm]", "Wall thickness [mm]",
             "Material", "Insulation", "Pipe mass [kg/m]", "Content mass [kg/m]",
             "Operating temperature [°C]", "Creep range or high energy"]  # fmt: skip
    row = ["L-9", "N", "12", 1e3 * DIAMETER, wall(), "carbon steel", "none", 100, 0, 20, "no"]
    return [heads, row]


def _supports() -> Table:
    heads = ["Support tag", "Line number", "Order along line", "Distance along line [mm]",
             "Calculation node", "Support type", "Arrangement"]  # fmt: skip
    kinds = {"C1": "constant hanger", "C2": "constant hanger", "V": "variable hanger",
             "R": "rigid rod"}  # fmt: skip
    return [heads, *(
        [f"PS-{tag}", "L-9", n, 1000 * x, str(x), kind, "single"]
        for n, (x, (tag, kind)) in enumerate(zip(PLACES[1:], kinds.items(), strict=True), start=1)
    )]  # fmt: skip


def _nameplates() -> Table:
    heads = ["Support tag", "Unit position", "Unit of load", "Unit of travel", "Nameplate load",
             "Adjusting range low", "Adjusting range high", "Deviation incl. friction [%]",
             "Spring rate [N/mm]", "Working range low", "Working range high",
             "Movement, up positive"]  # fmt: skip
    constant = ["A", "kN", "mm", 8, 2, 14, 5, None, None, None, None]
    variable = ["A", "kN", "mm", None, None, None, None, 80, 0.5, 12, 0]
    return [heads, ["PS-C1", *constant], ["PS-C2", *constant], ["PS-V", *variable]]


def _settings() -> Table:
    heads = ["Support tag", "Unit position", "Set on", "Set load [kN]", "Method", "Plant state",
             "Set by"]  # fmt: skip
    loads = {"PS-C1": 4.5, "PS-C2": 5.5, "PS-V": 4.5}
    rest = ["scale", "operating, steady", "N. N."]
    return [heads, *([tag, "A", "2030-05-05", load, *rest] for tag, load in loads.items())]


def worked_line(*, rate_known: bool = True) -> dict[str, Table]:
    """Return all sheets of the line."""
    plates = _nameplates()
    if not rate_known:
        plates[3][8] = None
    pairs = list(pairwise(PLACES))
    return {
        "Lines": _lines(),
        "Supports": _supports(),
        "Units": [["Support tag", "Unit position", "Unit type", "Serial number"],
                  ["PS-C1", "A", "constant hanger", "S-1"],
                  ["PS-C2", "A", "constant hanger", "S-2"],
                  ["PS-V", "A", "variable hanger", "S-3"]],
        "Nameplates": plates,
        "Settings": _settings(),
        "Line nodes": [["Line number", "Node", "East [mm]", "North [mm]", "Elevation [mm]"],
                       *(["L-9", str(x), 1000 * x, 0, 5000] for x in PLACES)],
        "Line elements": [["Line number", "From node", "To node", "Piece"],
                          *(["L-9", str(a), str(b), "pipe"] for a, b in pairs)],
        "Line ends": [["Line number", "Node", "Anchor or nozzle", "Nozzle"],
                      ["L-9", "0", "nozzle", "N1"]],
        "Nozzle limits": [["Line number", "Nozzle", "Equipment", "Load-limited machine",
                           "Calculation node", "Moment y [kN·m]", "Source of limits"],
                          ["L-9", "N1", "P-9", "yes", "0", 10, "data sheet P-9"]],
    }  # fmt: skip


def added_weight() -> dict[str, Table]:
    """Return 6.0 kN at 7 m."""
    heads = ["Line number", "Description", "Added or removed", "Mass [kg]",
             "Distance along line [mm]", "Source"]  # fmt: skip
    return {"Weight items": [heads, ["L-9", "valve", "added", ADDED / 9.80665, 7000, "drawing"]]}
