"""The order of a re-set: steps, rounds, and what must be read after each round."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from supports.calc.reset_plan.judge import Use
from supports.calc.turns import FLATS_PER_TURN, TurnCount


class StepKind(StrEnum):
    """What is done in a step."""

    TURN = "turn"
    PUT_IN = "put in prop or stop"
    TAKE_OUT = "take out prop or stop"


class Safety(StrEnum):
    """What may be said of an order."""

    SAFE = "no limit is passed on the way"
    START = "a limit is passed before the first turn: prop the line before the weight is let go"
    PROP = "no limit is passed on the way as long as the props or stops listed are in"
    UNSAFE = "a limit is passed on the way; a prop or another share of the loads is needed"


@dataclass(frozen=True, slots=True)
class Step:
    """One step.

    Parameters
    ----------
    steps, turns
        Steps and turns given, above zero to increase the load; 0 for props and stops [1].
    setting
        Set load afterwards [N]; None for props and stops.
    worst
        The limit used most after the step, and on the way into it.
    levels, half, mode
        The part-done state that the step leads to.
    """

    kind: StepKind
    name: str
    steps: int
    turns: float
    setting: float | None
    worst: Use
    levels: tuple[int, ...]
    half: int
    mode: int

    @property
    def count(self) -> TurnCount:
        """Turns and flats, without direction."""
        return TurnCount.of_flats(round(abs(self.turns) * FLATS_PER_TURN))


@dataclass(frozen=True, slots=True)
class Reading:
    """What a support should show after a round.

    Parameters
    ----------
    load, load_low, load_high
        Load predicted and its friction interval [N]; a constant's scale shows its setting.
    setting
        Set load of a spring [N]; None for others.
    pointer
        Pointer [m]; None if not followed.
    turned
        Whether it was turned in this round.
    """

    state: str
    name: str
    load: float
    load_low: float
    load_high: float
    setting: float | None
    pointer: float | None
    turned: bool


@dataclass(frozen=True, slots=True)
class Round:
    """One round: no unit is visited twice in it; then every support is read."""

    number: int
    steps: tuple[Step, ...]
    worst: Use
    readings: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class Sequence:
    """An order of work.

    Parameters
    ----------
    start
        The limit used most before any turn, without props or stops.
    worst
        The limit used most after the first step and later, props and stops in as listed.
    bound
        Worst use below which no order can stay [1]; with `proved`, no order over the same parts
        does better than `worst`.
    parts
        Into how many parts each unit's turns were cut to find the order.
    holds
        Props and stops that are in from before the first turn, till they are taken out.
    avoided
        Worst uses [1] of part-done states that the full solve showed to be past a limit, with the
        setting changes [N] that lead there.
    """

    safety: Safety
    rounds: tuple[Round, ...]
    start: Use
    worst: Use
    bound: float
    proved: bool
    parts: int
    holds: tuple[str, ...] = ()
    avoided: tuple[tuple[Mapping[str, float], float], ...] = ()

    @property
    def steps(self) -> tuple[Step, ...]:
        """All steps in order."""
        return tuple(step for one in self.rounds for step in one.steps)

    @property
    def gap(self) -> float:
        """How far the worst use may lie above the best order's, as a part of it [1]."""
        if self.proved or self.worst.share <= 0.0:
            return 0.0
        return max(0.0, self.worst.share - self.bound) / self.worst.share

    @property
    def visits(self) -> int:
        """How often somebody goes to a unit."""
        turned = [step.name for step in self.steps if step.kind is StepKind.TURN]
        return sum(1 for at, name in enumerate(turned) if at == 0 or turned[at - 1] != name)
