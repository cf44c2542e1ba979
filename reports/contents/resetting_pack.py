"""What the pack for re-setting springs says: the paper that goes up the scaffold.

Loads [N], lengths [m], energies [J], shares as fractions. Every unit names the unit printed on its
own scale (`load_unit`), which is printed first, and the other one, printed in brackets.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from reports.contents.common import (
    Amount,
    Direction,
    LoadBasis,
    Missing,
    PaperHead,
    Signature,
    TravelStopState,
    Turns,
)
from reports.contents.planned_rounds import PlannedRounds
from supports.vocabulary import Verdict

STOPPED = frozenset(
    {Verdict.RE_SET, Verdict.CANNOT_BE_SET, Verdict.HARDWARE_FAILS, Verdict.CANNOT_JUDGE}
)
"""Verdicts under which a unit without turns must not be touched."""


class TurnedPart(StrEnum):
    """What the wrench is put on; the two do different things."""

    LOAD_BOLT = "load adjustment bolt"
    """A constant: changes the load."""
    TAKE_UP = "rod take-up"
    """A variable: changes the load by moving the rod."""


@dataclass(frozen=True, slots=True)
class LoadScale:
    """The load scale of one unit as it is drawn; loads [N].

    Parameters
    ----------
    load_unit, other_unit
        Unit printed on the scale, and the one for the brackets.
    window_low, window_high
        The window for the as-left reading.
    hand_mark
        A mark somebody painted on the scale; it is never the point to count from.
    used_share
        Share of the room from the nameplate to the limit on that side that is used up.
    room_up_turns, room_down_turns
        Turns left to the limits after the re-set.
    """

    load_unit: str
    other_unit: str
    nameplate: float | None
    low: float | None
    high: float | None
    present: float | None
    required: float | None
    window_low: float | None = None
    window_high: float | None = None
    hand_mark: float | None = None
    used_share: float | None = None
    room_up_turns: float | None = None
    room_down_turns: float | None = None


@dataclass(frozen=True, slots=True)
class PointerGauge:
    """The travel scale of one unit as it is drawn; lengths [m] from the zero end.

    Parameters
    ----------
    zero_at_top
        Where the scale starts; None where nobody knows.
    last_cold, last_hot
        Last readings; their dates are words.
    expected
        Where the pointer should stand when the work is done, in the line state of the work.
    expected_name
        What that mark is called on the paper.
    """

    length_unit: str
    scale_length: float
    zero_at_top: bool | None
    cold_mark: float | None = None
    hot_mark: float | None = None
    last_cold: float | None = None
    last_cold_date: str = ""
    last_hot: float | None = None
    last_hot_date: str = ""
    expected: float | None = None
    expected_name: str = "EXPECT AS-LEFT"


@dataclass(frozen=True, slots=True)
class TurnRound:
    """One visit to one unit.

    Parameters
    ----------
    number
        Round, counted from 1 over the whole pack; all units share the count.
    turns
        Turns in this round, per bolt.
    expected, low, high
        Scale reading afterwards [N] and the readings beyond which work stops.
    step, then
        Under a plan: the number of the step over the whole line, and where the crew goes next.
    """

    number: int
    turns: Turns
    expected: float
    low: float
    high: float
    step: int | None = None
    then: str = ""


@dataclass(frozen=True, slots=True)
class TurnJob:
    """Everything needed to turn one unit; a unit without it is not turned.

    Parameters
    ----------
    where
        Which bolt, in words that find it: side, top or bottom.
    nameplate_words
        The direction in the nameplate's own words.
    bolts
        Number of load bolts; turns are per bolt.
    locked_words
        Whether it is turned with the travel stop in or out, as the unit's instruction says.
    load_per_turn
        [N] per full turn of the bolt, all bolts turned alike.
    take_up_words
        Take-up of the rod besides the load bolt, where listed.
    thread_needed, thread_free
        [m].
    step_tolerance
        Share of a step by which the scale may differ before work stops.
    reached
        Under a plan: what the scale shows when the whole line is done [N].
    """

    part: TurnedPart
    where: str
    direction: Direction
    nameplate_words: str
    turns: Turns
    rounds: tuple[TurnRound, ...]
    load_per_turn: float
    locked_words: str
    bolts: int = 1
    wrench: str = ""
    take_up_words: str = ""
    thread_needed: float | None = None
    thread_free: float | None = None
    step_tolerance: float = 0.20
    reached: float | None = None


def by_plan(job: TurnJob) -> bool:
    """Return whether the turns are those of a plan, each with its step over the whole line."""
    return any(turn.step is not None for turn in job.rounds)


@dataclass(frozen=True, slots=True)
class UnitSheet:
    """One unit of the pack.

    Parameters
    ----------
    order
        Order along the line.
    point_id
        The point's lasting id; the square code holds nothing else.
    missing
        What is not known and so forbids turning.
    job
        None where nothing is turned: left as it is, refused, or to be replaced.
    partners
        Tags of units on the same trapeze; they are turned together.
    stored_energy
        Load times travel [J].
    near_nozzle
        True: the hold after round 1 applies.
    notes
        Further words for the page, e.g. what the scale reads in the line state of the work where
        that is not the required load.
    on_form
        Whether the order has a line for it, so that its readings come back on the form.
    """

    order: int
    tag: str
    point_id: str
    serial: str
    kind: str
    place: str
    verdict: Verdict
    scale: LoadScale
    reasons: tuple[str, ...] = ()
    missing: tuple[Missing, ...] = ()
    job: TurnJob | None = None
    gauge: PointerGauge | None = None
    partners: tuple[str, ...] = ()
    stored_energy: float | None = None
    near_nozzle: bool = False
    travel_stop_number: str = ""
    travel_stop: TravelStopState = TravelStopState.UNKNOWN
    notes: tuple[str, ...] = ()
    on_form: bool = True

    @property
    def refused(self) -> bool:
        """Return whether a page must say STOP: something is due here, and turning is not it."""
        return self.job is None and (self.verdict in STOPPED or bool(self.missing))


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A support near by that is read, never turned; load [N], pointer [m]."""

    order: int
    tag: str
    serial: str
    kind: str
    place: str
    load_unit: str = "kN"
    length_unit: str = "mm"
    last_load: float | None = None
    last_pointer: float | None = None


