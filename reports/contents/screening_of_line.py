"""The paper of a screened line, from the screening."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

from reports.contents.common import PaperHead
from reports.contents.drawn_route import drawn_route
from reports.contents.line_screening import LineScreening, Noticed, NozzleState, SupportStates
from reports.contents.written import amount, bare, load, percent
from reports.drawings.pointers import MovedPlace
from reports.drawings.straight import (
    StraightLine,
    StraightNozzle,
    StraightSupport,
    StraightWeight,
)
from reports.languages import IN_ENGLISH, Texts
from supports.calc.line.restraints import NozzleLimits
from supports.calc.line.results import LineResult
from supports.findings import Finding
from supports.rules.line.facts import setting_room
from supports.rules.line.screening import (
    ADDED,
    BEFORE,
    PLANNED,
    NozzleThrough,
    ReadyLine,
    Screening,
    SupportThrough,
)
from supports.rules.line.words import (
    CAUTION,
    STATES,
    analysis_words,
    details,
    verdict_words,
)
from supports.snapshots import SupportView, WeightItemView
from supports.units import Kind
from supports.vocabulary import SupportKind

_NEAR = 0.015
"""Weights nearer than this share of the line's length are drawn as one arrow [1]."""
_OVER = "nozzle-over-limit"
"""Findings with this code stand in the table of nozzles already."""
_SIDEWAYS = {SupportKind.GUIDE, SupportKind.LINE_STOP}


def screening_of_line(
    head: PaperHead,
    ready: ReadyLine,
    screening: Screening,
    change: str = "",
    say: Texts = IN_ENGLISH,
) -> LineScreening:
    """Return the paper; supports in order along the line."""
    rows = _supports(ready, screening)
    return LineScreening(
        head=head,
        line=ready.route.line.number,
        change=change,
        aim=str(screening.aim),
        verdict=verdict_words(screening),
        details=details(screening),
        analysis=analysis_words(screening.need),
        facts=tuple(_facts(ready, screening, say)),
        supports=rows,
        nozzles=tuple(_nozzles(screening)),
        findings=_findings(screening.findings),
        reasons=screening.need.reasons,
        unknown=screening.need.cannot_judge,
        notes=screening.built.notes,
        caution=CAUTION,
        straight=_straight(ready, screening, rows, say),
        route=drawn_route(
            ready.route, screening.built, ready.masses, _words(rows, screening, say), say
        ),
        moved=_moved(screening),
    )


def _facts(ready: ReadyLine, screening: Screening, say: Texts) -> Iterator[tuple[str, str]]:
    before, added = screening.results[BEFORE], screening.results[ADDED]
    line = ready.route.line
    yield say("Length"), amount(route_length(ready), "m", Kind.LENGTH, 1)
    yield say("Weight before"), load(before.weight, "kN")
    yield say("Weight added"), load(added.weight - before.weight, "kN")
    yield say("Operating at"), amount(line.operating_temperature, "°C", Kind.TEMPERATURE)
    yield say("Material"), say.word(str(ready.route.material))
    yield say("Source of metal figures"), say.sentence(screening.built.metal.source)
    yield say("Beam theory"), say.word(str(before.theory))
    worst = max(abs(r.equilibrium) for r in screening.results.values())
    yield (
        say("Unbalance left by the solver"),
        say("{share} of the largest load", share=f"{worst:.0e}"),
    )
    yield say("Aim"), say.word(str(screening.aim))


def route_length(ready: ReadyLine) -> float:
    """Return the length of all pieces of a line [m]; bends along their arcs."""
    at = ready.built.distances
    return sum(abs(at[part.end] - at[part.start]) for part in ready.built.line.parts)


def _supports(ready: ReadyLine, screening: Screening) -> tuple[SupportStates, ...]:
    views = {view.tag: view for view in ready.route.supports}
    looks = {one.support: str(one.look) for one in screening.comparison}
    rows = [_support(one, views.get(one.tag), screening, looks) for one in screening.supports]
    return tuple(sorted(rows, key=lambda row: row.distance or 0.0))


def _support(
    one: SupportThrough, view: SupportView | None, screening: Screening, looks: dict[str, str]
) -> SupportStates:
    low, high = setting_room(view) if view else (None, None)
    return SupportStates(
        tag=one.tag,
        kind=one.kind,
        node=one.node,
        distance=screening.built.distances.get(one.node),
        loads=(one.before, one.added, one.planned),
        standing=(str(one.standing[0]), str(one.standing[1]), str(one.standing[2])),
        sink=one.sink,
        planned_rise=one.planned_rise,
        setting_change=one.setting_change,
        low=low,
        high=high,
        calculation=one.calculation,
        look=looks.get(one.tag, ""),
    )


