"""The forty lines: number, service, pipe, masses and the way that each runs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from demo.plant.demo_line import DEMO_ENDS, DEMO_NUMBER, DEMO_SERVICE, demo_fittings, demo_route
from demo.plant.line_ends import End, ends_of
from demo.plant.routes import DOWN, EAST, NORTH, UP, Fitting, Leg, Route, Vector, route, shifted
from demo.plant.seeds import generator
from demo.plant.services import Service, service_order
from demo.plant.unit_systems import CUSTOMARY, METRIC, UnitSystem
from supports.calc.pipe_properties import LineMass, Pipe, line_mass, pipe_by_nps
from supports.units import STANDARD_GRAVITY

STEEL, WOOL, SHEET = 7850.0, 130.0, 2700.0
"""Densities of steel, mineral wool and aluminium cladding [kg/m³]."""
CLADDING = 0.0009
"""Thickness of the cladding [m]."""

_SPANS = {
    6: (5.2, 6.4), 8: (5.8, 7.3), 10: (6.4, 8.2), 12: (7.0, 9.1),
    16: (8.2, 10.7), 20: (9.1, 11.9), 24: (9.8, 12.8),
}  # fmt: skip
"""Suggested spans for water and for gas by nominal size [m]; ASME B31.1 table 121.5, NPS 10
interpolated."""

_Uniform = Callable[[float, float], float]

TWIN_OF = {17: 13}
"""Lines of area 1 that run beside another one all the way, by index."""
TWIN_GAP = 0.8
"""Distance between the axes of twin lines [m]."""


@dataclass(frozen=True, slots=True)
class PlantLine:
    """One line."""

    number: str
    area: int
    service: Service
    nps: int
    schedule: str
    pipe: Pipe
    mass: LineMass
    way: Route
    fittings: tuple[Fitting, ...]

    @property
    def ends(self) -> tuple[End, End]:
        """How the line is held where it begins and where it ends."""
        if self.number == DEMO_NUMBER:
            return DEMO_ENDS
        return ends_of(self.way, self.nps, self.growth)

    @property
    def system(self) -> UnitSystem:
        """Units that the line's area writes in."""
        return METRIC if self.area == 1 else CUSTOMARY

    @property
    def weight_per_length(self) -> float:
        """Weight of pipe, insulation, cladding and content [N/m]."""
        return self.mass.total * STANDARD_GRAVITY

    @property
    def weight(self) -> float:
        """Weight of the whole line [N]."""
        fittings = sum(f.mass for f in self.fittings) * STANDARD_GRAVITY
        return self.way.length * self.weight_per_length + fittings

    @property
    def span(self) -> float:
        """Suggested span [m]."""
        return _SPANS[self.nps][self.service.is_gas]

    @property
    def growth(self) -> float:
        """Growth of carbon or low-alloy steel from 20 °C to operation [1]."""
        return 12.9e-6 * (self.service.operating - 20.0)


@cache
def lines() -> tuple[PlantLine, ...]:
    """Return all lines, area by area, in the order of their numbers."""
    return tuple(
        _line(area, index, service)
        for area in (1, 2)
        for index, service in enumerate(service_order(), start=1)
    )


def line(number: str) -> PlantLine:
    """Return the line of a number."""
    return next(one for one in lines() if one.number == number)


def _line(area: int, index: int, service: Service) -> PlantLine:
    number = f"{area}-{service.code}-{area}2{index:02d}"
    if number == DEMO_NUMBER:
        way, fittings = demo_route(), demo_fittings()
        return _built(number, area, DEMO_SERVICE, DEMO_SERVICE.sizes[0], way, fittings)
    like = TWIN_OF.get(index, index) if area == 1 else index
    rng = generator("line", area, like)
    size = rng.choice(service.sizes)
    legs = _legs(service, _SPANS[size[0]][service.is_gas], rng.uniform)
    start = _start(area, index, service)
    way = route(start, legs, round(1.5 * 0.0254 * size[0], 4))
    return _built(number, area, service, size, way, _fittings(way, size[0]))


def _built(
    number: str,
    area: int,
    service: Service,
    size: tuple[int, str],
    way: Route,
    fittings: tuple[Fitting, ...],
) -> PlantLine:
    pipe = pipe_by_nps(*size)
    insulation, cladding = (service.insulation, WOOL), (CLADDING, SHEET)
    mass = line_mass(pipe, STEEL, service.content, insulation, cladding)
    return PlantLine(number, area, service, *size, pipe, mass, way, fittings)


def _start(area: int, index: int, service: Service) -> Vector:
    """Return the nozzle where a line begins: pumps and headers in rows, one bay for each line."""
    like = TWIN_OF.get(index, index) if area == 1 else index
    elevation = 14.0 if service.code == "PS" else 1.5
    nozzle = (100.0 + 300.0 * (area - 1) + 9.0 * like, 50.0, elevation)
    return nozzle if like == index else shifted(nozzle, (1.0, -1.0, 0.0), TWIN_GAP)


def _legs(service: Service, span: float, uniform: _Uniform) -> tuple[Leg, ...]:
    height = round(uniform(*service.riser), 1)
    run = span * uniform(7.6, 9.2)
    first, drop = round(run * uniform(0.2, 0.3), 1), round(uniform(2.5, 3.5), 1)
    second, third = round(run * 0.5, 1), round(run * 0.25, 1)
    away = DOWN if service.code == "PS" else UP
    runs = (Leg(NORTH, first), Leg(EAST, second), Leg(NORTH, third))
    return (Leg(away, height), *runs, Leg(DOWN, drop))


def _fittings(way: Route, nps: int) -> tuple[Fitting, ...]:
    """Return flanges at both nozzles and a gate valve at the end of the first run."""
    flange, valve = 0.55 * nps**2 + 8.0, 4.2 * nps**2 + 30.0
    face, body = round(0.012 * nps + 0.1, 3), round(0.045 * nps + 0.2, 3)
    run = next(s for s in way.stretches if not (s.is_bend or s.is_vertical))
    return (
        Fitting(0.0, face, "flange pair", round(flange, 1)),
        Fitting(round(run.end - 1.4 - body, 3), body, "valve", round(valve, 1), (0.0, 0.0, 0.25)),
        Fitting(round(way.length - face, 6), face, "flange pair", round(flange, 1)),
    )
