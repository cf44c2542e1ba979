"""What a re-set costs in hours, by assumptions that the site states."""

from __future__ import annotations

from dataclasses import dataclass

from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.results import ResetPlan
from supports.calc.reset_plan.sequence import Sequence


@dataclass(frozen=True, slots=True)
class WorkAssumptions:
    """Assumptions of the site; none has a value of its own here.

    Parameters
    ----------
    crew
        People in a crew [1].
    hours_per_visit, hours_per_turn
        Time of the crew at a unit for coming, reading, locking; and for each turn [h].
    group_hours
        Hours to put a scaffold group up and take it down [h].
    busy
        Use of a limit from which a step is counted as close to it [1].
    """

    crew: float
    hours_per_visit: float
    hours_per_turn: float
    group_hours: dict[str, float]
    busy: float


@dataclass(frozen=True, slots=True)
class Cost:
    """Hours and risk figures of a plan with its order.

    Parameters
    ----------
    crew_hours, man_hours, scaffold_hours
        Time of the crew, work at the units, work on scaffolds [h].
    worst_way, worst_end
        Worst use of any limit between the steps and at the end [1].
    close_steps
        Steps that end close to a limit.
    """

    units: int
    visits: int
    turns: float
    crew_hours: float
    man_hours: float
    scaffold_hours: float
    worst_way: float
    worst_end: float
    close_steps: int

    @property
    def total_hours(self) -> float:
        """Work at the units and on scaffolds [h]."""
        return self.man_hours + self.scaffold_hours


def cost_of(
    problem: PlanProblem, plan: ResetPlan, order: Sequence, assumed: WorkAssumptions
) -> Cost:
    """Count hours and risk figures.

    Parameters
    ----------
    assumed
        Hours [h] and the use [1] from which a step is close to a limit.

    Returns
    -------
    Cost
        Hours [h], uses [1].

    Notes
    -----
    crew hours = visits × hours per visit + turns × hours per turn; man-hours = crew × that; each
    scaffold group counts once. Source: the site's own assumptions.
    """
    crew_hours = order.visits * assumed.hours_per_visit + plan.turns * assumed.hours_per_turn
    groups = {problem.by_name[unit.name].group for unit in plan.units} - {""}
    return Cost(
        units=len(plan.units),
        visits=order.visits,
        turns=plan.turns,
        crew_hours=crew_hours,
        man_hours=assumed.crew * crew_hours,
        scaffold_hours=sum(assumed.group_hours[group] for group in sorted(groups)),
        worst_way=order.worst.share,
        worst_end=plan.worst.share,
        close_steps=sum(1 for step in order.steps if step.worst.share >= assumed.busy),
    )
