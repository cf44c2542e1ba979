"""The pieces between steel and pipe: each with a size, a rated load and a mass."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from demo.plant.points import BEAM_WEIGHT, HUNG_FROM_UNITS, Point, hung_mass, points
from demo.plant.seeds import generator
from demo.plant.springs import SpringUnit, spring_units
from demo.plant.unit_systems import UnitSystem
from supports.calc.hardware import rod_rating, rod_root_area
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import Arrangement, PieceKind, SupportKind

Row = dict[str, float | int | str]

ALLOWABLE = 67.0e6
"""Allowable tension of a rod over its root area [Pa]; invented, near common tables."""
HANGING_MASS = 30.6
"""Mass that hangs below a unit of the demo line, rod and all [kg]; 0.3 kN."""
CARRIES_ALL = "all"
"""Branch of pieces that carry every unit's load."""
_RESERVE = 1.15
"""What the designer kept in hand when choosing a rod [1]."""
_AMBIENT, _SIZE_RATED_AT = 293.15, "root area and allowable tension"
_HANGERS = frozenset(
    {SupportKind.CONSTANT_HANGER, SupportKind.VARIABLE_HANGER, SupportKind.RIGID_ROD}
)


@cache
def rod_rated(size: str) -> float:
    """Return the rated load of a rod [N]."""
    return rod_rating(rod_root_area(size), ALLOWABLE)


def smallest_rod(system: UnitSystem, load: float) -> str:
    """Return the smallest rod of a unit system that carries a load [N] with a reserve."""
    sizes = system.rods
    return next((s for s in sizes if rod_rated(s) >= _RESERVE * load), sizes[-1])


def hardware_rows() -> Iterator[tuple[Point, Row]]:
    """Return all pieces with the support that they belong to."""
    units: dict[str, list[SpringUnit]] = {}
    for unit in spring_units():
        units.setdefault(unit.point.tag, []).append(unit)
    for point in points():
        if point.kind in _HANGERS and point.load is not None:
            for row in _stack(point, units.get(point.tag, [])):
                yield point, {"tag": point.tag, **row}


def _stack(point: Point, units: list[SpringUnit]) -> Iterator[Row]:
    if not units:
        for place, piece in enumerate((*_hanger(point, point.load or 0.0), _clamp(point)), start=1):
            yield {"branch": CARRIES_ALL, "stack_position": place, **piece}
        return
    for unit in units:
        pieces = _branch(point, unit)
        for place, piece in enumerate(pieces, start=1):
            yield {"branch": unit.position, "stack_position": place, **piece}
    if len(units) > 1:
        for place, piece in enumerate(_common(point), start=6):
            yield {"branch": CARRIES_ALL, "stack_position": place, **piece}


def _branch(point: Point, unit: SpringUnit) -> list[Row]:
    load = unit.load or 0.0
    lug, rod, turnbuckle = _hanger(point, load)
    body: Row = {
        "kind": PieceKind.UNIT.value,
        "rated_load": _body_rating(unit, load),
        "mass": float(unit.plate.get("own_mass", 60.0)),
        "rating_source": "certificate",
    }
    alone = point.arrangement is Arrangement.SINGLE
    return [lug, body, rod, turnbuckle, *([_clamp(point)] if alone else [])]


def _body_rating(unit: SpringUnit, load: float) -> float:
    """Return what the body of a unit carries, whatever it is set to [N]."""
    return unit.point.line.system.load(2.2 * (unit.marked_load or load))


def _hanger(point: Point, load: float) -> tuple[Row, Row, Row]:
    system = point.line.system
    given = point.demo.rod if point.demo else ""
    size = given or smallest_rod(system, load)
    rated, length = rod_rated(size), rod_length(point)
    lug = _piece(PieceKind.LUG, system.load(1.4 * rated), 4.0, "manufacturer's load table")
    rod = _piece(PieceKind.ROD, rated, rod_mass(size, length), _SIZE_RATED_AT)
    turnbuckle = _piece(PieceKind.TURNBUCKLE, system.load(1.25 * rated), 3.2, "standard load table")
    return (
        lug,
        {**rod, "size": size, "length": length, "material": "carbon steel"},
        {**turnbuckle, "size": size, "adjustment_left": 0.070},
    )


def rod_mass(size: str, length: float) -> float:
    """Return the mass of a rod [kg] by its root area and length [m]."""
    return round(float(rod_root_area(size)) * 1.2 * 7850.0 * length, 2)


def rod_length(point: Point) -> float:
    """Return the length of the rod pin to pin [m]: long enough for its swing, as designed."""
    east, north, _ = point.moves
    swing = (east**2 + north**2) ** 0.5
    if point.demo and point.demo.rod:
        return 1.2
    drawn = generator("rod", point.tag).choice((1.2, 1.5, 1.8, 2.4))
    return max(drawn, round(float(swing) / 0.065, 1))


def _piece(kind: PieceKind, rated: float, mass: float, source: str) -> Row:
    return {
        "kind": kind.value,
        "rated_load": rated,
        "rating_temperature": _AMBIENT,
        "rating_source": source,
        "mass": mass,
    }


def _clamp(point: Point) -> Row:
    """Return the clamp round the pipe, rated at the temperature of the pipe."""
    size, system = point.line.nps, point.line.system
    alone = point.arrangement is Arrangement.SINGLE
    heavy = max(point.load or 0.0, (point.demo.after or 0.0) if point.demo else 0.0)
    mass = round(2.0 + 1.05 * size, 1)
    if point.demo and point.demo.rod:
        mass = round(HANGING_MASS - 3.2 - rod_mass(point.demo.rod, rod_length(point)), 2)
    elif not point.demo and alone and point.kind in HUNG_FROM_UNITS:
        rod = rod_mass(smallest_rod(system, point.load or 0.0), rod_length(point))
        mass = round(hung_mass(point.line) - 3.2 - rod, 2)
    kind = PieceKind.CLAMP
    if point.arrangement is Arrangement.RISER_PAIR:
        kind = PieceKind.RISER_CLAMP
    rated = 1.35 * heavy
    if point.demo and point.demo.rod:
        rated = max(rated, 1.05 * rod_rated(point.demo.rod))
    row = _piece(kind, system.load(rated), mass, "manufacturer's load table")
    hot = point.line.service.operating + 273.15
    return {**row, "size": f"NPS {size}", "rating_temperature": hot}


def _common(point: Point) -> list[Row]:
    clamp = _clamp(point)
    if point.arrangement is Arrangement.RISER_PAIR:
        return [clamp]
    load = max(point.load or 0.0, (point.demo.after or 0.0) if point.demo else 0.0)
    rated = point.line.system.load(1.5 * load)
    beam = _piece(PieceKind.TRAPEZE_BEAM, rated, BEAM_WEIGHT / STANDARD_GRAVITY, "calculation")
    return [beam, clamp]
