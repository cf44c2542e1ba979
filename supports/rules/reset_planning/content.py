"""What a re-set plan says, frozen with its figures: loads [N], movements [m], shares [1]."""

from __future__ import annotations

from dataclasses import dataclass

from supports.errors import NotFound
from supports.rules.reset_planning.wish import PlanAim, PlanKind
from supports.sentences import Sentence
from supports.vocabulary import PlantState

FIRST_CHOICE = "fewest units"


@dataclass(frozen=True, slots=True)
class UseSaid:
    """The limit used most, in words, and its share [1]."""

    words: str
    share: float
    passes: bool


@dataclass(frozen=True, slots=True)
class UnitTurn:
    """What one unit gets.

    Parameters
    ----------
    turns, flats
        Turns of each bolt or of the rod's take-up; `increases` says which way the load goes.
    scale_before, scale_after
        What the scale shows in the state of the work, weight on, before (props and travel stops
        in as listed) and after [N].
    window_low, window_high
        The as-left window in that state [N].
    range_use
        Share of its side of the adjusting range, counted from nameplate [1].
    """

    name: str
    tag: str
    position: str
    unit_id: int
    point_id: int
    variable: bool
    turns: int
    flats: int
    increases: bool
    setting_before: float
    setting_after: float
    scale_before: float
    scale_after: float
    window_low: float
    window_high: float
    required: float | None
    range_use: float | None


@dataclass(frozen=True, slots=True)
class StepSaid:
    """One step in words: a turn, or a prop or travel stop put in or taken out.

    Parameters
    ----------
    worst
        The limit used most after the step and on the way into it.
    scale, low, high
        What the scale of the unit turned shows right after the step [N], with its friction
        interval; the rest of the round may move a variable's on. None for props and stops.
    """

    number: int
    kind: str
    name: str
    turns: int
    flats: int
    increases: bool
    worst: UseSaid
    scale: float | None = None
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class ReadingSaid:
    """What a unit should show after a round: scale [N] with its friction interval, pointer [m].

    `moved` is the movement since before the weight was added; `pointer` is None where no mark or
    reading says from where to count.
    """

    name: str
    unit_id: int
    scale: float
    low: float
    high: float
    moved: float
    pointer: float | None
    turned: bool


@dataclass(frozen=True, slots=True)
class NozzleUseSaid:
    """Largest use of the limits of one nozzle [1]."""

    nozzle: str
    use: float
    what: str


@dataclass(frozen=True, slots=True)
class RoundSaid:
    """One round: no unit is visited twice in it; afterwards every support is read."""

    number: int
    steps: tuple[StepSaid, ...]
    readings: tuple[ReadingSaid, ...]
    nozzles: tuple[NozzleUseSaid, ...]
    worst: UseSaid


@dataclass(frozen=True, slots=True)
class HoldSaid:
    """A prop or travel stop that is in while the line is re-set: where, at which level [m]."""

    name: str
    what: str
    level: float
    force: float
    before_step: int
    out_after_step: int

    @property
    def called(self) -> str:
        """Return it as people call it: a prop's name says it already, a stop is its unit's."""
        return self.name if self.what in self.name else f"{self.what} of {self.name}"


@dataclass(frozen=True, slots=True)
class OrderJudged:
    """Another order of the same turns, and where it breaks a limit or why it would do."""

    which: str
    names: tuple[str, ...]
    passes: bool
    worst: UseSaid
    at: str


@dataclass(frozen=True, slots=True)
class GoalReached:
    """One goal in the order taken: value, the bound that none can beat, whether proved."""

    goal: str
    value: float
    bound: float
    proved: bool


@dataclass(frozen=True, slots=True)
class CostSaid:
    """Hours and risk of a plan by the site's assumptions."""

    units: int
    visits: int
    turns: float
    crew_hours: float
    man_hours: float
    scaffold_hours: float
    close_steps: int

    @property
    def total_hours(self) -> float:
        """Return work at the units and on scaffolds [h]."""
        return self.man_hours + self.scaffold_hours


@dataclass(frozen=True, slots=True)
class PlanAlternative:
    """One plan among others.

    Parameters
    ----------
    can_be_done
        Whether it keeps every limit at its end; `verdict` says it in a sentence.
    start, way, end
        The limit used most before the first turn without props, on the way, and at the end.
    start_readings
        What every scale shows with the weight on, props and travel stops in as listed, and nothing
        turned: that is when as-found is read.
    safe
        Whether its order keeps every limit on the way, props in as listed; `safety` in words.
    band
        The limit used most at the end if all of every friction band added up, whatever part of it
        the plan was asked to bear.
    solved
        How the full solve bore the steps out.
    """

    name: str
    can_be_done: bool
    verdict: str
    units: tuple[UnitTurn, ...] = ()
    goals: tuple[GoalReached, ...] = ()
    start: UseSaid | None = None
    way: UseSaid | None = None
    end: UseSaid | None = None
    band: UseSaid | None = None
    safe: bool = False
    safety: str = ""
    start_nozzles: tuple[NozzleUseSaid, ...] = ()
    start_readings: tuple[ReadingSaid, ...] = ()
    rounds: tuple[RoundSaid, ...] = ()
    holds: tuple[HoldSaid, ...] = ()
    orders: tuple[OrderJudged, ...] = ()
    clashes: tuple[str, ...] = ()
    relief: tuple[str, ...] = ()
    cost: CostSaid | None = None
    solved: str = ""

    @property
    def steps(self) -> tuple[StepSaid, ...]:
        """Return all steps in order."""
        return tuple(step for one in self.rounds for step in one.steps)


@dataclass(frozen=True, slots=True)
class NotTurned:
    """A unit that nobody turns under this plan, and why."""

    name: str
    why: str


@dataclass(frozen=True, slots=True)
class Shifted:
    """How far a unit was found from what the earlier plan took for granted [N]."""

    name: str
    by: float


@dataclass(frozen=True, slots=True)
class PlanContent:
    """A plan as it is kept: all that it depends on is named or held in it.

    Parameters
    ----------
    assessment, calculation
        Fingerprint of the assessment that it stands on, and the calculation judged by.
    shifted, same_end
        Only for a plan from as-found readings: what was found elsewhere, and whether the units end
        at the same set loads as before.
    """

    change: str
    line: str
    kind: PlanKind
    aim: PlanAim
    work_state: PlantState
    steps_per_turn: int
    assessment: str
    friction_share: float
    alternatives: tuple[PlanAlternative, ...]
    not_turned: tuple[NotTurned, ...] = ()
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    shifted: tuple[Shifted, ...] = ()
    same_end: bool | None = None
    calculation: str = ""

    def named(self, name: str) -> PlanAlternative:
        """Return one of the plans laid side by side.

        Raises
        ------
        NotFound
            There is none of that name.
        """
        found = next((one for one in self.alternatives if one.name == name), None)
        if found is None:
            known = ", ".join(one.name for one in self.alternatives)
            raise NotFound(
                Sentence("this plan has no alternative '{name}'", name=name), expected=known
            )
        return found

    @property
    def sentence(self) -> str:
        """Return the verdict on the whole; what is unknown outweighs what was found."""
        if self.missing:
            return f"cannot judge (missing: {'; '.join(self.missing)}). What is known: {self._said}"
        return self._said

    @property
    def _said(self) -> str:
        return self.alternatives[0].verdict if self.alternatives else "nothing is planned"
