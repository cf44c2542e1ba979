"""The line of a plan: props that may be put in, and the states that count, weight on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import inf

from supports.calc.line.band import Factored
from supports.calc.line.parts import EMPTY
from supports.calc.line.restraints import Constant, Support, Variable
from supports.calc.line.results import LineResult
from supports.calc.line.solver import factored_line, solve_states
from supports.calc.line.states import State, added, cold
from supports.calc.reset_plan.limits import Hold
from supports.rules.line.metal import OPERATING
from supports.rules.line.screening import ReadyLine
from supports.rules.reset_planning.holds_named import prop_name
from supports.vocabulary import PlantState

BEFORE = "before the weight"


@dataclass(frozen=True, slots=True)
class PlanLine:
    """A line factored with its props, and its states.

    Parameters
    ----------
    free
        The same line with springs that never meet a stop: while a plan is made, the ends of travel
        are limits that it keeps to, and no state that it starts from.
    states
        States in which limits hold, weight on; the working state first.
    before
        The working state before the weight is added, with the present settings.
    props
        Names of props that may be put in.
    """

    system: Factored
    free: Factored
    states: tuple[State, ...]
    before: LineResult
    props: tuple[str, ...]

    @property
    def working(self) -> State:
        """Return the state in which bolts are turned."""
        return self.states[0]


def plan_line(ready: ReadyLine, work_state: PlantState, *, weight_on: bool = True) -> PlanLine:
    """Return a line as it is while it is re-set.

    Parameters
    ----------
    weight_on
        False where the weight of the change is off the line again.
    """
    props = _props(ready) if weight_on else ()
    line = ready.built.line
    line = replace(line, supports=(*line.supports, *props))
    system = factored_line(line)
    free = factored_line(replace(line, supports=tuple(map(_endless, line.supports))))
    masses = ready.masses if weight_on else ()
    bare = _states(ready, work_state)
    states = tuple(replace(added(state, *masses), name=state.name) for state in bare)
    (before,) = solve_states(system, [replace(bare[0], name=BEFORE)])
    return PlanLine(system, free, states, before, tuple(prop.name for prop in props))


def _endless(support: Support) -> Support:
    if isinstance(support, Constant):
        return replace(support, travel_down=inf, travel_up=inf)
    if isinstance(support, Variable):
        return replace(support, load_low=-inf, load_high=inf)
    return support


def _states(ready: ReadyLine, work_state: PlantState) -> tuple[State, ...]:
    operating = replace(ready.present, name=str(PlantState.OPERATING_STEADY))
    if work_state is PlantState.OPERATING_STEADY:
        return (operating,)
    contents = OPERATING if work_state is PlantState.SHUT_DOWN_FULL else EMPTY
    return (replace(cold(contents), name=str(work_state)), operating)


def _props(ready: ReadyLine) -> tuple[Constant, ...]:
    """Return a prop under each weight that no spring of the line holds already."""
    taken = {spring.node for spring in ready.built.line.springs}
    nodes = dict.fromkeys(mass.node for mass in ready.masses)
    return tuple(
        Constant(prop_name(ready.built.distances[node]), node, setting=0.0)
        for node in nodes
        if node not in taken
    )


def holds_of(
    line: PlanLine, stops: Mapping[str, float], points: Mapping[str, str]
) -> tuple[Hold, ...]:
    """Return props and travel stops that may be used, each at the level before the weight.

    Parameters
    ----------
    stops
        Units whose travel stop may be put in, with what it bears [N].
    points
        Support point of each unit.
    """
    level = {name: result.movement for name, result in line.before.supports.items()}
    props = [Hold(name, level[name]) for name in line.props]
    fitted = [
        Hold(name, level[points[name]], bears, one_way=False) for name, bears in stops.items()
    ]
    return (*props, *fitted)
