"""Calculations, the loads that they require, and what the nozzles at machines may carry."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache

from demo.plant.demo_line import DEMO_LIMITS, DEMO_NUMBER
from demo.plant.geometry import nodes
from demo.plant.lines import PlantLine, lines
from demo.plant.people import holders
from demo.plant.points import Point, points
from demo.plant.seeds import generator
from supports.vocabulary import (
    CalculationMethod,
    CalculationStatus,
    CaseKind,
    Known,
    Role,
)

Row = dict[str, float | int | str | date]

OPERATING, SUSTAINED = "operating 1", "sustained"


def calculation_number(line: PlantLine) -> str:
    """Return the number of the calculation of a line."""
    return f"CALC-{line.number[-4:]}"


def calculation_row(
    line: PlantLine,
    revision: str,
    issued: date,
    basis: str,
    status: CalculationStatus = CalculationStatus.ISSUED,
) -> Row:
    """Return the row of one calculation revision."""
    serial = int(line.number[-2:])
    return {
        "calculation": calculation_number(line),
        "revision": revision,
        "method": CalculationMethod.FULL.value,
        "status": status.value,
        "issued_on": issued,
        "author": holders(Role.STRESS_ENGINEER)[serial % 2],
        "basis": basis,
    }


def first_calculations(area: int) -> list[Row]:
    """Return revision A of every line of an area."""
    return [
        calculation_row(
            one,
            "A",
            date(2019, 2, 4) + timedelta(days=generator("issued", one.number).randrange(400)),
            "as built, content at operating density",
        )
        for one in lines()
        if one.area == area
    ]


def load_rows(point: Point, revision: str, load: float | None) -> Iterator[Row]:
    """Return what one calculation revision requires of a support, line by line and case by case."""
    yield from _cases(point, point.line, revision, load)
    if point.also:
        yield from _cases(point, point.also[0], revision, point.also[2])


def _cases(point: Point, line: PlantLine, revision: str, load: float | None) -> Iterator[Row]:
    row: Row = {
        "calculation": calculation_number(line),
        "revision": revision,
        "tag": point.tag,
        "line": line.number,
        "includes_hardware": (Known.YES if point.kind.is_spring else Known.NO).value,
    }
    moves = dict(zip(("movement_east", "movement_north", "movement_up"), point.moves, strict=True))
    carried: Row = {} if load is None else {"load": load}
    yield {**row, **carried, **moves, "case": OPERATING, "case_kind": CaseKind.OPERATING.value}
    if load is not None:
        held: Row = {"load": round(load * _sustained_share(point), 1)}
        yield {**row, **held, "case": SUSTAINED, "case_kind": CaseKind.SUSTAINED.value}


@cache
def _sustained_share(point: Point) -> float:
    """Return how the load without warming compares with the load in operation [1]."""
    if point.kind.is_constant:
        return 1.0
    return generator("sustained", point.tag).uniform(0.96, 1.06)


def first_loads(area: int) -> list[Row]:
    """Return what revision A requires of every support of an area."""
    return [row for p in points() if p.area == area for row in load_rows(p, "A", p.load)]


def nozzle_rows(area: int) -> list[Row]:
    """Return the limits of the nozzles at both ends of every line of an area."""
    return [row for one in lines() if one.area == area for row in _nozzles(one)]


def _nozzles(line: PlantLine) -> Iterator[Row]:
    names = list(nodes(line))
    service = line.service
    yield _nozzle(line, "N1", names[0], machine=service.machine_at_start)
    yield _nozzle(line, "N2", names[-1], machine=service.machine_at_end)


def _nozzle(line: PlantLine, nozzle: str, node: str, *, machine: bool) -> Row:
    serial, rise = line.number[-2:], 1.0 if machine else 2.5
    force, moment = rise * 820.0 * line.nps, rise * 640.0 * line.nps
    letter = "M" if machine else "V"
    limits = _limits(line, nozzle, force, moment)
    return {
        "line": line.number,
        "nozzle": nozzle,
        "equipment": f"{line.area}-{letter}-{serial}",
        "machine": (Known.YES if machine else Known.NO).value,
        "node": node,
        **limits,
        "source": f"equipment data sheet {line.area}-{serial}, revision 2",
    }


def _limits(line: PlantLine, nozzle: str, force: float, moment: float) -> Row:
    """Return the limits of a nozzle: its own, else by its size."""
    own = DEMO_LIMITS.get(nozzle) if line.number == DEMO_NUMBER else None
    forces, moments, whole_force, whole_moment = own or (
        tuple(share * force for share in _SHARES),
        tuple(share * moment for share in _SHARES),
        2.2 * force,
        1.6 * moment,
    )
    return {
        **{f"force_{axis}": value for axis, value in zip("xyz", forces, strict=True)},
        **{f"moment_{axis}": value for axis, value in zip("xyz", moments, strict=True)},
        "force_resultant": whole_force,
        "moment_resultant": whole_moment,
    }


_SHARES = (1.0, 0.8, 2.0)
