"""What a re-set plan must keep to: limits of units, supports, nozzles and beams, and the aim."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from supports.calc.line.restraints import NozzleLimits
from supports.calc.turns import FLATS_PER_TURN


@dataclass(frozen=True, slots=True)
class UnitLimits:
    """One spring: how it stands, and how far it may be turned.

    None means unknown: a unit without range or load per step is not turned, and the plan says so.

    Parameters
    ----------
    setting
        Present set load [N].
    step
        Change of set load by the smallest step that is counted [N]: one flat, or half a turn.
    steps_per_turn
        6 for flats, 2 for half-turns.
    low, plate, high
        Adjusting range and nameplate load from which it is counted [N].
    steps_down, steps_up
        Steps that the free thread allows, its margin taken off [1].
    friction
        Half of the friction band as a share of the setting [1]; 0 for a variable.
    pointer_low, pointer_high
        Room of the pointer, in the movement figures of the influence table [m].
    cost
        What one access to the unit costs, its scaffold apart [h], or 1 to count units.
    group
        Scaffold group that must be opened for it; empty if none.
    replace_cost
        What another unit in its place would cost, in the same measure as `cost`; None if that is
        out of the question.
    """

    name: str
    setting: float
    step: float | None = None
    steps_per_turn: int = FLATS_PER_TURN
    low: float | None = None
    plate: float | None = None
    high: float | None = None
    steps_down: float | None = None
    steps_up: float | None = None
    friction: float | None = None
    pointer_low: float = -inf
    pointer_high: float = inf
    cost: float = 1.0
    group: str = ""
    replace_cost: float | None = None

    @property
    def range(self) -> tuple[float, float, float] | None:
        """Low end, nameplate load and high end [N]; None if one of them is unknown."""
        if self.low is None or self.plate is None or self.high is None:
            return None
        return self.low, self.plate, self.high

    @property
    def turnable(self) -> bool:
        """Whether enough is known to turn it."""
        return self.range is not None and bool(self.step)

    @property
    def missing(self) -> tuple[str, ...]:
        """What is not known of the unit, in words."""
        known = {
            "adjusting range about the nameplate load": self.range is not None,
            "load per turn": bool(self.step),
            "free thread": self.steps_down is not None and self.steps_up is not None,
            "friction band": self.friction is not None,
        }
        return tuple(what for what, is_known in known.items() if not is_known)


@dataclass(frozen=True, slots=True)
class SupportLimits:
    """Loads [N] that a support must keep: working range, tension of a rod, hardware rating.

    `states` names the states in which they hold; empty is all of them. A limit of a unit that
    comes from its hardware is lifted when the unit is replaced.
    """

    name: str
    low: float | None = None
    high: float | None = None
    states: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CombinedLimit:
    """A rule of the kind a·F + b·M ≤ limit, on resultants; a [1], b [1/m], limit [N]."""

    name: str
    force_factor: float
    moment_factor: float
    limit: float
    source: str = ""


@dataclass(frozen=True, slots=True)
class NozzleCheck:
    """Limits of one nozzle: six components, resultants, combined rules."""

    name: str
    limits: NozzleLimits | None = None
    combined: tuple[CombinedLimit, ...] = ()


@dataclass(frozen=True, slots=True)
class Trapeze:
    """Two units on one beam: always set together, each near its share by moments.

    Parameters
    ----------
    to_first, to_second
        Distance of the pipe from each unit [m].
    beam_weight
        Weight of the beam [N].
    tolerance, step_tolerance
        How far a set load may stand from its share by moments, as a part of the share [1]: at the
        end, and between two steps (no more than the friction band, which holds the beam meanwhile).
    rounds
        Rounds in which the two are turned alternately.
    """

    first: str
    second: str
    to_first: float
    to_second: float
    beam_weight: float = 0.0
    tolerance: float = 0.02
    step_tolerance: float = 0.05
    rounds: int = 5


@dataclass(frozen=True, slots=True)
class Target:
    """A required load [N] ± tolerance [N]: of the setting, or of the support load in `state`."""

    name: str
    load: float
    tolerance: float
    state: str = ""


@dataclass(frozen=True, slots=True)
class Hold:
    """A temporary prop or a travel stop that may be put in while the line is re-set.

    Parameters
    ----------
    name
        A column of the influence table: the unit whose stop goes in, or a prop that the caller
        brought into the line as a constant with no load.
    level
        Position at which it holds the pipe [m]; None is where the pipe stands before the work.
    capacity
        Largest force that it bears [N].
    one_way
        True for a prop, which only pushes up; a travel stop holds both ways.
    hours
        Work to put it in and take it out [h].
    """

    name: str
    level: float | None = None
    capacity: float = inf
    one_way: bool = True
    hours: float = 0.0
