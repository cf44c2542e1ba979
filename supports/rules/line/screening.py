"""What a line does before a change, with the weight added and nothing re-set, and as planned.

Everything here is a screening calculation: it shows where to look and in which order to work. It
does not approve anything.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from supports.calc.line.aims import Aim
from supports.calc.line.band import Factored
from supports.calc.line.checks import line_findings
from supports.calc.line.comparison import Compared, compared
from supports.calc.line.full_analysis import Need, full_analysis_reasons
from supports.calc.line.influence import InfluenceTable
from supports.calc.line.influence_of_line import influence_table
from supports.calc.line.line import Line
from supports.calc.line.parts import LumpedMass
from supports.calc.line.required_loads import RequiredLoads, Wish, required_loads
from supports.calc.line.restraints import Guide
from supports.calc.line.results import LineResult, Standing
from supports.calc.line.review import NozzleUse, nozzle_uses, review
from supports.calc.line.solver import factored_line, solve_states
from supports.calc.line.states import State, added, cold, hydrotest, operating
from supports.errors import InputHasFaults, NotReady
from supports.findings import Finding, any_forbids
from supports.rules.line.build import BuiltLine, built_line
from supports.rules.line.facts import facts_of
from supports.rules.line.holding import hanging_weight
from supports.rules.line.metal import OPERATING, WATER
from supports.rules.line.weights import with_weights
from supports.sentences import Sentence, joined
from supports.snapshots import RouteView, WeightItemView
from supports.vocabulary import CaseKind, Known

BEFORE, ADDED, PLANNED = "before", "added, nothing re-set", "as planned"


@dataclass(frozen=True, slots=True)
class SupportThrough:
    """One support through the states: loads on the pipe [N], pointer movement [m] from before."""

    tag: str
    node: str
    kind: str
    before: float | None
    added: float | None
    planned: float | None
    sink: float | None
    """How far the pipe sinks when the weight is added and nothing is re-set [m]."""
    planned_rise: float | None
    """How far the pipe stands above its place before, as planned [m]."""
    standing: tuple[Standing, Standing, Standing]
    """What the support does before, with the weight added, and as planned."""
    setting_change: float | None
    """Change of setting that the aim asks for [N]; None where nothing can be set."""
    calculation: float | None
    """What the calculation on record says for the operating case [N]."""


@dataclass(frozen=True, slots=True)
class NozzleThrough:
    """The worst limit of one nozzle through the states, as a share of the limit [1]."""

    nozzle: str
    what: str
    before: float | None
    added: float | None
    planned: float | None
    limit_source: str


@dataclass(frozen=True, slots=True)
class Screening:
    """A line screened through a change."""

    built: BuiltLine
    aim: Aim
    results: Mapping[str, LineResult]
    required: RequiredLoads
    supports: tuple[SupportThrough, ...]
    nozzles: tuple[NozzleThrough, ...]
    comparison: tuple[Compared, ...]
    findings: tuple[Finding, ...]
    need: Need
    lines_weight: float
    """Weight of the line before [N]."""


@dataclass(frozen=True, slots=True)
class ReadyLine:
    """A line built, checked and factored, with the weights that a change adds."""

    route: RouteView
    built: BuiltLine
    system: Factored
    weights: tuple[WeightItemView, ...]
    masses: tuple[LumpedMass, ...]
    present: State
    """The operating state with the settings on record."""


def ready_line(route: RouteView, weights: Sequence[WeightItemView] = ()) -> ReadyLine:
    """Build, check and factor a line, with the weights put on it that are its own.

    Raises
    ------
    NotReady
        A setting or how a support holds is not known: nothing is assumed in its place.
    InputHasFaults
        The route has faults; all are listed.
    Mechanism
        Nothing resists a motion of the line.
    """
    own = tuple(w for w in weights if w.line == route.line.number)
    return ready_built(route, *with_weights(complete_line(route), own), own)


def complete_line(route: RouteView) -> BuiltLine:
    """Build a line of which nothing is missing.

    Raises
    ------
    NotReady
        A mass, a setting or how a support holds is not known; the message says which.
    """
    built = built_line(route)
    if built.missing:
        raise NotReady(
            Sentence(
                "line {line} cannot be screened (missing: {names})",
                line=route.line.number,
                names=joined(built.missing),
            ),
            remedy="Bring in what is missing",
        )
    return built


def ready_built(
    route: RouteView,
    built: BuiltLine,
    masses: tuple[LumpedMass, ...] = (),
    own: tuple[WeightItemView, ...] = (),
) -> ReadyLine:
    """Check and factor a line that was built.

    Raises
    ------
    InputHasFaults
        The route has faults; all are listed.
    Mechanism
        Nothing resists a motion of the line.
    """
    faults = line_findings(built.line)
    if any_forbids(faults):
        raise InputHasFaults(
            Sentence("the route of line {line} has faults", line=route.line.number), faults
        )
    system, present = factored_line(built.line), _operating(route, built.line)
    return ReadyLine(route, built, system, own, masses, present)


def _operating(route: RouteView, line: Line) -> State:
    hot = route.line.operating_temperature or line.installed_at
    anchors = {anchor.node: anchor.name for anchor in line.anchors}
    moved = {
        anchors[end.node]: (*end.movement, 0.0, 0.0, 0.0) for end in route.ends if any(end.movement)
    }
    return operating(OPERATING, hot, moved, BEFORE)


def common_states(ready: ReadyLine) -> tuple[State, ...]:
    """Return the states that every line is asked in: cold empty and full, operating, test."""
    line = ready.built.line
    return (cold(), cold(OPERATING), ready.present, hydrotest(line, WATER))


def present_influence(ready: ReadyLine) -> InfluenceTable:
    """Return what a newton more at each spring does to a line as it stands."""
    result = solve_states(ready.system, [ready.present])[0]
    return influence_table(ready.system, result)


def screen(ready: ReadyLine, aim: Aim, only: Sequence[str] = ()) -> Screening:
    """Screen a line through the weights added to it, re-set by an aim that an engineer chose.

    Parameters
    ----------
    only
        Springs that may be re-set; all if none is named.
    """
    state = added(ready.present, *ready.masses)
    before, loaded = solve_states(ready.system, [ready.present, state])
    springs = tuple(only) or tuple(s.name for s in ready.built.line.springs)
    wish = Wish(aim, springs, _levels(before, springs) if aim is Aim.LEVEL else None)
    required = required_loads(ready.system, state, wish, before)
    results = {BEFORE: before, ADDED: loaded, PLANNED: required.result}
    on_record = calculated_loads(ready.route)
    return Screening(
        built=ready.built,
        aim=aim,
        results=results,
        required=required,
        supports=_supports(ready, results, required, on_record),
        nozzles=_nozzles(ready.built.line, results),
        comparison=beside_record(before, ready.route),
        findings=tuple(f for r in results.values() for f in review(r)),
        need=full_analysis_reasons(
            facts_of(ready.route, ready.weights, (before, loaded, required.result), on_record)
        ),
        lines_weight=before.weight,
    )


def _levels(before: LineResult, springs: Sequence[str]) -> dict[str, float]:
    """Return the level to which the pipe is to come back: where it stood before."""
    return {s: before.supports[s].movement for s in springs if s in before.supports}


def calculated_loads(route: RouteView) -> dict[str, float]:
    """Return the operating load of each support on the pipe by the calculation on record [N].

    The first operating case counts; hardware that the calculation includes is taken off.
    """
    found: dict[str, float] = {}
    for view in route.supports:
        for required in view.required:
            if required.case_kind is CaseKind.OPERATING and required.line == route.line.number:
                included = required.includes_hardware is Known.YES
                off = hanging_weight(view) if included else 0.0
                if required.load is not None:
                    found.setdefault(view.tag, required.load - off)
    return found


def beside_record(result: LineResult, route: RouteView) -> tuple[Compared, ...]:
    """Hold a state against the calculation on record; guides and line stops carry no weight."""
    sideways = {s.name for s in result.frame.line.supports if isinstance(s, Guide)}
    every = compared(result, calculated_loads(route))
    return tuple(one for one in every if one.support not in sideways)


def _supports(
    ready: ReadyLine,
    results: Mapping[str, LineResult],
    required: RequiredLoads,
    on_record: Mapping[str, float],
) -> tuple[SupportThrough, ...]:
    kinds = {view.tag: str(view.kind) for view in ready.route.supports}
    rows = []
    for tag, before in results[BEFORE].supports.items():
        after, planned = results[ADDED].supports[tag], results[PLANNED].supports[tag]
        rows.append(
            SupportThrough(
                tag=tag,
                node=ready.built.tags_at.get(tag, ""),
                kind=kinds.get(tag, ""),
                before=before.load,
                added=after.load,
                planned=planned.load,
                sink=before.movement - after.movement,
                planned_rise=planned.movement - before.movement,
                standing=(before.standing, after.standing, planned.standing),
                setting_change=required.changes.get(tag),
                calculation=on_record.get(tag),
            )
        )
    return tuple(rows)


def _nozzles(line: Line, results: Mapping[str, LineResult]) -> tuple[NozzleThrough, ...]:
    uses = {state: _by_limit(nozzle_uses(result)) for state, result in results.items()}
    sources = {a.name: a.limits.source for a in line.anchors if a.limits}
    worst: dict[str, tuple[str, str]] = {}
    for key in uses[BEFORE]:
        if key[0] in sources and _worst(uses, key) > _worst(uses, worst.get(key[0])):
            worst[key[0]] = key
    return tuple(
        NozzleThrough(
            nozzle=name,
            what=key[1],
            before=uses[BEFORE][key].use,
            added=uses[ADDED][key].use,
            planned=uses[PLANNED][key].use,
            limit_source=sources[name],
        )
        for name, key in worst.items()
    )


_Uses = Mapping[str, Mapping[tuple[str, str], NozzleUse]]


def _by_limit(uses: Sequence[NozzleUse]) -> dict[tuple[str, str], NozzleUse]:
    return {(use.nozzle, use.what): use for use in uses}


def _worst(uses: _Uses, key: tuple[str, str] | None) -> float:
    if key is None:
        return -1.0
    return max(by_limit[key].use or 0.0 for by_limit in uses.values())
