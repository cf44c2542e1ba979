"""What a campaign's close-out report says: what was seen, how it stands, findings to their end."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from reports.contents.common import PaperHead
from reports.contents.written import NOT_KNOWN, amount, load
from reports.languages import IN_ENGLISH, Texts
from reports.svg.trend_plot import Band
from supports.rules.walkdown.expectation import Expected, expected
from supports.rules.walkdown.facts import ItemFacts, load_trends, pointer_trends
from supports.rules.walkdown.judgement import JudgedItem
from supports.rules.walkdown.limits import WalkLimits
from supports.rules.walkdown.record import CampaignRecord
from supports.rules.walkdown.trend import Point, Trend
from supports.rules.walkdown.words import Half, half_of
from supports.units import Kind, from_si
from supports.vocabulary import PlantState

OPERATING, SHUT_DOWN = PlantState.OPERATING_STEADY, PlantState.SHUT_DOWN_FULL


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


def found_words(facts: ItemFacts, say: Texts = IN_ENGLISH) -> str:
    """Return what was found in one line."""
    found = facts.found
    if found is None or not found.is_seen:
        why = found.why_not if found else ""
        return say("not seen, because: {why}", why=why) if why else say("NOT SEEN, NO REASON")
    parts = []
    if found.pointer is not None:
        parts.append(amount(found.pointer, pointer_unit(facts), Kind.LENGTH))
    if found.load is not None:
        parts.append(load(found.load, facts.plate.scale_unit or "kN"))
    if found.stop is not None:
        parts.append(say("stop {state}", state=say.word(str(found.stop))))
    if found.grade is not None:
        parts.append(say.word(str(found.grade)))
    return ", ".join(parts) or say("seen, no value")


def expected_words(facts: ItemFacts, wanted: Expected | None, say: Texts = IN_ENGLISH) -> str:
    """Return what was expected in the state found."""
    if wanted is None or not facts.is_spring:
        return ""
    parts = []
    if wanted.pointer is not None:
        parts.append(amount(wanted.pointer, pointer_unit(facts), Kind.LENGTH))
    if wanted.load is not None:
        parts.append(load(wanted.load, facts.plate.scale_unit or "kN"))
    missing = ", ".join(map(say.sentence, wanted.missing)) or say(NOT_KNOWN)
    return ", ".join(parts) or say("cannot tell (missing: {missing})", missing=missing)


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
    bands: tuple[Band, ...] = ()


def drawn_trends(facts: ItemFacts, limits: WalkLimits) -> tuple[Drawn, ...]:
    """Return what is drawn of a row's history: pointer and load, where there are readings."""
    length, force = pointer_unit(facts), facts.plate.scale_unit or "kN"
    wanted = _expectations(facts, limits)
    made = (
        _drawn("pointer", facts, "pointer", (length, Kind.LENGTH), pointer_trends(facts, limits)),
        _drawn("load", facts, "scale_load", (force, Kind.LOAD), load_trends(facts, limits)),
    )
    return tuple(
        replace(one, bands=_bands(one, wanted, kind))
        for one, kind in zip(made, (Kind.LENGTH, Kind.LOAD), strict=True)
        if one.points
    )


def _expectations(facts: ItemFacts, limits: WalkLimits) -> dict[Half, Expected]:
    """Return what the unit should show in either half of the cycle."""
    if facts.unit is None:
        return {}
    states = {Half.OPERATING: OPERATING, Half.SHUT_DOWN: SHUT_DOWN}
    return {h: expected(facts.support, facts.unit, s, limits) for h, s in states.items()}


def _bands(drawn: Drawn, wanted: Mapping[Half, Expected], kind: Kind) -> tuple[Band, ...]:
    """Return what is expected in the halves that were read: halves, low, high; equal ones once."""
    found: dict[tuple[float, float], list[Half]] = {}
    for half in dict.fromkeys(half_of(point.state) for point in drawn.points):
        one = wanted.get(half) if half else None
        if half is None or one is None:
            continue
        pointer = kind is Kind.LENGTH
        middle = one.pointer if pointer else one.load
        slack = one.pointer_slack if pointer else one.load_slack
        if middle is not None and slack is not None:
            low, high = (float(from_si(v, drawn.unit, kind)) for v in _ends(middle, slack))
            found.setdefault((low, high), []).append(half)
    return tuple((tuple(halves), low, high) for (low, high), halves in found.items())


def _ends(middle: float, slack: float) -> tuple[float, float]:
    return middle - slack, middle + slack


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
