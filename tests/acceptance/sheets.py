"""Sheets of the worked examples, in the headings that a user fills in."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

LINES = ["Line number", "Area", "Nominal size"]
SUPPORTS = ["Support tag", "Line number", "Order along line", "Support type", "Arrangement",
            "Arm to unit A [mm]", "Arm to unit B [mm]",
            "Trapeze beam mass, comes on top of the load [kg]"]  # fmt: skip
UNITS = ["Support tag", "Unit position", "Unit type", "Serial number"]
NAMEPLATES = ["Support tag", "Unit position", "Unit of load", "Unit of travel", "Nameplate load",
              "Adjusting range low", "Adjusting range high", "Load per turn",
              "Direction to increase, as on plate", "Number of load bolts",
              "Load per turn counts", "Load bolt pitch [mm]", "Free thread to increase [mm]",
              "Free thread to decrease [mm]", "Total travel", "Design travel, up positive",
              "Deviation incl. friction [%]", "Setting changes travel",
              "May be turned locked"]  # fmt: skip
HARDWARE = ["Support tag", "Hangs on unit", "Position in stack", "Piece", "Size",
            "Rated load [kN]", "Mass [kg]"]  # fmt: skip
CALCULATIONS = ["Calculation", "Revision", "Method", "Status", "Issued on"]
LOADS = ["Calculation", "Revision", "Support tag", "Line number", "Case", "Case kind",
         "Load, carrying positive [kN]", "Load includes hardware",
         "Movement up [mm]"]  # fmt: skip
SETTINGS = ["Support tag", "Unit position", "Set on", "Set load [kN]", "Method", "Plant state",
            "Set by"]  # fmt: skip

Table = list[list[Any]]


def plate(tag: str, load: float, low: float, high: float, per_turn: float, *,
          position: str = "A") -> list[Any]:  # fmt: skip
    """Return the plate of a constant hanger: 200 mm of travel, 140 mm of it used, down."""
    return [tag, position, "kN", "mm", load, low, high, per_turn, "clockwise from below", 1,
            "every bolt turned once", 3, 100, 100, 200, -140, 6, "no", "yes"]  # fmt: skip


def piece(tag: str, position: int, kind: str, size: str, rated: float, mass: float = 0.0, *,
          on: str = "all") -> list[Any]:  # fmt: skip
    """Return one piece of a stack."""
    return [tag, on, position, kind, size, rated, mass]


def one_constant(
    tag: str, load: float, required: float, *, rod: float, hung: float = 0.0
) -> dict[str, Table]:
    """Return the sheets of one constant hanger on line L-1; `hung` [kg] hangs under the rod."""
    return {
        "Lines": [LINES, ["L-1", "N", "12"]],
        "Supports": [SUPPORTS, [tag, "L-1", 1, "constant hanger", "single", None, None, None]],
        "Units": [UNITS, [tag, "A", "constant hanger", f"SN-{tag}"]],
        "Nameplates": [NAMEPLATES, plate(tag, 20.0, 17.0, 23.0, 0.25)],
        "Hardware": [
            HARDWARE,
            piece(tag, 1, "unit", "", 44.0, 100.0, on="A"),
            piece(tag, 2, "rod", "M24", rod, on="A"),
            piece(tag, 3, "clamp", "NPS 12", 60.0, hung, on="A"),
        ],
        "Calculations": [CALCULATIONS, ["C-1", "B", "full analysis", "issued", "2031-05-01"]],
        "Calculation loads": [
            LOADS,
            ["C-1", "B", tag, "L-1", "operating", "operating", required, "no" if hung else "yes",
             -140],
        ],
        "Settings": [
            SETTINGS,
            [tag, "A", "2021-05-05", load, "scale", "shut down, drained", "N. N."],
        ],
    }  # fmt: skip


def trapeze(low_a: float, high_a: float, low_b: float, high_b: float) -> dict[str, Table]:
    """Return a trapeze of 1.6 m: 40 kN at 0.6 m from A, a beam of 1.2 kN (122.37 kg)."""
    tag = "PS-7"
    return {
        "Lines": [LINES, ["L-1", "N", "20"]],
        "Supports": [SUPPORTS, [tag, "L-1", 1, "constant hanger", "two units on one trapeze",
                                600, 1000, 122.3660]],
        "Units": [UNITS, *([tag, p, "constant hanger", f"SN-{p}"] for p in "AB")],
        "Nameplates": [NAMEPLATES,
                       plate(tag, 23.1, low_a, high_a, 0.20),
                       plate(tag, 14.1, low_b, high_b, 0.15, position="B")],
        "Hardware": [HARDWARE,
                     *(piece(tag, n, k, "", 60.0, on=p) for p in "AB"
                       for n, k in ((1, "unit"), (2, "rod"))),
                     piece(tag, 3, "trapeze beam", "", 60.0), piece(tag, 4, "clamp", "", 60.0)],
        "Calculations": [CALCULATIONS, ["C-1", "B", "full analysis", "issued", "2031-05-01"]],
        "Calculation loads": [LOADS, ["C-1", "B", tag, "L-1", "operating", "operating", 40.0,
                                      "yes", -140]],
        "Settings": [SETTINGS,
                     [tag, "A", "2021-05-05", 23.1, "scale", "shut down, drained", "N. N."],
                     [tag, "B", "2021-05-05", 14.1, "scale", "shut down, drained", "N. N."]],
    }  # fmt: skip


def along(sheets: dict[str, Table]) -> dict[str, Table]:
    """Return the trapeze's sheets with its line: a nozzle, the trapeze at 6 m, a rod at 14 m."""
    line, (support_heads, beam) = sheets["Lines"][1], sheets["Supports"]
    places = (0, 6, 14)
    return sheets | {
        "Lines": [
            [*LINES, "Outside diameter [mm]", "Wall thickness [mm]", "Material", "Insulation",
             "Pipe mass [kg/m]", "Content mass [kg/m]", "Operating temperature [°C]"],
            [*line, 508, 9.5, "carbon steel", "none", 600, 0, 20],
        ],
        "Supports": [
            [*support_heads, "Distance along line [mm]", "Calculation node"],
            [*beam, 6000, "6"],
            ["PS-8", "L-1", 2, "rigid rod", "single", None, None, None, 14000, "14"],
        ],
        "Calculation loads": [
            *sheets["Calculation loads"],
            ["C-1", "B", "PS-8", "L-1", "operating", "operating", 20.0, "yes", 0],
        ],
        "Line nodes": [["Line number", "Node", "East [mm]", "North [mm]", "Elevation [mm]"],
                       *(["L-1", str(x), 1000 * x, 0, 5000] for x in places)],
        "Line elements": [["Line number", "From node", "To node", "Piece"],
                          *(["L-1", str(a), str(b), "pipe"] for a, b in pairwise(places))],
        "Line ends": [["Line number", "Node", "Anchor or nozzle", "Nozzle"],
                      ["L-1", "0", "nozzle", "N1"]],
        "Nozzle limits": [
            ["Line number", "Nozzle", "Equipment", "Load-limited machine", "Calculation node",
             *(f"{what} {axis} [{unit}]" for what, unit in (("Force", "kN"), ("Moment", "kN·m"))
               for axis in "xyz"), "Source of limits"],
            ["L-1", "N1", "P-9", "yes", "0", *6 * [500], "data sheet P-9"],
        ],
    }  # fmt: skip
