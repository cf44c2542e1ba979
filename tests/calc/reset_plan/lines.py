"""Lines of the re-set plan tests, built by hand from printed influence figures."""

from math import inf

import numpy as np

from supports.calc.line.influence import InfluenceTable, table_from_parts
from supports.calc.line.restraints import NozzleLimits
from supports.calc.reset_plan.limits import NozzleCheck, Trapeze, UnitLimits
from supports.calc.reset_plan.problem import PlanProblem, PlanState

KN = 1e3
MM = 1e-3


def two_constants() -> InfluenceTable:
    """Build a straight line on a fixed nozzle: 6.0 kN hung on at 7 m, constants at 4 m and 10 m.

    Figures as printed in the worked example of the trade notes: base is "fixed nozzle, nothing
    re-set"; effects at the nozzle are printed, those elsewhere follow from the rows in which one
    constant alone is re-set. The rod's row is the change of its load, so it may fall below zero.
    Constants are counted from 15.0 kN.
    """
    c1_alone, c2_alone = 4.801, 2.854
    nozzle = np.zeros((6, 2))
    nozzle[2] = [-0.9339, -0.6487]
    nozzle[4] = [-2.8142, -3.4984]
    base = np.array([0.0, 0.0, 4.876, 0.0, 21.548, 0.0]) * KN
    return table_from_parts(
        state="cold",
        units=("C1", "C2"),
        loads={
            "C1": (15.0 * KN, np.array([1.0, 0.0])),
            "C2": (15.0 * KN, np.array([0.0, 1.0])),
            "V1": (0.507 * KN, np.array([(0.343 - 0.507) / c1_alone, (0.134 - 0.507) / c2_alone])),
            "R1": (0.617 * KN, np.array([(0.464 - 0.617) / c1_alone, (-0.012 - 0.617) / c2_alone])),
        },
        pointers={
            "C1": (-4.8 * MM, np.array([2.4 / c1_alone, 0.84]) * MM / KN),
            "C2": (-11.7 * MM, np.array([4.1 / c1_alone, 2.67]) * MM / KN),
        },
        nozzles={"N1": (base, nozzle)},
    )


def constant(name: str, *, low: float = 0.2, high: float = 0.4, **other: object) -> UnitLimits:
    """Build a constant of 15.0 kN, 0.06 kN a turn, its range as shares of the nameplate load."""
    plate = 15.0 * KN
    given: dict[str, object] = {
        "setting": plate,
        "step": 10.0,
        "low": plate * (1.0 - low),
        "plate": plate,
        "high": plate * (1.0 + high),
        "steps_down": inf,
        "steps_up": inf,
        "friction": 0.0,
    }
    return UnitLimits(name, **(given | other))  # type: ignore[arg-type]


def nozzle_of(moment: float = inf, force: float = inf) -> NozzleCheck:
    """Limit the vertical force [N] and the bending moment [N·m] of the nozzle."""
    parts = tuple(None if limit == inf else limit for limit in (force, moment))
    return NozzleCheck("N1", NozzleLimits((None, None, parts[0], None, parts[1], None)))


def two_constants_problem(**other: object) -> PlanProblem:
    """Give the two constants a limit of 10 kN·m at the nozzle."""
    given: dict[str, object] = {
        "states": (PlanState(two_constants(), working=True),),
        "units": (constant("C1"), constant("C2")),
        "nozzles": (nozzle_of(10.0 * KN),),
    }
    return PlanProblem(**(given | other))  # type: ignore[arg-type]


def beam(range_of_first: float = 0.15) -> PlanProblem:
    """Hang two constants on one beam, 0.6 m and 1.0 m from the pipe; 4.0 kN more are to be carried.

    Settings, distances, beam weight and load per turn as in the worked example; half-turns.
    """
    table = table_from_parts(
        state="cold",
        units=("A", "B"),
        loads={
            "A": (23.1 * KN, np.array([1.0, 0.0])),
            "B": (14.1 * KN, np.array([0.0, 1.0])),
        },
        pointers={},
        nozzles={},
    )
    first = UnitLimits(
        "A", 23.1 * KN, 100.0, 2, 23.1 * KN * (1 - range_of_first), 23.1 * KN,
        23.1 * KN * (1 + range_of_first), inf, inf, 0.0,
    )  # fmt: skip
    second = UnitLimits(
        "B", 14.1 * KN, 75.0, 2, 14.1 * KN * 0.85, 14.1 * KN, 14.1 * KN * 1.15, inf, inf, 0.0
    )
    return PlanProblem(
        states=(PlanState(table, working=True),),
        units=(first, second),
        trapezes=(Trapeze("A", "B", 0.6, 1.0, 1.2 * KN),),
    )
