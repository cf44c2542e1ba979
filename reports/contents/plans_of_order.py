"""The chosen plans that an order follows, made ready for its pack."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from reports.contents.faces_of_supports import faces_of
from reports.contents.planned_rounds import PlannedRounds, planned_rounds, stamp_of
from reports.contents.planned_sheets import hold_points
from reports.contents.resetting_pack import HoldPoint
from reports.languages import IN_ENGLISH, Texts
from supports.rules.assessment import AssessmentContent
from supports.rules.reset_planning.content import PlanAlternative, PlanContent
from supports.rules.reset_planning.round_windows import slack_of
from supports.snapshots import NozzleLimitView


@dataclass(frozen=True, slots=True)
class FollowedPlan:
    """A plan with the alternative that was chosen.

    Parameters
    ----------
    chosen_by
        Person and day.
    void
        Why the plan holds no more; empty while it stands.
    props
        Props of the plan that are in when the paper is made, by name: number, and who put it in.
    """

    number: str
    content: PlanContent
    alternative: PlanAlternative
    chosen_by: str = ""
    void: tuple[str, ...] = ()
    props: Mapping[str, tuple[str, str]] = field(default_factory=dict)

    @property
    def words(self) -> str:
        """Return which plan it is, in words."""
        by = f", chosen by {self.chosen_by}" if self.chosen_by else ""
        return f"{self.number}, “{self.alternative.name}”, line {self.content.line}{by}"


def rounds_of_plan(
    plan: FollowedPlan, content: AssessmentContent, say: Texts = IN_ENGLISH
) -> PlannedRounds:
    """Return the rounds of a plan with what every scale shows and when work stops."""
    rounds = planned_rounds(
        plan.alternative,
        plan.content,
        faces_of(content.supports, say),
        slack_of(content.settings),
    )
    stamp = stamp_of(plan.alternative, plan.content, plan.void)
    return replace(rounds, stamp=stamp, props=plan.props)


def holds_of_plans(planned: Sequence[PlannedRounds], first: int) -> tuple[HoldPoint, ...]:
    """Return the hold points of all props and travel stops, numbered on."""
    points: list[HoldPoint] = []
    for rounds in planned:
        points += hold_points(rounds, first + len(points))
    return tuple(points)


def use_by_round(
    limit: NozzleLimitView, planned: Sequence[PlannedRounds]
) -> tuple[tuple[int, float], ...]:
    """Return the use of one nozzle's limits [1]: at the start as round 0, then after each round."""
    return tuple(pair for rounds in planned if rounds.line == limit.line
                 for pair in _uses(limit, rounds))  # fmt: skip


def _uses(limit: NozzleLimitView, rounds: PlannedRounds) -> Iterator[tuple[int, float]]:
    for name, uses in rounds.nozzles:
        if name == limit.nozzle:
            for number, use in zip((0, *rounds.rounds), uses, strict=True):
                if use is not None:
                    yield number, use.use
