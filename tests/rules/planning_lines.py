"""Lines of the register, as views, on which re-set plans are tried."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from itertools import pairwise
from math import pi
from typing import Any

import numpy as np
from scipy.optimize import brentq

from supports.calc.line.influence_of_line import influence_table
from supports.calc.line.solver import solve_states
from supports.calc.tables import modulus
from supports.rules.assessment import AssessmentContent, assess
from supports.rules.line.screening import ready_line
from supports.rules.site_settings import SiteSettings, proposed_settings
from supports.snapshots import (
    AttachmentView,
    CalculationView,
    ChangeView,
    LineView,
    NameplateView,
    NozzleLimitView,
    PieceView,
    RequiredView,
    RouteElementView,
    RouteEndView,
    RouteNodeView,
    RouteView,
    SettingView,
    SupportView,
    UnitView,
    WeightItemView,
)
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import (
    Arrangement,
    CaseKind,
    EndKind,
    Known,
    PlantState,
    RoutePiece,
    SupportKind,
)

KN, MM = 1e3, 1e-3
DIAMETER = 0.3239
BENDING = 2.5e7
"""EI of the worked line [N·m²]."""
ROOM = 293.15
NUMBER = "L-1"
CONSTANT, VARIABLE = SupportKind.CONSTANT_HANGER, SupportKind.VARIABLE_HANGER
SET_ON = date(2030, 5, 4)


@cache
def wall() -> float:
    """Return the wall of an NPS 12 pipe whose EI is that of the worked line [m]."""
    stiff = modulus("carbon steel", ROOM).value

    def away(thick: float) -> float:
        bore = DIAMETER - 2.0 * thick
        return stiff * pi / 64.0 * (DIAMETER**4 - bore**4) - BENDING

    return float(brentq(away, 1 * MM, 50 * MM))


def plate_of(load: float, *, reach: float = 0.4, flat: float = 10.0, **other: Any) -> NameplateView:
    """Return the plate of a constant without friction: 10 N a flat, wide range, much thread."""
    given: dict[str, Any] = {
        "scale_unit": "kN", "pointer_unit": "mm", "nameplate_load": load,
        "range_low": load * (1.0 - reach), "range_high": load * (1.0 + reach),
        "load_per_turn": 6.0 * flat, "direction_to_increase": "clockwise", "load_bolts": 1,
        "bolt_pitch": 0.1 * MM, "free_to_increase": 0.2, "free_to_decrease": 0.2,
        "total_travel": 0.4, "design_travel": -0.1, "cold_mark": 0.2, "hot_mark": 0.2,
        "zero_end": "top", "deviation": 0.0, "may_turn_locked": Known.YES,
    }  # fmt: skip
    return NameplateView(**(given | other))


def spring_plate(load: float, rate: float, **other: Any) -> NameplateView:
    """Return the plate of a variable that stands still from shut down to operating."""
    given: dict[str, Any] = {
        "scale_unit": "kN", "rate": rate, "working_low": 0.2 * load, "working_high": 2.0 * load,
        "hot_load": load, "cold_load": load, "movement": 0.0, "thread_pitch": 3 * MM,
        "take_up": "turnbuckle", "total_travel": 0.2,
    }  # fmt: skip
    return NameplateView(**(given | other))


def unit_of(
    number: int, plate: NameplateView, load: float, *, kind: SupportKind = CONSTANT,
    position: str = "A",
) -> UnitView:  # fmt: skip
    """Return a unit with its present setting, read shut down and drained."""
    set_to = SettingView(load, SET_ON, "scale", "N. N.", PlantState.SHUT_DOWN_DRAINED)
    return UnitView(number, position, kind, f"SN-{number}", plate, set_to)


def point_of(
    number: int, tag: str, at: float, units: tuple[UnitView, ...] = (),
    required: float | None = None, **other: Any,
) -> SupportView:  # fmt: skip
    """Return a support point at a distance along the line."""
    kind = units[0].kind if units else SupportKind.RIGID_ROD
    loads = () if required is None else (
        RequiredView(NUMBER, "operating", CaseKind.OPERATING, required, Known.YES),
    )  # fmt: skip
    strong = tuple(
        PieceView(u.position, place, kind, "M36", 100 * KN, "invented", 0.0, adjustment_left=0.1)
        for u in units
        for place, kind in enumerate(("unit", "turnbuckle"), start=1)
    )
    given: dict[str, Any] = {
        "attachments": (AttachmentView(NUMBER, number, at, f"N{at:g}", share=1.0),),
        "units": units, "hardware": strong, "required": loads, "height_above_floor": 1.5,
    }  # fmt: skip
    return SupportView(number, tag, kind, **(given | other))


def route_of(supports: tuple[SupportView, ...], *, mass: float = 100.0) -> RouteView:
    """Return a straight, cold, empty line from a nozzle at 0 m, a node at each support."""
    places = [0.0, *sorted(s.attachments[0].distance_along or 0.0 for s in supports)]
    nodes = tuple(RouteNodeView(f"N{x:g}", x, 0.0, 0.0) for x in places)
    pipes = tuple(RouteElementView(a.node, b.node, RoutePiece.PIPE) for a, b in pairwise(nodes))
    line = LineView(
        1, NUMBER, outside_diameter=DIAMETER, wall=wall(), pipe_mass_per_length=mass,
        insulation_mass_per_length=0.0, content_mass_per_length=0.0, operating_temperature=ROOM,
    )  # fmt: skip
    return RouteView(
        line, "carbon steel", None, None, None, None,
        nodes=nodes, elements=pipes, ends=(RouteEndView("N0", EndKind.NOZZLE, "E-1 N1"),),
        supports=supports, nozzles=(nozzle_of(),),
    )  # fmt: skip


def nozzle_of(moment: float = 10 * KN) -> NozzleLimitView:
    """Return a nozzle whose bending moment in the plane of the line is limited [N·m]."""
    far = 1e6 * KN
    return NozzleLimitView(
        NUMBER, "N1", "E-1", Known.YES, (far, far, far), (far, moment, far), source="invented",
        node="N0",
    )  # fmt: skip


def worked_route(c1: float = 15 * KN, c2: float = 15 * KN, **plates: Any) -> RouteView:
    """Return the line of the worked example: constants at 4 m and 10 m, a variable, a rod."""
    variable = unit_of(3, spring_plate(6 * KN, 80 * KN), 6 * KN, kind=VARIABLE)
    required = {"C1": c1 + 4.801 * KN, "C2": c2 + 2.854 * KN}
    return route_of((
        point_of(1, "C1", 4, (unit_of(1, plate_of(c1, **plates), c1),), required["C1"]),
        point_of(2, "C2", 10, (unit_of(2, plate_of(c2, **plates), c2),), required["C2"]),
        point_of(3, "V1", 16, (variable,), 6 * KN),
        point_of(4, "R1", 20, required=1 * KN),
    ))  # fmt: skip


@cache
def balanced() -> tuple[float, float]:
    """Return settings of C1 and C2 [N] that leave the nozzle free before the weight is added."""
    loads = np.array([7 * KN, 5 * KN])
    for _ in range(3):  # the rod lifts where the constants pull too much
        ready = ready_line(worked_route(*loads))
        (result,) = solve_states(ready.system, [ready.present])
        table = influence_table(ready.system, result)
        columns = [table.units.index(name) for name in ("C1", "C2")]
        effect = table.nozzle_effect[0][np.ix_([2, 4], columns)]
        loads = loads - np.linalg.solve(effect, table.nozzle_base[0][[2, 4]])
    return float(loads[0]), float(loads[1])


def worked_line(**plates: Any) -> RouteView:
    """Return the worked line with a nozzle free of load before the weight is added."""
    return worked_route(*balanced(), **plates)


def valve(at: float = 7.0, load: float = 6 * KN, line: str = NUMBER) -> WeightItemView:
    """Return a weight of 6.0 kN at 7 m."""
    return WeightItemView(line, "valve", load / STANDARD_GRAVITY, at, 0.0, 0.0, "invented")


def judged(
    route: RouteView, *weights: WeightItemView, settings: SiteSettings | None = None
) -> AssessmentContent:
    """Return the assessment of a change that adds weights to a line."""
    change = ChangeView(
        1, "CH-1", "a valve", "isolation", "permanent", "being worked out", "", "N. N.", SET_ON,
        lines=(NUMBER,), weights=weights or (valve(),),
    )  # fmt: skip
    calculation = CalculationView(1, "C-1", "B", "full analysis", "issued")
    return assess(
        change, calculation, route.supports, route.nozzles, settings or proposed_settings()
    )


def with_support(route: RouteView, tag: str, **other: Any) -> RouteView:
    """Return a route with some facts of one support replaced."""
    changed = tuple(replace(s, **other) if s.tag == tag else s for s in route.supports)
    return replace(route, supports=changed)


def beam_line(reach: float = 0.15) -> RouteView:
    """Return a line that hangs, at 6 m, from two constants on one beam, 0.6 m and 1.0 m off.

    Settings, arms, beam weight and required loads as in the worked example of the trade notes.
    """
    a, b = 23.1 * KN, 14.1 * KN
    units = (
        unit_of(1, plate_of(a, reach=reach, flat=200 / 6), a),
        unit_of(2, plate_of(b, reach=reach, flat=150 / 6), b, position="B"),
    )
    beam = point_of(
        1, "T1", 6, units, 40 * KN, arrangement=Arrangement.TRAPEZE, arm_a=0.6, arm_b=1.0,
        beam_mass=1.2 * KN / STANDARD_GRAVITY,
    )  # fmt: skip
    variable = unit_of(3, spring_plate(20 * KN, 80 * KN), 20 * KN, kind=VARIABLE)
    last = point_of(3, "V1", 14, (variable,), 20 * KN)
    route = route_of((beam, last), mass=300.0)
    return replace(route, nozzles=(nozzle_of(1e6 * KN),))
