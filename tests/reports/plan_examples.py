"""A re-set plan of an invented line, every figure worked by hand.

C-101 hangs at 20.0 kN and takes 250 N a turn; C-102 shows pounds, 4 500 lbf and 55 lbf a turn;
V-104 is a variable spring that is only read. A prop is in until round 1 is turned.
"""

from __future__ import annotations

from dataclasses import replace

from reports.contents.common import Signature
from reports.contents.plan_paper import Choice, PlanPaper
from reports.contents.unit_faces import UnitFace
from supports.rules.reset_planning.content import (
    CostSaid,
    GoalReached,
    HoldSaid,
    NotTurned,
    NozzleUseSaid,
    OrderJudged,
    PlanAlternative,
    PlanContent,
    ReadingSaid,
    RoundSaid,
    StepSaid,
    UnitTurn,
    UseSaid,
)
from supports.rules.reset_planning.round_windows import Slack
from supports.rules.reset_planning.wish import PlanAim, PlanKind
from supports.vocabulary import PlantState
from tests.reports.examples import LBF, head

PROP = "prop at 7.00 m"
N1 = "N1: nozzle limit, My (shut down, drained)"
SLACK = Slack(step=0.20, constant=0.02, variable=0.05, least=0.005)

FACES = {
    1: UnitFace(1, "C-101", "C-101", "K 20114/3", "constant hanger", "Floor 4, row C/12"),
    2: UnitFace(2, "C-102", "C-102", "77-4410", "constant hanger", "Floor 4, row C/14",
                load_unit="lbf", other_unit="kN", length_unit="in"),
    3: UnitFace(3, "V-104", "V-104", "VS-3318", "variable hanger", "Floor 3, row D/18",
                variable=True),
}  # fmt: skip


def use(share: float, words: str = N1) -> UseSaid:
    return UseSaid(words, share, share <= 1.0)


def turn(name: str, number: int, turns: int, flats: int, share: float) -> StepSaid:
    return StepSaid(number, "turn", name, turns, flats, increases=True, worst=use(share))


def hold(number: int, kind: str, share: float) -> StepSaid:
    return StepSaid(number, kind, PROP, 0, 0, increases=False, worst=use(share, f"{PROP}: force"))


def readings(first: float, second: float, third: float, *turned: int) -> tuple[ReadingSaid, ...]:
    """Return what the scales show: C-101 [N], C-102 [lbf], V-104 [N] with ± 400 N of friction."""
    return (
        ReadingSaid("C-101", 1, first, first, first, 0.0, 0.042, 1 in turned),
        ReadingSaid("C-102", 2, second * LBF, second * LBF, second * LBF, 0.0, 0.1524, 2 in turned),
        ReadingSaid("V-104", 3, third, third - 400.0, third + 400.0, 0.0, None, turned=False),
    )


def nozzle(share: float) -> tuple[NozzleUseSaid, ...]:
    return (NozzleUseSaid("N1", share, "My"),)


def rounds() -> tuple[RoundSaid, ...]:
    # 20.0 + 0.75 = 20.75, + 0.75 = 21.50, + 0.25 · 2 1/3 = 22.0833 kN; 4 500 + 3 · 110 = 4 830 lbf
    first = (
        hold(1, "put in prop or stop", 0.30), turn("C-101", 2, 3, 0, 0.55),
        turn("C-102", 3, 2, 0, 0.60), hold(4, "take out prop or stop", 0.80),
    )  # fmt: skip
    second = (turn("C-102", 5, 2, 0, 0.72), turn("C-101", 6, 3, 0, 0.64))
    third = (turn("C-101", 7, 2, 2, 0.50), turn("C-102", 8, 2, 0, 0.45))
    return (
        RoundSaid(1, first, readings(20750.0, 4610, 13400.0, 1, 2), nozzle(0.80), use(0.80)),
        RoundSaid(2, second, readings(21500.0, 4720, 13300.0, 1, 2), nozzle(0.64), use(0.72)),
        RoundSaid(3, third, readings(22083.333, 4830, 13200.0, 1, 2), nozzle(0.42), use(0.50)),
    )