def _nozzles(screening: Screening) -> Iterator[NozzleState]:
    for anchor in screening.built.line.anchors:
        limits = anchor.limits or NozzleLimits()
        for state in STATES:
            given = screening.results[state].nozzles[anchor.name]
            values = [-value for value in given]
            yield NozzleState(
                anchor.name,
                state,
                (*values[:3], hypot(*values[:3]), *values[3:], hypot(*values[3:])),
                (*limits.components[:3], limits.force, *limits.components[3:], limits.moment),
                limits.source,
            )


def _findings(findings: Sequence[Finding]) -> tuple[Noticed, ...]:
    others = (one for one in findings if one.code != _OVER)
    ordered = sorted(others, key=lambda one: one.severity.rank)
    return tuple(
        Noticed(str(f.severity), f.subject, f.what, f.found, f.expected, f.code) for f in ordered
    )


def _straight(
    ready: ReadyLine, screening: Screening, rows: Sequence[SupportStates], say: Texts
) -> StraightLine:
    return StraightLine(
        number=ready.route.line.number,
        supports=tuple(_drawn_support(row) for row in rows),
        nozzles=tuple(_drawn_nozzle(one, screening) for one in screening.nozzles),
        weights=tuple(_drawn_weights(ready, say)),
    )


def _drawn_weights(ready: ReadyLine, say: Texts) -> Iterator[StraightWeight]:
    """Give one arrow for all that comes on and goes off near one place."""
    near = _NEAR * route_length(ready)
    groups: list[list[WeightItemView]] = []
    for weight in sorted(ready.weights, key=lambda one: one.along or 0.0):
        if groups and (weight.along or 0.0) - (groups[-1][0].along or 0.0) < near:
            groups[-1].append(weight)
        else:
            groups.append([weight])
    for group in groups:
        net = sum(weight.mass for weight in group)
        place = sum(weight.along or 0.0 for weight in group) / len(group)
        items = f" ({say('{count} items', count=len(group))})" if len(group) > 1 else ""
        yield StraightWeight(place, f"{_weight_words(net)}{items}", put_on=net > 0.0)


def _weight_words(mass: float) -> str:
    return f"{'+' if mass > 0.0 else ''}{amount(mass, 'kg', Kind.MASS, 0)}"


def _drawn_support(row: SupportStates) -> StraightSupport:
    kind = SupportKind(row.kind) if row.kind else SupportKind.UNKNOWN
    if kind in _SIDEWAYS:
        return StraightSupport(row.tag, kind, row.distance or 0.0, (0.0,) * 3, ("–",) * 3)
    first, second, third = (bare(value, "kN", Kind.LOAD) for value in row.loads)
    return StraightSupport(
        tag=row.tag,
        kind=kind,
        distance=row.distance or 0.0,
        loads=row.loads,
        written=(first, second, third),
        low=row.low,
        high=row.high,
    )


def _drawn_nozzle(one: NozzleThrough, screening: Screening) -> StraightNozzle:
    uses = (one.before, one.added, one.planned)
    first, second, third = (percent(use) for use in uses)
    node = next(a.node for a in screening.built.line.anchors if a.name == one.nozzle)
    return StraightNozzle(
        name=one.nozzle,
        what=one.what,
        distance=screening.built.distances.get(node, 0.0),
        uses=uses,
        written=(first, second, third),
    )


def _words(
    rows: Sequence[SupportStates], screening: Screening, say: Texts
) -> dict[str, tuple[str, ...]]:
    """Return what stands beneath each name in the drawing: loads, or the use of limits."""
    told: dict[str, tuple[str, ...]] = {}
    for row in rows:
        if row.kind not in {str(kind) for kind in _SIDEWAYS}:
            first, _, last = (bare(value, "kN", Kind.LOAD) for value in row.loads)
            told[row.tag] = (f"{first} → {last} kN",)
    for one in screening.nozzles:
        told[one.nozzle] = (
            f"{say.sentence(one.what)} {percent(one.before)} → {percent(one.planned)}",
        )
    return told


def _moved(screening: Screening) -> tuple[MovedPlace, ...]:
    before, added, planned = (screening.results[s] for s in (BEFORE, ADDED, PLANNED))
    tags = {node: tag for tag, node in screening.built.tags_at.items()}
    places: list[MovedPlace] = []
    for node, distance in sorted(screening.built.distances.items(), key=lambda one: one[1]):
        rises = [_up(result, node) - _up(before, node) for result in (added, planned)]
        if not places or distance - places[-1].distance > 1e-6:
            places.append(MovedPlace(distance, rises[0], rises[1], tags.get(node, "")))
    return tuple(places)


def _up(result: LineResult, node: str) -> float:
    return result.movement(node)[2]
