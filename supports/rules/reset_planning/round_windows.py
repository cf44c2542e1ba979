"""By how much a reading may differ from what a plan foretells before work stops.

The paper and the record of a round are held against the same windows.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from supports.rules.reset_planning.content import (
    PlanAlternative,
    ReadingSaid,
    RoundSaid,
    StepSaid,
    UnitTurn,
)

TURN = "turn"
FLATS = 6.0
"""Flats of a hexagon in one turn."""


@dataclass(frozen=True, slots=True)
class Slack:
    """By how much a reading may differ before work stops; shares [1] of the site.

    Parameters
    ----------
    step
        Of the load that the turns of the round give, at a unit that was turned.
    constant, variable
        Of the reading expected, at a unit that was not.
    least
        Of the reading expected: less than that no eye tells apart on a scale.
    """

    step: float
    constant: float
    variable: float
    least: float


def slack_of(settings: Mapping[str, float]) -> Slack:
    """Return by how much readings may differ, from the site's settings by name."""
    return Slack(
        step=settings["step_disagreement"],
        constant=settings["tolerance"],
        variable=settings["variable_tolerance"],
        least=settings["difference_noted"],
    )


class Window(NamedTuple):
    """A reading foretold, and between which readings work goes on [N]."""

    scale: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Foretold:
    """What one unit shows in a round [N].

    Parameters
    ----------
    before
        Before the round.
    at_step
        Right after its own step; as `after` where it is not turned.
    after
        When the round is done on every unit.
    """

    before: float
    at_step: Window
    after: Window

    def window_of(self, load: float) -> Window:
        """Return the window that a reading is held against: the one whose reading is nearer."""
        return min(self.at_step, self.after, key=lambda window: abs(load - window.scale))


def foretold_in(
    plan: PlanAlternative, unit_id: int, round_no: int, slack: Slack
) -> Foretold | None:
    """Return what a unit of a plan shows in a round; None where the plan does not know it."""
    read = [plan.start_readings, *(one.readings for one in plan.rounds)]
    if not 1 <= round_no < len(read):
        return None
    before, reading = (
        next((r for r in read[number] if r.unit_id == unit_id), None)
        for number in (round_no - 1, round_no)
    )
    if before is None or reading is None:
        return None
    turned = next((one for one in plan.units if one.unit_id == unit_id), None)
    step = step_in(plan.rounds[round_no - 1], reading.name)
    if turned is None or step is None:
        unturned = window_unturned(reading, slack, variable=bool(turned and turned.variable))
        return Foretold(before.scale, unturned, unturned)
    hand = by_hand(turned, step, reading, slack)
    return Foretold(before.scale, window_at_step(step, reading, hand), window_after(reading, hand))


def step_in(one: RoundSaid, name: str) -> StepSaid | None:
    """Return the turn of a unit in a round; None where it has none."""
    return next((s for s in one.steps if s.kind == TURN and s.name == name), None)


def by_hand(turned: UnitTurn, step: StepSaid, reading: ReadingSaid, slack: Slack) -> float:
    """Return by how much hand and eye may miss a step [N]: a share of it, or what no eye sees."""
    whole, given = (one.turns + one.flats / FLATS for one in (turned, step))
    load = abs(turned.setting_after - turned.setting_before) * given / whole if whole else 0.0
    return max(slack.step * load, slack.least * abs(reading.scale))


def window_unturned(reading: ReadingSaid, slack: Slack, *, variable: bool) -> Window:
    """Return the window of a unit that is only read in a round."""
    share = slack.variable if variable else slack.constant
    return window_after(reading, share * abs(reading.scale))


def window_after(reading: ReadingSaid, hand: float) -> Window:
    """Return the window when a round is done; never less than friction may hide."""
    half = max(hand, friction(reading))
    return Window(reading.scale, reading.scale - half, reading.scale + half)


def window_at_step(step: StepSaid, after: ReadingSaid, hand: float) -> Window:
    """Return the window right after a step; that of the round where it is not known."""
    if step.scale is None or step.low is None or step.high is None:
        return window_after(after, hand)
    half = max(hand, (step.high - step.low) / 2.0)
    return Window(step.scale, step.scale - half, step.scale + half)


def friction(reading: ReadingSaid) -> float:
    """Return half of what friction may hide of a reading [N]."""
    return (reading.high - reading.low) / 2.0