def turned(
    number: int, name: str, turns: tuple[int, int], loads: tuple[float, float],
    window: tuple[float, float], required: float, used: float,
) -> UnitTurn:  # fmt: skip
    """Return a constant whose scale shows its set load before and after."""
    (whole, flats), (before, after), (low, high) = turns, loads, window
    return UnitTurn(
        name, name, "A", number, number, variable=False, turns=whole, flats=flats, increases=True,
        setting_before=before, setting_after=after, scale_before=before, scale_after=after,
        window_low=low, window_high=high, required=required, range_use=used,
    )  # fmt: skip


def units() -> tuple[UnitTurn, ...]:
    return (
        turned(1, "C-101", (8, 2), (20000.0, 22083.333), (21658.0, 22542.0), 22100.0, 0.69),
        turned(2, "C-102", (6, 0), (4500 * LBF, 4830 * LBF), (4733 * LBF, 4927 * LBF),
               4830 * LBF, 0.73),
    )  # fmt: skip


def plan() -> PlanAlternative:
    return PlanAlternative(
        "fewest units", can_be_done=True,
        verdict="2 units turned; every limit is kept at the end",
        units=units(),
        goals=(GoalReached("units touched, weighed by access", 2.0, 2.0, proved=True),
               GoalReached("turns in all", 14.333, 14.0, proved=False)),
        start=use(2.15), way=use(0.80), end=use(0.50), band=use(0.60), safe=True,
        safety=f"Put in {PROP} before the weight is released.",
        start_nozzles=nozzle(2.15),
        start_readings=readings(20000.0, 4500, 13450.0),
        rounds=rounds(),
        holds=(HoldSaid(PROP, "prop", -0.0024, 6000.0, 1, 3),),
        orders=(OrderJudged("in tag order", ("C-101", "C-102"), passes=True, worst=use(0.88),
                            at="C-101"),
                OrderJudged("in reverse tag order", ("C-102", "C-101"), passes=False,
                            worst=use(1.20), at="C-102")),
        # 6 visits of 1 h and 14 1/3 turns of 0.1 h: 7.433 crew hours, two people, one scaffold
        cost=CostSaid(2, 6, 14.333, 7.433, 14.867, 12.0, 1),
        solved="9 states solved in full",
    )  # fmt: skip


def impossible() -> PlanAlternative:
    return PlanAlternative(
        "least nozzle use", can_be_done=False,
        verdict="cannot be done: N1: nozzle limit, My would be passed by 12.21 kN·m",
        end=use(2.22),
        clashes=("N1: nozzle limit, My would be passed by 12.21 kN·m",),
        relief=("Replace C-101 by a unit that takes 26.00 kN.",),
    )  # fmt: skip


def content() -> PlanContent:
    return PlanContent(
        change="CH-0087", line="2-HS-0412", kind=PlanKind.FIRST, aim=PlanAim.CALCULATION,
        work_state=PlantState.SHUT_DOWN_DRAINED, steps_per_turn=6, assessment="7c1e94ab20d3",
        friction_share=1.0, alternatives=(plan(), impossible()),
        not_turned=(NotTurned("V-104", "variable spring within its window"),),
        notes=("Springs hang from rigid steel.",),
    )  # fmt: skip


def paper() -> PlanPaper:
    return PlanPaper(
        head=replace(head("Re-set plan", "RP-0087"), about="line 2-HS-0412, change CH-0087"),
        content=content(), faces=FACES, slack=SLACK,
        choice=Choice("fewest units", "A. Example", "2026-03-14", "one scaffold less"),
        basis=(("Calculation", "LC-0417, revision B"),),
        signatures=(Signature("stress engineer, prepared"),),
    )  # fmt: skip
