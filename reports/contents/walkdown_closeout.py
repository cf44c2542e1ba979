"""What a campaign's close-out report says: what was seen, how it stands, findings to their end."""

from __future__ import annotations

from dataclasses import dataclass

from reports.contents.common import PaperHead
from reports.contents.written import NOT_KNOWN, amount, load
from supports.rules.walkdown.expectation import Expected
from supports.rules.walkdown.facts import ItemFacts, load_trends, pointer_trends
from supports.rules.walkdown.judgement import JudgedItem
from supports.rules.walkdown.limits import WalkLimits
from supports.rules.walkdown.record import CampaignRecord
from supports.rules.walkdown.trend import Point, Trend
from supports.units import Kind, from_si
from supports.vocabulary import PlantState


@dataclass(frozen=True, slots=True)
class WalkdownCloseout:
    """The whole report: the record of a campaign under its head."""

    head: PaperHead
    record: CampaignRecord


def drifting(report: WalkdownCloseout) -> list[JudgedItem]:
    """Return the rows whose drift broke the rule."""
    return [
        one
        for one in report.record.rows
        if any(answer.rule == "drift-between-walks" for answer in one.failures)
    ]


def found_words(facts: ItemFacts) -> str:
    """Return what was found in one line."""
    found = facts.found
    if found is None or not found.is_seen:
        why = found.why_not if found else ""
        return f"not seen, because: {why}" if why else "NOT SEEN, NO REASON"
    parts = []
    if found.pointer is not None:
        parts.append(amount(found.pointer, pointer_unit(facts), Kind.LENGTH))
    if found.load is not None:
        parts.append(load(found.load, facts.plate.scale_unit or "kN"))
    if found.stop is not None:
        parts.append(f"stop {found.stop}")
    if found.grade is not None:
        parts.append(str(found.grade))
    return ", ".join(parts) or "seen, no value"


def expected_words(facts: ItemFacts, wanted: Expected | None) -> str:
    """Return what was expected in the state found."""
    if wanted is None or not facts.is_spring:
        return ""
    parts = []
    if wanted.pointer is not None:
        parts.append(amount(wanted.pointer, pointer_unit(facts), Kind.LENGTH))
    if wanted.load is not None:
        parts.append(load(wanted.load, facts.plate.scale_unit or "kN"))
    return ", ".join(parts) or f"cannot tell (missing: {', '.join(wanted.missing) or NOT_KNOWN})"


def pointer_unit(facts: ItemFacts) -> str:
    """Return the unit in which lengths of a row are printed."""
    return facts.plate.pointer_unit if facts.plate.pointer_unit in {"mm", "in", "cm"} else "mm"


@dataclass(frozen=True, slots=True)
class Drawn:
    """Points and lines of one quantity, in the unit of its scale."""

    what: str
    unit: str
    points: tuple[Point, ...]
    lines: tuple[Trend, ...]


def drawn_trends(facts: ItemFacts, limits: WalkLimits) -> tuple[Drawn, ...]:
    """Return what is drawn of a row's history: pointer and load, where there are readings."""
    length, force = pointer_unit(facts), facts.plate.scale_unit or "kN"
    made = (
        _drawn("pointer", facts, "pointer", (length, Kind.LENGTH), pointer_trends(facts, limits)),
        _drawn("load", facts, "scale_load", (force, Kind.LOAD), load_trends(facts, limits)),
    )
    return tuple(one for one in made if one.points)


def _drawn(
    what: str, facts: ItemFacts, name: str, scale: tuple[str, Kind], lines: tuple[Trend, ...]
) -> Drawn:
    unit, kind = scale
    held = [(one.read_on, PlantState(one.plant_state), getattr(one, name)) for one in facts.earlier]
    found = facts.found
    if found is not None and found.read_on is not None:
        own = found.pointer if name == "pointer" else found.load
        held.append((found.read_on, found.plant_state, own))
    points = tuple(
        Point(day, state, float(from_si(value, unit, kind)))
        for day, state, value in held
        if value is not None
    )
    return Drawn(what, unit, points, tuple(_in_unit(one, unit, kind) for one in lines))


def _in_unit(one: Trend, unit: str, kind: Kind) -> Trend:
    def turned(value: float) -> float:
        return float(from_si(value, unit, kind))

    error = None if one.slope_error is None else turned(one.slope_error)
    return Trend(
        one.state, turned(one.slope), error, turned(one.mean), one.first, one.last,
        turned(one.start), one.count,
    )  # fmt: skip
