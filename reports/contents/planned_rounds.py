"""The rounds of a chosen plan, unit by unit: turns, readings expected, readings that stop work.

Loads [N], pointers [m]. A plan names units as people do; the unit of each scale comes with them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from reports.contents.common import FLATS_IN_A_TURN, Direction, Turns
from reports.contents.unit_faces import UnitFace, face_of
from supports.rules.reset_planning.content import (
    HoldSaid,
    NozzleUseSaid,
    PlanAlternative,
    PlanContent,
    ReadingSaid,
    RoundSaid,
    StepSaid,
    UnitTurn,
    UseSaid,
)
from supports.rules.reset_planning.round_windows import (
    TURN,
    Slack,
    Window,
    by_hand,
    step_in,
    window_after,
    window_at_step,
    window_unturned,
)
from supports.rules.work_plan import as_found_window

NOT_SOUND = "NOT TO BE WORKED BY: a limit is passed or not known"
PUT_IN, TAKE_OUT = "put in prop or stop", "take out prop or stop"
"""Kinds of steps, in the words of the plan."""


SCREENING = (
    "SCREENING: readings and uses of limits come from the built-in calculation of the line: beam "
    "theory, elastic, rigid steel, no friction at rests and guides. It sorts and orders the work. "
    "The engineer in charge accepts the plan in writing, or replaces it with a full analysis, "
    "before a bolt is turned. A reading outside what this paper allows stops the work."
)


@dataclass(frozen=True, slots=True)
class Cell:
    """One unit after one round.

    Parameters
    ----------
    expected, low, high, pointer
        What it shows when the round is done on every unit, and what stops the work.
    at_step
        Where it is turned: reading and window right after its step; the rest of the round moves a
        variable's on.
    step
        Number of the step in which it is turned; None where it is read only.
    turns, direction
        What it gets in that step.
    then
        Where the crew goes after the step, in words.
    """

    expected: float
    low: float
    high: float
    pointer: float | None
    step: int | None = None
    turns: Turns | None = None
    direction: Direction | None = None
    then: str = ""
    at_step: Window | None = None

    @property
    def told(self) -> str:
        """Return turns with their sign, as on a narrow sheet; empty where nothing is turned."""
        if self.turns is None:
            return ""
        return f"{'+' if self.direction is Direction.INCREASE else '−'}{self.turns.short}"


@dataclass(frozen=True, slots=True)
class UnitRow:
    """One unit over all rounds; `window` is that of the as-left reading [N], None if not turned."""

    face: UnitFace
    start: Cell | None
    cells: tuple[Cell | None, ...]
    turned: UnitTurn | None = None

    @property
    def window(self) -> tuple[float, float] | None:
        """Return the as-left window [N]."""
        return None if self.turned is None else (self.turned.window_low, self.turned.window_high)

    @property
    def sum(self) -> str:
        """Return all turns with their sign."""
        if self.turned is None:
            return ""
        return f"{'+' if self.turned.increases else '−'}{turns_of(self.turned).short}"


@dataclass(frozen=True, slots=True)
class WrittenStep:
    """One step as it is read out: what is done, where, and what is most used afterwards."""

    number: int
    round: int
    kind: str
    place: str
    words: str
    worst: UseSaid
    cell: Cell | None = None
    face: UnitFace | None = None

    @property
    def is_turn(self) -> bool:
        """Return whether a unit is turned."""
        return self.kind == TURN


@dataclass(frozen=True, slots=True)
class PlannedRounds:
    """A plan's order of work for one line.

    Parameters
    ----------
    units
        Every unit with a scale in order along the line, those that are only read too.
    nozzles
        Use of the limits of each nozzle [1]: before any turn, and after each round.
    stamp
        Why nobody works by these rounds; empty where somebody may.
    props
        Props of the plan that are in when the paper is made, by name: number, and who put it in.
    """

    line: str
    work_state: str
    rounds: tuple[int, ...]
    units: tuple[UnitRow, ...]
    steps: tuple[WrittenStep, ...]
    holds: tuple[HoldSaid, ...]
    nozzles: tuple[tuple[str, tuple[NozzleUseSaid | None, ...]], ...]
    worst: tuple[UseSaid, ...]
    safety: str = ""
    stamp: str = ""
    props: Mapping[str, tuple[str, str]] = field(default_factory=dict)

    @property
    def turned(self) -> tuple[UnitRow, ...]:
        """Return the units that are turned."""
        return tuple(row for row in self.units if row.turned is not None)

    def row_of(self, unit_id: int) -> UnitRow | None:
        """Return the row of a unit; None where the plan knows no reading of it."""
        return next((row for row in self.units if row.face.unit_id == unit_id), None)


def may_be_worked_by(plan: PlanAlternative, content: PlanContent) -> bool:
    """Return whether a plan keeps every limit, on the way too, with nothing unknown about it."""
    return plan.can_be_done and plan.safe and not content.missing


def stamp_of(plan: PlanAlternative, content: PlanContent, void: Sequence[str] = ()) -> str:
    """Return why nobody works by a plan, for the head of its pages; empty where somebody may.

    Parameters
    ----------
    void
        Why a plan on record holds no more.
    """
    if void:
        return f"VOID, NOT TO BE WORKED BY: {void[0]}"
    return "" if may_be_worked_by(plan, content) else NOT_SOUND


def turns_of(unit: UnitTurn | StepSaid) -> Turns:
    """Return turns and flats as they are printed."""
    return Turns(unit.turns, unit.flats)


def planned_rounds(
    plan: PlanAlternative,
    content: PlanContent,
    faces: Mapping[int, UnitFace],
    slack: Slack,
) -> PlannedRounds:
    """Return the rounds of one plan with the readings that stop work."""
    named = {reading.name: face_of(faces, reading.unit_id, reading.name)
             for reading in _all_readings(plan)}  # fmt: skip
    steps = tuple(_steps(plan, named))
    then = {step.number: _next_words(steps, place) for place, step in enumerate(steps)}
    rows = tuple(_row(plan, face, then, slack) for face in named.values())
    cells = {
        cell.step: cell for row in rows for cell in row.cells if cell is not None and cell.step
    }
    return PlannedRounds(
        line=content.line,
        work_state=str(content.work_state),
        rounds=tuple(one.number for one in plan.rounds),
        units=rows,
        steps=tuple(_with_cell(step, cells, named) for step in steps),
        holds=plan.holds,
        nozzles=tuple(_nozzles(plan)),
        worst=tuple(one.worst for one in plan.rounds),
        safety=plan.safety,
        stamp=stamp_of(plan, content),
    )


def _all_readings(plan: PlanAlternative) -> Iterator[ReadingSaid]:
    yield from plan.start_readings
    for one in plan.rounds:
        yield from one.readings


def _row(plan: PlanAlternative, face: UnitFace, then: Mapping[int, str], slack: Slack) -> UnitRow:
    given = (unit for unit in plan.units if unit.turns or unit.flats)
    turned = next((unit for unit in given if unit.unit_id == face.unit_id), None)
    start = next((one for one in plan.start_readings if one.unit_id == face.unit_id), None)
    cells = (_cell(one, face, turned, then, slack) for one in plan.rounds)
    return UnitRow(face, _start(start, face, turned, slack), tuple(cells), turned)


def _start(
    reading: ReadingSaid | None, face: UnitFace, turned: UnitTurn | None, slack: Slack
) -> Cell | None:
    """Return what a unit shows before any turn; one that is turned is found in its own window."""
    if reading is None or turned is None:
        return _read_only(reading, face, slack)
    low, high = as_found_window(reading.scale, turned.window_low, turned.window_high)
    return Cell(reading.scale, low, high, reading.pointer)


def _cell(
    one: RoundSaid, face: UnitFace, turned: UnitTurn | None, then: Mapping[int, str], slack: Slack
) -> Cell | None:
    reading = next((r for r in one.readings if r.unit_id == face.unit_id), None)
    step = step_in(one, face.name)
    if reading is None or step is None or turned is None:
        return _read_only(reading, face, slack)
    hand = by_hand(turned, step, reading, slack)
    after = window_after(reading, hand)
    way = Direction.INCREASE if step.increases else Direction.DECREASE
    return Cell(
        after.scale, after.low, after.high, reading.pointer, step.number, turns_of(step), way,
        then[step.number], window_at_step(step, reading, hand),
    )  # fmt: skip


def _read_only(reading: ReadingSaid | None, face: UnitFace, slack: Slack) -> Cell | None:
    if reading is None:
        return None
    window = window_unturned(reading, slack, variable=face.variable)
    return Cell(window.scale, window.low, window.high, reading.pointer)


def _steps(plan: PlanAlternative, named: Mapping[str, UnitFace]) -> Iterator[WrittenStep]:
    levels = {hold.name: hold for hold in plan.holds}
    for one in plan.rounds:
        for step in one.steps:
            place = named[step.name].tag if step.name in named else step.name
            if step.kind != TURN and step.name in levels:
                place = levels[step.name].called
            words = _step_words(step)
            yield WrittenStep(step.number, one.number, step.kind, place, words, step.worst)


def _step_words(step: StepSaid) -> str:
    if step.kind == TURN:
        way = Direction.INCREASE if step.increases else Direction.DECREASE
        return f"{turns_of(step)} to {way}"
    return "put in" if step.kind == PUT_IN else "take out"


def _next_words(steps: tuple[WrittenStep, ...], place: int) -> str:
    """Return where the crew goes next; a round ends with the reading of every scale."""
    now = steps[place]
    if place + 1 == len(steps):
        return "Last step. Read every scale"
    after = steps[place + 1]
    if after.kind == TURN and after.round != now.round:
        return f"Round {now.round} ends: read every scale, then step {after.number}, {after.place}"
    if after.kind == TURN:
        return f"Then step {after.number}, {after.place}"
    return f"Then HOLD, step {after.number}: {after.words} {after.place}"


def _with_cell(
    step: WrittenStep, cells: Mapping[int, Cell], named: Mapping[str, UnitFace]
) -> WrittenStep:
    if not step.is_turn:
        return step
    face = next((face for face in named.values() if face.tag == step.place), None)
    return WrittenStep(
        step.number, step.round, step.kind, step.place, step.words, step.worst,
        cells.get(step.number), face,
    )  # fmt: skip


def _nozzles(
    plan: PlanAlternative,
) -> Iterator[tuple[str, tuple[NozzleUseSaid | None, ...]]]:
    states = [plan.start_nozzles, *(one.nozzles for one in plan.rounds)]
    for name in _names(states):
        yield name, tuple(next((u for u in state if u.nozzle == name), None) for state in states)


def _names(states: Iterable[tuple[NozzleUseSaid, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(use.nozzle for state in states for use in state))


def flats_of(turns: Turns) -> int:
    """Return all as flats."""
    return turns.whole * FLATS_IN_A_TURN + turns.flats
