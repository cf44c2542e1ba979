"""Sheets of the worked examples, in the headings that a user fills in."""

from __future__ import annotations

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
