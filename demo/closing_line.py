"""A short line of three constant supports, a change to it, and seven people: all invented.

Loads are worked by hand: a valve with its drain, 348 kg, adds 3.4 kN; the support beside it takes
2.1 kN, the next one 1.3 kN, the third none.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from demo.plant.people import people
from importers.template import write_tables
from supports.vocabulary import Role

LINE = "3-HS-3107"
TAGS = ("PS-3101", "PS-3102", "PS-3103")
BEFORE = (20.0, 20.0, 20.0)
AFTER = (22.1, 21.3, 20.0)
"""Operating loads [kN] by the calculation's revisions A and B, along the line."""
CALCULATION = "CALC-3107"


@dataclass(frozen=True, slots=True)
class Cast:
    """The seven people by what they do."""

    coordinator: str
    engineer: str
    checker: str
    approver: str
    technician: str
    inspector: str
    operations: str

    @property
    def roles(self) -> dict[str, tuple[Role, ...]]:
        """Return the roles of each, the first who enters the others first."""
        return {
            self.checker: (Role.REGISTER_KEEPER, Role.STRESS_ENGINEER),
            self.coordinator: (Role.COORDINATOR, Role.PLANNER),
            self.engineer: (Role.STRESS_ENGINEER,),
            self.approver: (Role.RESPONSIBLE_ENGINEER,),
            self.technician: (Role.TECHNICIAN, Role.FOREMAN),
            self.inspector: (Role.INSPECTOR,),
            self.operations: (Role.OPERATIONS,),
        }


def cast() -> Cast:
    """Return seven of the plant's names."""
    return Cast(*(person.name for person in people()[:7]))


def write_line(folder: Path) -> Path:
    """Write the workbook of the line as it stands before the change."""
    plates = [_plate(tag, load) for tag, load in zip(TAGS, BEFORE, strict=True)]
    pieces = [piece for tag in TAGS for piece in _stack(tag)]
    supports = [
        [tag, LINE, place, "constant hanger", "single", 4.0, f"SC-{1 + place // 3}"]
        for place, tag in enumerate(TAGS, start=1)
    ]
    tables: dict[str, list[list[Any]]] = {
        "Lines": [["Line number", "Area", "Nominal size"], [LINE, "3", "12"]],
        "Supports": [_SUPPORTS, *supports],
        "Units": [_UNITS, *([tag, "A", "constant hanger", f"SN-{tag[3:]}"] for tag in TAGS)],
        "Nameplates": [_NAMEPLATES, *plates],
        "Hardware": [_HARDWARE, *pieces],
        "Calculations": [_CALCULATIONS, _issued("A", "2025-03-10")],
        "Calculation loads": [_LOADS, *_loads("A", BEFORE)],
        "Settings": [_SETTINGS, *([t, "A", "2019-06-03", 20.0, *_SET] for t in TAGS)],
    }
    return _written(folder / f"line-{LINE}.xlsx", tables)


def write_revision(folder: Path) -> Path:
    """Write the workbook that comes with the change: revision B and what is added."""
    tables: dict[str, list[list[Any]]] = {
        "Calculations": [_CALCULATIONS, _issued("B", "2026-03-02")],
        "Calculation loads": [_LOADS, *_loads("B", AFTER)],
        "Weight items": [
            ["Line number", "Description", "Added or removed", "Mass [kg]",
             "Distance along line [m]", "Source"],
            [LINE, "gate valve with hand wheel", "added", 300.0, 6.4, "valve data sheet"],
            [LINE, "drain with double valves, filled", "added", 48.0, 6.9, "isometric"],
        ],
    }  # fmt: skip
    return _written(folder / f"change-{LINE}.xlsx", tables)


def _written(path: Path, tables: dict[str, list[list[Any]]]) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    write_tables(path, tables)
    return path


_SUPPORTS = ["Support tag", "Line number", "Order along line", "Support type", "Arrangement",
             "Height above floor [m]", "Scaffold group"]  # fmt: skip
_UNITS = ["Support tag", "Unit position", "Unit type", "Serial number"]
_NAMEPLATES = ["Support tag", "Unit position", "Unit of load", "Unit of travel", "Nameplate load",
               "Adjusting range low", "Adjusting range high", "Load per turn",
               "Direction to increase, as on plate", "Direction to decrease, as on plate",
               "Number of load bolts", "Load per turn counts", "Load bolt pitch [mm]",
               "Free thread to increase [mm]", "Free thread to decrease [mm]", "Total travel",
               "Design travel, up positive", "Deviation incl. friction [%]",
               "Setting changes travel", "May be turned locked"]  # fmt: skip
_HARDWARE = ["Support tag", "Hangs on unit", "Position in stack", "Piece", "Size",
             "Rated load [kN]", "Mass [kg]"]  # fmt: skip
_CALCULATIONS = ["Calculation", "Revision", "Method", "Status", "Issued on"]
_LOADS = ["Calculation", "Revision", "Support tag", "Line number", "Case", "Case kind",
          "Load, carrying positive [kN]", "Load includes hardware", "Movement up [mm]"]  # fmt: skip
_SETTINGS = ["Support tag", "Unit position", "Set on", "Set load [kN]", "Method", "Plant state",
             "Set by"]  # fmt: skip
_SET = ("scale", "shut down, drained", "the builder's fitters")


def _issued(revision: str, day: str) -> list[Any]:
    return [CALCULATION, revision, "full analysis", "issued", day]


def _plate(tag: str, load: float) -> list[Any]:
    """Return a plate: 17 to 23 kN about 20 kN, 0.25 kN a turn, 200 mm of travel, 140 mm used."""
    return [tag, "A", "kN", "mm", load, 17.0, 23.0, 0.25, "clockwise seen from below",
            "anticlockwise seen from below", 1, "every bolt turned once", 3, 100, 100, 200, -140, 6,
            "no", "yes"]  # fmt: skip


def _stack(tag: str) -> list[list[Any]]:
    return [
        [tag, "A", 1, "unit", "", 44.0, 100.0],
        [tag, "A", 2, "rod", "M36", 40.0, 12.0],
        [tag, "A", 3, "clamp", "NPS 12", 60.0, 18.0],
    ]


def _loads(revision: str, loads: tuple[float, ...]) -> list[list[Any]]:
    return [
        [CALCULATION, revision, tag, LINE, "operating", "operating", load, "yes", -140]
        for tag, load in zip(TAGS, loads, strict=True)
    ]
