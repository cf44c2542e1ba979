"""Sentences of the re-setting pack that hold numbers, in the paper's language."""

from __future__ import annotations

from reports.contents.common import FLATS_IN_A_TURN
from reports.contents.resetting_pack import TurnedPart, TurnJob, UnitSheet
from reports.contents.steps import turns_words
from reports.contents.written import amount, energy, small_load
from reports.languages import Texts
from reports.pdf.scales import known
from supports.units import Kind


def energy_words(joules: float | None, say: Texts) -> str:
    """Return stored energy [J] with what it is like, in the paper's language."""
    if joules is None:
        return say("not known – treat as dangerous")
    told, like = energy(joules).split(" – like ")
    return say(
        "{energy} – like {mass} falling 1\u00a0m", energy=told, mass=like.split(" falling")[0]
    )


def part_words(job: TurnJob, say: Texts) -> str:
    """Return what is turned, in words for the bar above the turns."""
    if job.part is TurnedPart.TAKE_UP:
        return say("rod take-up")
    return say("load adjustment bolts" if job.bolts > 1 else "load adjustment bolt")


def job_facts(job: TurnJob, symbol: str, say: Texts) -> list[str]:
    """Return load per turn, travel stop, wrench and thread."""
    turn = small_load(job.load_per_turn, symbol)
    flat = small_load(job.load_per_turn / FLATS_IN_A_TURN, symbol)
    facts = [say("one turn {turn}, one flat {flat}", turn=turn, flat=flat), job.locked_words]
    if job.wrench:
        facts.append(say("wrench {size}", size=job.wrench))
    if job.thread_needed is not None:
        needed = amount(job.thread_needed, "mm", Kind.LENGTH)
        free = known(amount(job.thread_free, "mm", Kind.LENGTH), say)
        facts.append(say("thread needed {needed}, free {free}", needed=needed, free=free))
    return facts


def alternate_words(unit: UnitSheet, job: TurnJob, say: Texts) -> list[str]:
    """Return what a unit with two bolts, on a trapeze, or with a rod take-up asks for besides."""
    words = []
    if job.bolts > 1:
        words.append(
            say(
                "{count} BOLTS: turn them alternately, never more than half a turn apart. Both "
                "scales within one graduation, bar level. Turns are per bolt.",
                count=job.bolts,
            )
        )
    if unit.partners:
        words.append(
            say(
                "TRAPEZE: always together with {partners}. Same round on both before the next "
                "round on either. Watch that the beam stays level.",
                partners=", ".join(unit.partners),
            )
        )
    if job.part is TurnedPart.TAKE_UP:
        words.append(
            say("VARIABLE SPRING: turn the rod take-up only. Take the reading after each turn.")
        )
    return words


def told_turns(job: TurnJob, say: Texts) -> str:
    """Return turns and direction as the list of units tells them."""
    return f"{turns_words(job.turns, say)}, {say.word(str(job.direction))}"


def missing_words(what: str, say: Texts) -> str:
    """Return one missing thing as a reason."""
    return say("Missing: {what}", what=say.sentence(what))


def revised_words(number: str, revision: str, say: Texts) -> str:
    """Return a number with its revision."""
    return say("{number}, revision {revision}", number=number, revision=revision)


def stop_pages_words(number: int, say: Texts) -> str:
    """Return how many units have a STOP page; '' for none."""
    if not number:
        return ""
    if number == 1:
        return say("1 may not be turned: a STOP page")
    return say("{count} may not be turned: a STOP page each", count=number)
