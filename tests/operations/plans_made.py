"""Plans of the worked line, made, chosen and ordered as a user would."""

from __future__ import annotations

from supports.operations.plans import Asked, choose_plan, make_reset_plan
from supports.operations.props import PropMove, move_prop
from supports.operations.work_orders import write_work_order
from supports.queries.lookups import plan_of
from supports.queries.plans import PlanOnRecord, plan_on_record
from supports.rules.reset_planning.wish import PlanAim
from supports.vocabulary import PlantState
from tests.operations.road import Road

DRAINED = PlantState.SHUT_DOWN_DRAINED
WHY = "fewest units; the nozzle keeps its limit with one prop"
LINE = "L-1"


def make(road: Road, *, by: str = "S1", **asked) -> str:
    wish = {"aim": PlanAim.CALCULATION, "work_state": DRAINED, "alone": True} | asked
    return make_reset_plan(road.register, road.number, LINE, Asked(**wish), acting=by, now=road.now)


def choose(road: Road, number: str, which: int = 1, *, by: str = "RE", reason: str = WHY) -> str:
    return choose_plan(road.register, number, which, reason=reason, acting=by, now=road.now)


def record(road: Road, number: str) -> PlanOnRecord:
    with road.register.reading() as session:
        return plan_on_record(session, plan_of(session, number))


def write(road: Road, line_state: str = "") -> str:
    return write_work_order(
        road.register, road.number, line_state=line_state, acting="PL", now=road.now
    )


def first_units(road: Road, number: str):
    return {unit.name: unit for unit in record(road, number).content.alternatives[0].units}


def put_props(road: Road, number: str) -> None:
    """Put in the props that a plan asks for, as the crew does before anything is read."""
    for place, hold in enumerate(record(road, number).content.alternatives[0].holds, start=1):
        along = float(hold.name.removeprefix("prop at ").removesuffix(" m"))
        move = PropMove(LINE, f"P-{place}", "in", "before the weight is let go", along)
        move_prop(road.register, move, acting="FO", now=road.now)
