"""The loads that a plan is to reach: those of the calculation, of an aim, or by the lever."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from supports.calc.line.required_loads import Wish, required_loads
from supports.calc.line.restraints import Guide
from supports.calc.line.results import LineResult
from supports.calc.reset_plan.limits import Target
from supports.rules.judgement import UnitJudgement
from supports.rules.line.holding import part_of
from supports.rules.line.screening import ReadyLine
from supports.rules.reset_planning.line_states import PlanLine
from supports.rules.reset_planning.springs import PlanUnit
from supports.rules.reset_planning.wish import PlanAim
from supports.rules.site_settings import SiteSettings
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import PlantState, Verdict

LEVER = "lever method"
OPERATING = str(PlantState.OPERATING_STEADY)


def calculated_targets(
    units: Mapping[str, PlanUnit], judged: Mapping[int, UnitJudgement], settings: SiteSettings
) -> tuple[Target, ...]:
    """Return what the assessment asks of each unit that may be turned.

    A unit that the assessment leaves, or leaves to the engineer, need not be turned: it only has to
    stay inside the band about its required load.
    """
    found = []
    for unit in units.values():
        load = judged[unit.unit.id].demand.governing if unit.unit.id in judged else None
        if unit.turnable and load is not None:
            must = judged[unit.unit.id].verdict is Verdict.RE_SET
            found.append(_target(unit, load, _tolerance(unit, settings, must=must)))
    return tuple(found)


def _target(unit: PlanUnit, load: float, share: float) -> Target:
    """Return a target: of a constant its setting, of a variable its load in operation."""
    state = OPERATING if unit.rate else ""
    return Target(unit.name, load, share * abs(load), state)


def _tolerance(unit: PlanUnit, settings: SiteSettings, *, must: bool) -> float:
    """Return how far a set load may be planned from what is required, as a part of it [1].

    Half the site's tolerance is the plan's; the other half is left to whoever reads the scale.
    """
    tight = settings.variable_tolerance if unit.rate else settings.tolerance
    return tight / 2.0 if must else max(tight, settings.band)


def aimed_targets(
    aim: PlanAim,
    line: PlanLine,
    units: Mapping[str, PlanUnit],
    settings: SiteSettings,
    reference: LineResult,
) -> tuple[Target, ...]:
    """Return the set loads that serve an aim in the operating state; springs not turned stay.

    Parameters
    ----------
    reference
        The operating state before the weight.
    """
    of_line = aim.of_line
    if of_line is None:
        return ()
    free = dict.fromkeys(u.support.tag for u in units.values() if u.turnable)
    levels = {tag: reference.supports[tag].movement for tag in free}
    wish = Wish(of_line, tuple(free), levels)
    found = required_loads(line.system, line.states[-1], wish, reference)
    changes = {tag: found.changes[tag] for tag in free}
    return tuple(
        Target(unit.name, load, _tolerance(unit, settings, must=True) * abs(load))
        for unit in units.values()
        if unit.turnable
        for load in (_after(unit, changes[unit.support.tag]),)
    )


def _after(unit: PlanUnit, change: float) -> float:
    """Return the setting of a unit [N] after a change of load at its point [N]."""
    return unit.limits.setting + change * part_of(unit.support, unit.unit) / unit.share


def lever_loads(ready: ReadyLine, units: Mapping[str, PlanUnit]) -> dict[str, float]:
    """Return set loads [N] by the lever between the nearest supports on both sides of a weight.

    P b / L and P a / L; a first look that knows nothing of the pipe's stiffness.

    Source: statics of a simply supported beam.
    """
    along = _carrying(ready)
    added: dict[str, float] = {}
    for item, mass in zip(ready.weights, ready.masses, strict=True):
        at, weight = ready.built.distances[mass.node], item.mass * STANDARD_GRAVITY
        for tag, part in _shares(along, at):
            added[tag] = added.get(tag, 0.0) + part * weight
    return {
        unit.name: _after(unit, added[unit.support.tag])
        for unit in units.values()
        if unit.turnable and unit.support.tag in added
    }


def _carrying(ready: ReadyLine) -> list[tuple[float, str]]:
    """Return place along the line [m] and name of what carries, the ends included, in order."""
    line, distances = ready.built.line, ready.built.distances
    carrying = [s for s in line.supports if not isinstance(s, Guide)]
    return sorted((distances[support.node], support.name) for support in carrying)


def _shares(along: list[tuple[float, str]], at: float) -> Iterable[tuple[str, float]]:
    before = [one for one in along if one[0] <= at]
    after = [one for one in along if one[0] > at]
    if not before or not after:
        return [((before or after)[-1 if before else 0][1], 1.0)]
    (left, first), (right, second) = before[-1], after[0]
    part = (at - left) / (right - left)
    return [(first, 1.0 - part), (second, part)]
