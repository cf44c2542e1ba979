"""A line as it stands at a glance: its route's faults, its closure, the use of its nozzles."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from supports.calc.closure import closure
from supports.calc.line.results import LineResult
from supports.calc.line.review import nozzle_uses, review
from supports.calc.line.solver import solve_states
from supports.errors import SupportsError
from supports.findings import Finding, Severity, any_forbids
from supports.rules.line.route_check import route_findings
from supports.rules.line.screening import ReadyLine, calculated_loads, ready_line
from supports.rules.line.standing import at_ends, without_load
from supports.snapshots import RouteView
from supports.units import Kind, shown


@dataclass(frozen=True, slots=True)
class Overview:
    """What can be said of a line as it stands."""

    verdict: str
    facts: tuple[str, ...]
    findings: tuple[Finding, ...]
    screened: bool


def overview(route: RouteView, closure_limit: float) -> Overview:
    """Return a line at a glance (screening calculation); nothing raises for faults in its data.

    Parameters
    ----------
    closure_limit
        How far loads and weight may be apart [1].
    """
    faults = route_findings(route)
    number = route.line.number
    if any_forbids(faults):
        stops = sum(fault.forbids_storing for fault in faults)
        words = f"{number}: cannot be screened ({stops} faults or gaps)"
        return Overview(words, (), faults, screened=False)
    try:
        ready = ready_line(route)
        present = solve_states(ready.system, [ready.present])[0]
    except SupportsError as error:
        stop = Finding("cannot-be-screened", Severity.STOP, str(error), subject=number)
        words = f"{number}: cannot be screened"
        return Overview(words, (), (*faults, stop), screened=False)
    loads = _closure_findings(ready, present, closure_limit)
    found = (*faults, *loads, *review(present))
    return Overview(_verdict(number, present), tuple(_facts(ready, present)), found, screened=True)


def _verdict(number: str, present: LineResult) -> str:
    uses = [use for use in nozzle_uses(present) if use.use is not None]
    if not uses:
        return f"{number}: screened; nozzles cannot be judged (missing: limits)"
    worst = max(uses, key=lambda use: use.use or 0.0)
    share = 100.0 * (worst.use or 0.0)
    return f"{number}: screened; worst nozzle use {worst.nozzle} {worst.what} {share:.0f} %"


def _facts(ready: ReadyLine, present: LineResult) -> Iterator[str]:
    at = ready.built.distances
    length = sum(abs(at[part.end] - at[part.start]) for part in ready.built.line.parts)
    yield f"  length {shown(length, 'm', Kind.LENGTH, 1)}"
    yield f"  weight operating {shown(present.weight, 'kN', Kind.LOAD)}"
    on_record = calculated_loads(ready.route)
    absent = without_load(ready, on_record)
    if absent:
        yield f"  closure: cannot judge (missing: load on record of {', '.join(absent)})"
    else:
        apart = 100.0 * _closure(present, on_record)
        yield f"  closure of the loads on record: {apart:+.1f} % of the weight"


def _closure(present: LineResult, on_record: dict[str, float]) -> float:
    """Return closure of the loads on record, with what the screened nozzles and anchors carry."""
    carried = [on_record[name] for name in present.supports if name in on_record]
    return closure([*carried, at_ends(present)], present.weight)


def _closure_findings(ready: ReadyLine, present: LineResult, limit: float) -> Iterator[Finding]:
    on_record = calculated_loads(ready.route)
    if without_load(ready, on_record):
        return
    apart = _closure(present, on_record)
    if abs(apart) > limit:
        yield Finding(
            "sum-does-not-close",
            Severity.ACT,
            "loads on record with the screened loads at the ends do not add up to the weight",
            found=f"{100.0 * apart:+.1f} %",
            expected=f"±{100.0 * limit:.0f} %",
            remedy="Look for a support, a weight or a unit of measure that is missing",
            subject=ready.route.line.number,
        )
