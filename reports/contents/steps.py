"""The steps on a unit's page, from reading the nameplate aloud to hanging the tag."""

from __future__ import annotations

from dataclasses import dataclass

from reports.contents.common import FLATS_IN_A_TURN, Direction, Turns
from reports.contents.resetting_pack import TurnedPart, TurnJob, UnitSheet, by_plan
from reports.contents.written import load, small_load, span
from reports.languages import IN_ENGLISH, Texts
from supports.rules.work_plan import as_found_window


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


def steps(unit: UnitSheet, job: TurnJob, say: Texts = IN_ENGLISH) -> tuple[Step, ...]:
    """Return the steps for one unit in order."""
    return (*_before(unit, job, say), *_rounds(unit, job, say), *_after(unit, job, say))


def turns_words(turns: Turns, say: Texts) -> str:
    """Return turns and flats in the paper's language: '8 turns 2 flats'."""
    parts = []
    if turns.whole or not turns.flats:
        one = turns.whole == 1
        parts.append(say("{count} turn" if one else "{count} turns", count=turns.whole))
    if turns.flats:
        one = turns.flats == 1
        parts.append(say("{count} flat" if one else "{count} flats", count=turns.flats))
    return " ".join(parts)


def trial_turn(job: TurnJob) -> Turns:
    """Return the first small turn: half a turn, or less where round 1 is less."""
    first = job.rounds[0].turns if job.rounds else job.turns
    flats = min(FLATS_IN_A_TURN // 2, first.whole * FLATS_IN_A_TURN + first.flats)
    return Turns(0, flats)


def found_window(unit: UnitSheet) -> tuple[float, float] | None:
    """Return the readings [N] between which a unit is found as planned; None if not known."""
    scale = unit.scale
    if scale.present is None or scale.window_low is None or scale.window_high is None:
        return None
    return as_found_window(scale.present, scale.window_low, scale.window_high)


def _before(unit: UnitSheet, job: TurnJob, say: Texts) -> tuple[Step, ...]:
    symbol = unit.scale.load_unit
    length = unit.gauge.length_unit if unit.gauge else "mm"
    aloud = say("Read tag and serial aloud from the nameplate: {tag}, {serial}.",
                tag=unit.tag, serial=unit.serial)  # fmt: skip
    entries = (
        say("scale {unit}", unit=symbol), say("pointer {unit}", unit=length),
        say("thread {unit}", unit=length), say("stop in/out"), say("photo"),
    )  # fmt: skip
    found = say("As-found, before anything is touched.")
    return (
        Step("1", aloud),
        Step("2", found, entries, _as_found_hold(unit, say)),
        Step("3", _paint(job, say)),
        _trial(unit, job, say),
    )


def _paint(job: TurnJob, say: Texts) -> str:
    if job.part is TurnedPart.TAKE_UP:
        return say("Paint a line across take-up and frame. Clean and oil the thread.")
    if job.bolts == 2:
        return say("Paint a line across both bolts and frame. Clean and oil the thread.")
    return say("Paint a line across bolt and frame. Clean and oil the thread.")


def _as_found_hold(unit: UnitSheet, say: Texts) -> str:
    window = found_window(unit)
    if window is None:
        return say("HOLD 1: engineer compares as-found with this page before step 3.")
    return say("HOLD 1: outside {window}, call the engineer.",
               window=span(*window, unit.scale.load_unit))  # fmt: skip


def _trial(unit: UnitSheet, job: TurnJob, say: Texts) -> Step:
    trial = trial_turn(job)
    size = small_load(trial.total * job.load_per_turn, unit.scale.load_unit)
    words = say(
        "Trial: {turns} as marked. Scale must go up by about {size}. "
        "Wrong way or no move: STOP. The trial counts in round 1."
        if job.direction is Direction.INCREASE
        else "Trial: {turns} as marked. Scale must go down by about {size}. "
        "Wrong way or no move: STOP. The trial counts in round 1.",
        turns=turns_words(trial, say), size=size,
    )  # fmt: skip
    return Step("4", words)


def _rounds(unit: UnitSheet, job: TurnJob, say: Texts) -> tuple[Step, ...]:
    rounds = tuple(_round(unit, job, place, say) for place in range(len(job.rounds)))
    return rounds if len(job.rounds) > 1 else (*rounds, Step("6", say("No further round.")))


def _round(unit: UnitSheet, job: TurnJob, place: int, say: Texts) -> Step:
    turn = job.rounds[place]
    symbol = unit.scale.load_unit
    planned = turn.step is not None
    step = say(", step {number}", number=turn.step) if planned else ""
    turns = turn.turns.short if planned and place else turns_words(turn.turns, say)
    words = say(
        "Round {number}{step}: {turns} → {load}. STOP outside {window}.",
        number=turn.number, step=step, turns=turns, load=load(turn.expected, symbol),
        window=span(turn.low, turn.high, symbol),
    )  # fmt: skip
    if turn.then:
        words += f" {say.sentence(turn.then)}."
    hold = _release(job, say) if place == 0 and unit.near_nozzle else ""
    entries = (say("scale {unit}", unit=symbol),)
    return Step("5" if place == 0 else "6", words, entries, hold)


def _release(job: TurnJob, say: Texts) -> str:
    if len(job.rounds) < 2:
        return say("HOLD 2: engineer or named deputy releases what follows.")
    number = job.rounds[1].number
    return say("HOLD 2: engineer or named deputy releases round {number}.", number=number)


def _left_words(job: TurnJob, window: str, say: Texts) -> str:
    """Return when a unit is read at last: a variable of a planned line still moves with others."""
    if by_plan(job) and job.part is TurnedPart.TAKE_UP:
        return say("As-left when the line is done, window {window}; two readers.", window=window)
    return say("As-left, window {window}; two readers.", window=window)


def _after(unit: UnitSheet, job: TurnJob, say: Texts) -> tuple[Step, ...]:
    symbol = unit.scale.load_unit
    length = unit.gauge.length_unit if unit.gauge else "mm"
    take_up = say.sentence(job.take_up_words) or say("No further take-up.")
    window = span(unit.scale.window_low, unit.scale.window_high, symbol)
    number = unit.travel_stop_number or "____"
    entries = (
        say("scale {unit}", unit=symbol), say("pointer {unit}", unit=length), say("read by"),
        say("2nd scale {unit}", unit=symbol), say("2nd by"),
    )  # fmt: skip
    both = say("HOLD 3: both in the window, or out-of-window page.")
    stop = say(
        "Travel stop {number}: slides out by hand? Tight: STOP, call the engineer. "
        "Stop into its holder.",
        number=number,
    )
    present = say("HOLD 4: operations present before the stop is drawn.")
    hung = say("Tag hung beside the scale, not over it. Tools counted. Place clean.")
    return (
        Step("7", say("{take_up} Thread shows in the sight hole. Lock nut tight.",
                      take_up=take_up)),
        Step("8", _left_words(job, window, say), entries, both),
        Step("9", stop, hold=present),
        Step("10", hung),
    )  # fmt: skip
