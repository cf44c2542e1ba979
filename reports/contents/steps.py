"""The steps on a unit's page, from reading the nameplate aloud to hanging the tag."""

from __future__ import annotations

from dataclasses import dataclass

from reports.contents.common import FLATS_IN_A_TURN, Direction, Turns
from reports.contents.resetting_pack import TurnedPart, TurnJob, UnitSheet, by_plan
from reports.contents.written import load, small_load, span


@dataclass(frozen=True, slots=True)
class Step:
    """One step: words, what is written down, and the hold that follows it.

    Parameters
    ----------
    entries
        Labels of the blanks to fill.
    hold
        Words of a hold point; empty where none.
    """

    number: str
    words: str
    entries: tuple[str, ...] = ()
    hold: str = ""


def steps(unit: UnitSheet, job: TurnJob) -> tuple[Step, ...]:
    """Return the steps for one unit in order."""
    return (*_before(unit, job), *_rounds(unit, job), *_after(unit, job))


def trial_turn(job: TurnJob) -> Turns:
    """Return the first small turn: half a turn, or less where round 1 is less."""
    first = job.rounds[0].turns if job.rounds else job.turns
    flats = min(FLATS_IN_A_TURN // 2, first.whole * FLATS_IN_A_TURN + first.flats)
    return Turns(0, flats)


def as_found_window(unit: UnitSheet) -> tuple[float, float] | None:
    """Return the readings [N] between which the as-found load agrees with the pack.

    The window has the width of the as-left window, around the present load.
    """
    scale = unit.scale
    if scale.present is None or scale.window_low is None or scale.window_high is None:
        return None
    half = (scale.window_high - scale.window_low) / 2.0
    return scale.present - half, scale.present + half


def _before(unit: UnitSheet, job: TurnJob) -> tuple[Step, ...]:
    symbol = unit.scale.load_unit
    length = unit.gauge.length_unit if unit.gauge else "mm"
    return (
        Step("1", f"Read tag and serial aloud from the nameplate: {unit.tag}, {unit.serial}."),
        Step(
            "2",
            "As-found, before anything is touched.",
            (f"scale {symbol}", f"pointer {length}", f"thread {length}", "stop in/out", "photo"),
            _as_found_hold(unit),
        ),
        Step("3", f"Paint a line across {_bolts(job)} and frame. Clean and oil the thread."),
        _trial(unit, job),
    )


def _bolts(job: TurnJob) -> str:
    if job.part is TurnedPart.TAKE_UP:
        return "take-up"
    return "both bolts" if job.bolts == 2 else "bolt"


def _as_found_hold(unit: UnitSheet) -> str:
    window = as_found_window(unit)
    if window is None:
        return "HOLD 1: engineer compares as-found with this page before step 3."
    return f"HOLD 1: outside {span(*window, unit.scale.load_unit)}, call the engineer."


def _trial(unit: UnitSheet, job: TurnJob) -> Step:
    trial = trial_turn(job)
    way = "up" if job.direction is Direction.INCREASE else "down"
    size = small_load(trial.total * job.load_per_turn, unit.scale.load_unit)
    return Step(
        "4",
        f"Trial: {trial} as marked. Scale must go {way} by about {size}. "
        "Wrong way or no move: STOP. The trial counts in round 1.",
    )


def _rounds(unit: UnitSheet, job: TurnJob) -> tuple[Step, ...]:
    return tuple(_round(unit, job, place) for place in range(len(job.rounds)))


def _round(unit: UnitSheet, job: TurnJob, place: int) -> Step:
    turn = job.rounds[place]
    symbol = unit.scale.load_unit
    planned = turn.step is not None
    step = f", step {turn.step}" if planned else ""
    turns = turn.turns.short if planned and place else str(turn.turns)
    words = (
        f"Round {turn.number}{step}: {turns} → {load(turn.expected, symbol)}. "
        f"STOP outside {span(turn.low, turn.high, symbol)}."
    )
    if turn.then:
        words += f" {turn.then}."
    held = place == 0 and unit.near_nozzle
    following = job.rounds[1].number if len(job.rounds) > 1 else None
    what = "what follows" if following is None else f"round {following}"
    hold = f"HOLD 2: engineer or named deputy releases {what}." if held else ""
    return Step("5" if place == 0 else "6", words, (f"scale {symbol}",), hold)


def _when(job: TurnJob) -> str:
    """Return when a variable of a planned line is read at last: others still move it."""
    return " when the line is done" if by_plan(job) and job.part is TurnedPart.TAKE_UP else ""


def _after(unit: UnitSheet, job: TurnJob) -> tuple[Step, ...]:
    symbol = unit.scale.load_unit
    length = unit.gauge.length_unit if unit.gauge else "mm"
    take_up = job.take_up_words or "No further take-up."
    window = span(unit.scale.window_low, unit.scale.window_high, symbol)
    number = unit.travel_stop_number or "____"
    return (
        Step("7", f"{take_up} Thread shows in the sight hole. Lock nut tight."),
        Step(
            "8",
            f"As-left{_when(job)}, window {window}; two readers.",
            (f"scale {symbol}", f"pointer {length}", "read by", f"2nd scale {symbol}", "2nd by"),
            "HOLD 3: both in the window, or out-of-window page.",
        ),
        Step(
            "9",
            f"Travel stop {number}: slides out by hand? Tight: STOP, call the engineer. "
            "Stop into its holder.",
            hold="HOLD 4: operations present before the stop is drawn.",
        ),
        Step("10", "Tag hung beside the scale, not over it. Tools counted. Place clean."),
    )
