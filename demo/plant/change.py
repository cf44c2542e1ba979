"""The demo change: a motor-operated valve in a long run of hot oil, and all that it sets off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from demo.plant.books import Field, Page, free_page, page, write_workbook
from demo.plant.calculations import Row, calculation_row, load_rows
from demo.plant.demo_line import DEMO_NUMBER, RUN
from demo.plant.lines import line
from demo.plant.points import Point, points
from demo.plant.unit_systems import METRIC
from importers import sheets
from supports.calc.net_weight import Way
from supports.units import STANDARD_GRAVITY, Kind
from supports.vocabulary import CalculationStatus

CHANGE_NUMBER = "CH-2026-014"
CHANGE_TITLE = "Motor-operated valve in the hot oil line to the heater"
REVISED_ON = date(2026, 2, 16)


@dataclass(frozen=True, slots=True)
class WeightItem:
    """One item added or removed.

    Parameters
    ----------
    mass
        Its mass [kg].
    along
        Distance of its centre along the line [m].
    off_axis, above_axis
        Distance of its centre from the pipe axis, sideways and upward [m].
    """

    description: str
    way: Way
    mass: float
    along: float
    source: str
    off_axis: float = 0.0
    above_axis: float = 0.0

    @property
    def weight(self) -> float:
        """What it adds to the line [N]; negative where it is removed."""
        return self.mass * STANDARD_GRAVITY * self.way


VALVE_AT, BLIND_AT, ORIFICE_AT = RUN + 31.2, RUN + 20.6, RUN + 10.8
WEST_DRAIN_AT, EAST_DRAIN_AT, RENEWED_ABOUT = RUN + 2.3, RUN + 40.5, 10.8

WEIGHT_ITEMS: tuple[WeightItem, ...] = (
    WeightItem("butterfly valve body", Way.ADDED, 302.0, VALVE_AT, "valve data sheet"),
    WeightItem(
        "motor actuator with gear", Way.ADDED, 120.0, VALVE_AT, "valve data sheet", 0.600, 0.350
    ),
    WeightItem("weld neck flanges, two", Way.ADDED, 168.0, VALVE_AT, "flange table"),
    WeightItem("bolting and gaskets", Way.ADDED, 46.0, VALVE_AT, "estimate of the designer"),
    WeightItem("insulation box", Way.ADDED, 55.0, VALVE_AT, "insulation contractor"),
    WeightItem("pipe cut out, 0.60 m", Way.REMOVED, 93.1, VALVE_AT, "line list"),
    WeightItem("insulation removed, 0.60 m", Way.REMOVED, 18.1, VALVE_AT, "line list"),
    WeightItem("vent with double valves", Way.ADDED, 40.0, EAST_DRAIN_AT, "isometric", 0.0, 0.450),
    WeightItem(
        "east drain pot with double valves, filled", Way.ADDED, 280.0, EAST_DRAIN_AT, "isometric",
        0.0, -0.520,
    ),
    WeightItem(
        "west drain pot with double valves, filled", Way.ADDED, 178.0, WEST_DRAIN_AT, "isometric",
        0.0, -0.480,
    ),
    WeightItem("spectacle blind between flanges", Way.ADDED, 354.0, BLIND_AT, "flange table"),
    WeightItem("orifice plate between flanges", Way.ADDED, 153.0, ORIFICE_AT, "flange table"),
    WeightItem(
        "second layer of insulation, 5 m", Way.ADDED, 63.0, RENEWED_ABOUT, "insulation contractor"
    ),
)  # fmt: skip

_WEIGHT_FIELDS = (
    Field("line", "Line number"),
    Field("description", "Description"),
    Field("way", "Added or removed"),
    Field("mass", "Mass", Kind.MASS),
    Field("along", "Distance along line", Kind.LENGTH),
    Field("off_axis", "Off axis", Kind.LENGTH),
    Field("above_axis", "Above axis", Kind.LENGTH),
    Field("source", "Source"),
)


def changed_points() -> tuple[Point, ...]:
    """Return all supports of the line that the change works on."""
    return tuple(point for point in points() if point.line.number == DEMO_NUMBER)


def calculation_rows() -> list[Row]:
    """Return revision B of the line's calculation: it holds once the valve is in."""
    basis = f"with {CHANGE_NUMBER}: valve, vent, drain pots, blind, orifice, insulation"
    planned = CalculationStatus.PLANNED
    return [calculation_row(line(DEMO_NUMBER), "B", REVISED_ON, basis, planned)]


def revised_loads() -> list[Row]:
    """Return what revision B requires of every support of the line."""
    return [
        row
        for point in changed_points()
        for row in load_rows(point, "B", point.demo.after if point.demo else None)
    ]


def weight_rows() -> list[Row]:
    """Return the items added and removed."""
    return [
        {
            "line": DEMO_NUMBER,
            "description": item.description,
            "way": item.way.name.lower(),
            "mass": item.mass,
            "along": item.along,
            "off_axis": item.off_axis,
            "above_axis": item.above_axis,
            "source": item.source,
        }
        for item in WEIGHT_ITEMS
    ]


def change_pages() -> list[Page]:
    """Return the sheets of the change as written."""
    return [
        page(sheets.CALCULATIONS, calculation_rows(), METRIC),
        page(sheets.REQUIRED_LOADS, revised_loads(), METRIC),
        free_page("Weight items", _WEIGHT_FIELDS, weight_rows(), METRIC),
    ]


def write_change(folder: Path) -> Path:
    """Write the workbook that comes with the change."""
    folder.mkdir(parents=True, exist_ok=True)
    return write_workbook(folder / f"change-{CHANGE_NUMBER}.xlsx", change_pages())