@dataclass(frozen=True, slots=True)
class TravelStopEntry:
    """One line of the travel-stop register as known when the paper is made."""

    number: str
    tag: str
    state: TravelStopState
    reason: str = ""
    fitted_on: str = ""
    fitted_by: str = ""


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """A point where work waits for somebody."""

    number: int
    what: str
    who: str


@dataclass(frozen=True, slots=True)
class NozzleReading:
    """One thing to be read at a nozzle, with its limit."""

    what: str
    limit: Amount
    source: str = ""


@dataclass(frozen=True, slots=True)
class NozzlePage:
    """What is read at one machine, vessel or heater nozzle, and the use of it between rounds.

    Parameters
    ----------
    use_by_round
        Largest share of the allowable used after each round, the start as round 0.
    machine
        Whether it is a machine's, whose coupling and shaft are watched too.
    """

    equipment: str
    nozzle: str
    readings: tuple[NozzleReading, ...]
    use_by_round: tuple[tuple[int, float], ...] = ()
    machine: bool = True


@dataclass(frozen=True, slots=True)
class ResettingPack:
    """The whole pack.

    Parameters
    ----------
    units
        In order along the line; those not turned are here too, with their reasons.
    turning_order
        Tags in the order of work within a round; the sequence matrix follows it.
    copy_words
        The numbered copy that this is, and who holds it; empty for one that nobody was given.
    planned, plan_words
        The rounds of the chosen plan of each line, and which plan that is, in words; empty where
        the order follows no plan.
    way_back
        Whether the order takes work back.
    """

    head: PaperHead
    job: str
    change_number: str
    change_revision: str
    line: str
    reason: str
    aim: str
    line_state_needed: str
    start_authority: str
    basis: LoadBasis
    units: tuple[UnitSheet, ...]
    turning_order: tuple[str, ...] = ()
    neighbours: tuple[Neighbour, ...] = ()
    travel_stops: tuple[TravelStopEntry, ...] = ()
    permits: tuple[str, ...] = ()
    crew: str = ""
    hours: str = ""
    scaffold_group: str = ""
    hold_points: tuple[HoldPoint, ...] = ()
    site_stop_rules: tuple[str, ...] = ()
    site_readiness: tuple[str, ...] = ()
    telephones: tuple[tuple[str, str], ...] = ()
    nozzles: tuple[NozzlePage, ...] = ()
    assumptions: tuple[str, ...] = ()
    signatures: tuple[Signature, ...] = ()
    copy_words: str = ""
    planned: tuple[PlannedRounds, ...] = ()
    plan_words: tuple[str, ...] = ()
    way_back: bool = False

    @property
    def stopped(self) -> tuple[UnitSheet, ...]:
        """Return the units with a STOP page."""
        return tuple(unit for unit in self.units if unit.refused)

    @property
    def turned(self) -> tuple[UnitSheet, ...]:
        """Return the units that are turned, in the order of work."""
        rank = {tag: place for place, tag in enumerate(self.turning_order)}
        jobs = [unit for unit in self.units if unit.job is not None]
        return tuple(sorted(jobs, key=lambda unit: (rank.get(unit.tag, len(rank)), unit.order)))

    @property
    def rounds(self) -> int:
        """Return the number of rounds."""
        jobs = [unit.job for unit in self.units if unit.job is not None]
        return max((turn.number for job in jobs for turn in job.rounds), default=0)

    @property
    def counts(self) -> dict[Verdict, int]:
        """Return the number of units under each verdict, noughts too."""
        return {one: sum(unit.verdict is one for unit in self.units) for one in Verdict}
