"""The plant's sheets, area by area, and the files that hold them."""

from __future__ import annotations

from pathlib import Path

from demo.plant import geometry, history
from demo.plant.books import Field, Page, Row, free_page, page, write_texts, write_workbook
from demo.plant.calculations import first_calculations, first_loads, nozzle_rows
from demo.plant.hardware import hardware_rows
from demo.plant.lines import lines
from demo.plant.points import points
from demo.plant.registers import line_row, shared_rows, support_row, unit_row
from demo.plant.springs import spring_units
from demo.plant.unit_systems import CUSTOMARY, METRIC, UnitSystem
from importers import sheets
from importers.declared import Sheet

AREAS = (1, 2)


def area_system(area: int) -> UnitSystem:
    """Return the units that an area writes in."""
    return METRIC if area == 1 else CUSTOMARY


def area_rows(area: int) -> dict[Sheet, list[Row]]:
    """Return the rows of the sheets of an area, in SI, in the order in which they are stored."""
    here = [point for point in points() if point.area == area]
    units = [unit for unit in spring_units() if unit.point.area == area]
    return {
        sheets.LINES: [line_row(one) for one in lines() if one.area == area],
        sheets.SUPPORTS: [support_row(point) for point in here],
        sheets.SHARED: [row for point in here for row in shared_rows(point)],
        sheets.UNITS: [unit_row(unit) for unit in units],
        sheets.NAMEPLATES: [
            {"tag": u.point.tag, "position": u.position, **u.plate} for u in units if u.plate
        ],
        sheets.HARDWARE: [row for point, row in hardware_rows() if point.area == area],
        sheets.CALCULATIONS: list(first_calculations(area)),
        sheets.REQUIRED_LOADS: list(first_loads(area)),
        sheets.SETTINGS: list(history.setting_rows(area)),
        sheets.READINGS: list(history.reading_rows(area)),
    }


def area_pages(area: int) -> list[Page]:
    """Return the sheets of an area as written."""
    system = area_system(area)
    return [page(sheet, rows, system) for sheet, rows in area_rows(area).items() if rows]


def route_pages(area: int) -> list[Page]:
    """Return the sheets with the ways of an area's lines."""
    here = [one for one in lines() if one.area == area]
    parts = (
        ("Line nodes", geometry.NODES, geometry.node_rows),
        ("Line elements", geometry.ELEMENTS, geometry.element_rows),
        ("Line ends", geometry.ENDS, geometry.end_rows),
    )
    return [
        free_page(
            name,
            [Field(*heading) for heading in headings],
            [row for one in here for row in rows_of(one)],
            area_system(area),
        )
        for name, headings, rows_of in parts
    ]


def nozzle_page(area: int) -> Page:
    """Return the limits of an area's nozzles as written."""
    return page(sheets.NOZZLE_LIMITS, nozzle_rows(area), area_system(area))


def write_plant(folder: Path) -> list[Path]:
    """Write the plant; return what to import, in order: workbooks, folders of CSV, routes.

    For each area a workbook of the register's sheets, a folder with the nozzle limits as CSV and a
    workbook with the ways of the lines.
    """
    folder.mkdir(parents=True, exist_ok=True)
    books, nozzles, routes = [], [], []
    for area in AREAS:
        books.append(write_workbook(folder / f"area-{area}.xlsx", area_pages(area)))
        texts = folder / f"area-{area}-nozzles"
        write_texts(texts, [nozzle_page(area)])
        nozzles.append(texts)
        routes.append(write_workbook(folder / f"area-{area}-routes.xlsx", route_pages(area)))
    return [*books, *nozzles, *routes]
