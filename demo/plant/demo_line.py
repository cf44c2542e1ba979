"""The line that the demo change works on: hot oil from a pump to a heater hung from its top steel.

The heater's inlet manifold hangs with its coils and goes down as they grow, the riser grows up: the
long run at height tilts about its one rigid rod. Masses, ends and the loads of calculation revision
A belong together: the screening calculation finds the line at rest near its design position.
"""

from __future__ import annotations

from dataclasses import dataclass

from demo.plant.line_ends import End
from demo.plant.routes import EAST, NORTH, UP, Fitting, Leg, Route, route
from demo.plant.services import Service
from supports.vocabulary import Arrangement, SupportKind

DEMO_NUMBER = "1-HO-1203"

DEMO_SERVICE = Service(
    "HO", "hot oil to heater", ((20, "XS"),), "carbon steel", 290, 320, 16, 720, 0.100, (9, 9),
    "ASME B31.3", machine_at_start=True,
)  # fmt: skip

RUN = 16.346
"""Distance along the line [m] of the corner from which the long run is measured."""


def demo_route() -> Route:
    """Return the way: pump, riser, two corners, long run east, corner, rise to the heater."""
    legs = (Leg(UP, 9.0), Leg(NORTH, 8.0), Leg(EAST, 45.0), Leg(NORTH, 9.0), Leg(UP, 3.0))
    return route((127.0, 50.0, 2.0), legs, 0.762)


def demo_fittings() -> tuple[Fitting, ...]:
    """Return flanges and reducer at the pump, the valves, the flanged joints and the heater's."""
    length = demo_route().length
    return (
        Fitting(0.0, 0.3, "flange pair", 230.0),
        Fitting(0.3, 0.508, "reducer", 110.0),
        Fitting(1.2, 1.1, "valve", 450.0),
        Fitting(14.8, 0.3, "flange pair", 220.0),
        Fitting(RUN + 2.3, 0.8, "valve", 890.0, (0.0, 0.0, 0.2)),
        Fitting(RUN + 22.4, 0.3, "flange pair", 370.0),
        Fitting(RUN + 28.85, 1.0, "valve", 1690.0, (0.0, 0.0, 0.2)),
        Fitting(RUN + 35.9, 0.3, "flange pair", 170.0),
        Fitting(RUN + 40.9, 0.3, "flange pair", 170.0),
        Fitting(64.5, 0.3, "flange pair", 130.0),
        Fitting(round(length - 0.32, 6), 0.32, "flange pair", 310.0),
    )


DEMO_ENDS = (
    End("N1", turning=1.0e5),
    End("N2", turning=2.5e6, movement=(-0.050, 0.0, -0.148)),
)
"""A tied bellows at the pump, which holds every push and gives way to turning; the heater's inlet
manifold, which goes back toward the line and down with its coils."""

DEMO_LIMITS = {
    "N1": ((18_500.0, 13_000.0, 33_000.0), (12_800.0, 10_200.0, 25_600.0), 36_000.0, 20_500.0),
    "N2": ((16_000.0, 13_000.0, 20_000.0), (20_000.0, 7_500.0, 30_000.0), 26_000.0, 40_000.0),
}
"""Limits of a nozzle where the line has its own: forces [N], moments [N·m], both resultants."""


@dataclass(frozen=True, slots=True)
class DemoPoint:
    """A support of the demo line.

    Parameters
    ----------
    at
        Distance along the line [m].
    before, after
        Load required by calculation revision A and B [N]; None where none is carried.
    up
        Movement from shut down to operating, up positive [m].
    rod
        Size of the rod that hangs there, empty where the smallest sufficient one does.
    """

    tag: str
    kind: SupportKind
    at: float
    before: float | None
    after: float | None
    up: float
    rod: str = ""
    arrangement: Arrangement = Arrangement.SINGLE
    note: str = ""


CONSTANT, VARIABLE = SupportKind.CONSTANT_HANGER, SupportKind.VARIABLE_HANGER
LBF = 4.4482216152605
"""One pound-force [N], exact."""

DEMO_POINTS: tuple[DemoPoint, ...] = (
    DemoPoint("PS-1014", SupportKind.GUIDE, 3.0, None, None, 0.010),
    DemoPoint(
        "PS-1015", CONSTANT, 6.5, 38_000.0, 38_300.0, 0.023, rod="M36",
        arrangement=Arrangement.RISER_PAIR,
    ),
    DemoPoint("PS-1016", VARIABLE, 14.6, 19_300.0, 19_500.0, 0.024),
    DemoPoint("PS-1017", VARIABLE, RUN + 2.0, 12_000.0, 13_500.0, 0.015, rod="M24"),
    DemoPoint("PS-1018", SupportKind.RIGID_ROD, RUN + 5.4, 13_000.0, 13_200.0, 0.0, rod="M24"),
    DemoPoint(
        "PS-1019", CONSTANT, RUN + 9.9, 17_500.0, 18_700.0, -0.020,
        note="plate painted over, load per turn and direction not readable",
    ),
    DemoPoint("PS-1020", CONSTANT, RUN + 16.2, 4_500.0 * LBF, 4_830.0 * LBF, -0.048, rod="M30"),
    DemoPoint("PS-1021", CONSTANT, RUN + 22.2, 20_000.0, 22_100.0, -0.074, rod="M24"),
    DemoPoint(
        "PS-1022", CONSTANT, RUN + 28.5, 36_000.0, 40_000.0, -0.100, rod="M36",
        arrangement=Arrangement.TRAPEZE,
    ),
    DemoPoint(
        "PS-1023", CONSTANT, RUN + 35.7, 20_200.0, 23_400.0, -0.127, rod="M36",
        note="white paint mark at 21.5 on the load scale, nobody knows since when",
    ),
    DemoPoint("PS-1024", CONSTANT, RUN + 40.8, 20_000.0, 22_100.0, -0.140, rod="M30"),
    DemoPoint("PS-1025", CONSTANT, 64.3, 25_400.0, 25_600.0, -0.154),
    DemoPoint("PS-1026", SupportKind.SHOCK_ARRESTOR, RUN + 38.2, None, None, -0.132),
)  # fmt: skip
