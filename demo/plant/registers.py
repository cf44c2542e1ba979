"""The rows of lines, supports, shared supports and units."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from demo.plant.geometry import attachments, node_at
from demo.plant.hardware import rod_length
from demo.plant.lines import WOOL, PlantLine
from demo.plant.points import ARMS, BEAM_WEIGHT, SHARED_ARMS, Point
from demo.plant.seeds import generator
from demo.plant.services import ZERO_CELSIUS
from demo.plant.springs import SpringUnit
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import Arrangement, InService, SupportKind

Row = dict[str, float | int | str | date]

FORMER_TAGS = {"PS-1024": "PS-88", "PS-1031": "PS-93", "PS-2007": "H-214"}
_FLOOR_HEIGHT = 6.0
_FUNCTIONS = {
    SupportKind.GUIDE: "guide",
    SupportKind.LINE_STOP: "stop",
    SupportKind.ANCHOR: "anchor",
    SupportKind.SHOCK_ARRESTOR: "dynamic loads only",
}
_HUNG = frozenset({SupportKind.CONSTANT_HANGER, SupportKind.VARIABLE_HANGER, SupportKind.RIGID_ROD})


def line_row(line: PlantLine) -> Row:
    """Return the row of a line."""
    service, mass = line.service, line.mass
    return {
        "line": line.number,
        "area": area_name(line.area),
        "service": service.words,
        "nominal_size": f"NPS {line.nps}",
        "schedule": line.schedule,
        "outside_diameter": line.pipe.outside_diameter,
        "wall": line.pipe.wall,
        "material": service.material,
        "insulation": "mineral wool",
        "insulation_thickness": service.insulation,
        "insulation_density": WOOL,
        "cladding_mass_per_length": mass.cladding,
        "pipe_mass_per_length": mass.pipe,
        "insulation_mass_per_length": mass.insulation,
        "content_mass_per_length": mass.content,
        "content_density": float(service.content),
        "design_temperature": service.design + ZERO_CELSIUS,
        "operating_temperature": service.operating + ZERO_CELSIUS,
        "design_pressure": service.pressure * 1e5,
        "code": service.code_of_construction,
        "creep_or_high_energy": service.creep.value,
        "criticality": "A" if service.creep.value == "yes" else "B",
    }


def area_name(area: int) -> str:
    """Return the name of a unit area."""
    return f"unit area {area}"


def support_row(point: Point) -> Row:
    """Return the row of a support."""
    east, north, elevation = point.line.way.point_at(point.at)
    row: Row = {
        "tag": point.tag,
        "area": area_name(point.area),
        "line": point.line.number,
        "order_along": _order(point),
        "distance_along": point.at,
        "node": node_at(point.line, point.at),
        "kind": point.kind.value,
        "function": _FUNCTIONS.get(point.kind, "weight"),
        "arrangement": point.arrangement.value,
        "criticality": "A" if point.kind.is_constant else "B",
        "in_service": InService.IN_PLACE.value,
        "floor": f"level {int(elevation // _FLOOR_HEIGHT)}",
        "grid": f"row {'ABCDEFGHJKLMNPQRSTUVWXYZ'[int(north // 7.0) % 24]}, bay {int(east // 6.0)}",
        "elevation": elevation,
        "height_above_floor": elevation % _FLOOR_HEIGHT,
        "east": east,
        "north": north,
        "isometric": f"ISO-{point.line.number}",
        "isometric_mark": f"S{_order(point):02d}",
    }
    return {**row, **_hanging(point, elevation), **_access(point, elevation), **_names(point)}


def _order(point: Point) -> int:
    held = [one for one, _ in attachments(point.line)]
    return held.index(point) + 1


def _hanging(point: Point, elevation: float) -> Row:
    if point.kind not in _HUNG:
        return {"steel_elevation": elevation - point.line.pipe.outside_diameter / 2.0}
    length = rod_length(point)
    row: Row = {"rod_length": length, "steel_elevation": elevation + length + 0.6}
    if point.arrangement is not Arrangement.TRAPEZE:
        return row
    arms = (SHARED_ARMS[0], sum(ARMS) - SHARED_ARMS[0]) if point.also else ARMS
    beam = BEAM_WEIGHT / STANDARD_GRAVITY
    return {**row, "arm_a": arms[0], "arm_b": arms[1], "beam_mass": beam}


def _access(point: Point, elevation: float) -> Row:
    low = elevation % _FLOOR_HEIGHT < 2.0
    row: Row = {"access": "from the floor" if low else "scaffold"}
    if not low:
        row["scaffold_group"] = f"SC-{point.line.number[-4:]}-{1 + _order(point) // 4}"
    return row


def _names(point: Point) -> Row:
    row: Row = {}
    if point.tag in FORMER_TAGS:
        row["former_tag"] = FORMER_TAGS[point.tag]
    if point.demo and point.demo.note:
        row["note"] = point.demo.note
    return row


def shared_rows(point: Point) -> Iterator[Row]:
    """Return how a shared support holds each of its lines."""
    if not point.also:
        return
    other, at, load = point.also
    total = (point.load or 0.0) + load
    held = ((point.line, point.at, point.load or 0.0), (other, at, load))
    for (line, distance, part), arm in zip(held, SHARED_ARMS, strict=True):
        order = [one for one, _ in attachments(line)].index(point) + 1
        yield {
            "tag": point.tag,
            "line": line.number,
            "order_along": order,
            "distance_along": distance,
            "node": node_at(line, distance),
            "arm": arm,
            "share": part / total,
        }


def unit_row(unit: SpringUnit) -> Row:
    """Return the row of a unit."""
    return {
        "tag": unit.point.tag,
        "position": unit.position,
        "kind": unit.point.kind.value,
        "serial": unit.serial,
        "series": unit.series,
        "stock_code": f"ST-{generator('stock', unit.serial).randrange(10000, 99999)}",
        "year_built": unit.year_built,
    }
