"""Why a unit must not be turned, and who settles it: what its STOP page says."""

from __future__ import annotations

from dataclasses import dataclass, replace

from reports.contents.common import Missing
from reports.contents.resetting_pack import UnitSheet
from supports.vocabulary import Verdict

NOT_SAID = (Missing("Turns, direction or rounds are not in the register", "engineer in charge"),)
"""What a page says of a unit that must not be turned and for which nobody named what is missing."""


@dataclass(frozen=True, slots=True)
class StopPage:
    """The words of one STOP page.

    Parameters
    ----------
    lead
        Why nobody turns this unit, for somebody who stands before it.
    title
        Heading of the table.
    by
        Who settles it, where one settles all of it.
    rows
        What stands in the way, and who settles it.
    """

    lead: str
    title: str
    by: str = ""
    rows: tuple[Missing, ...] = ()


_NO_LOAD = StopPage(
    "The load required cannot be set at this unit. Turning it towards that load takes it to an end "
    "and leaves the line neither as it was nor as it should be.",
    "Why it cannot be set",
    "stress engineer: another unit, or another share of the loads",
)
_TOO_WEAK = StopPage(
    "Rod, clamp, weld or steel of this support would carry more than it is rated for. Nothing is "
    "turned here before what is named below is put right.",
    "What stands in the way",
    "responsible engineer: stronger hardware, built in and accepted",
)
_NOT_KNOWN = StopPage(
    "Nobody knows enough about this unit to say how far, or which way, to turn it. No turns are "
    "printed until what is missing stands in the register and a new revision of this pack is "
    "issued.",
    "What is missing, and who must supply it",
)


def stop_page(unit: UnitSheet) -> StopPage:
    """Return what the STOP page of a unit says."""
    known = {Verdict.CANNOT_BE_SET: _NO_LOAD, Verdict.HARDWARE_FAILS: _TOO_WEAK}
    page = known.get(unit.verdict)
    if page is None:
        return replace(_NOT_KNOWN, rows=unit.missing or NOT_SAID)
    reasons = tuple(Missing(_held(reason), page.by) for reason in unit.reasons)
    rows = (*reasons, *unit.missing) or (Missing(f"Verdict: {unit.verdict}", page.by),)
    return replace(page, rows=rows)


def _held(words: str) -> str:
    return words.replace(" %", "\u00a0%")


def further_reasons(unit: UnitSheet) -> tuple[str, ...]:
    """Return the reasons that the table of the STOP page does not hold already."""
    held = {Verdict.CANNOT_BE_SET, Verdict.HARDWARE_FAILS}
    return () if unit.verdict in held else unit.reasons
