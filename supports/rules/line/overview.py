"""A line as it stands at a glance: its route's faults, its closure, the use of its nozzles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from supports.calc.closure import closure
from supports.calc.line.results import LineResult
from supports.calc.line.review import NozzleUse, nozzle_uses, review
from supports.calc.line.solver import solve_states
from supports.errors import SupportsError
from supports.findings import Finding, Severity, any_forbids, cannot_judge
from supports.rules.line.route_check import route_findings
from supports.rules.line.screening import ReadyLine, calculated_loads, ready_line
from supports.rules.line.standing import at_ends, without_load
from supports.snapshots import RouteView
from supports.units import Kind, shown
from supports.vocabulary import counted


@dataclass(frozen=True, slots=True)
class Overview:
    """What can be said of a line as it stands."""

    verdict: str
    facts: tuple[str, ...]
    findings: tuple[Finding, ...]
    missing: tuple[str, ...] = ()
    """What keeps it from being screened."""
    closure: float | None = None
    """Sum of loads on record and at the ends, off the weight as a share of it [1]."""
    worst: NozzleUse | None = None
    """The limit of a nozzle that is used most."""

    @property
    def screened(self) -> bool:
        """Return whether the line could be screened."""
        return not self.missing


def overview(route: RouteView, closure_limit: float) -> Overview:
    """Return a line at a glance (screening calculation); nothing raises for faults in its data.

    Parameters
    ----------
    closure_limit
        How far loads and weight may be apart [1].
    """
    faults = route_findings(route)
    if any_forbids(faults):
        return _not_judged(route, faults, tuple(_lacks(faults)))
    try:
        ready = ready_line(route)
        present = solve_states(ready.system, [ready.present])[0]
    except SupportsError as error:
        number = route.line.number
        stop = Finding("cannot-be-screened", Severity.STOP, str(error), subject=number)
        return _not_judged(route, (*faults, stop), ("a line that can be calculated",))
    on_record = calculated_loads(ready.route)
    absent = without_load(ready, on_record)
    apart = None if absent else _closure(present, on_record)
    loads = _closure_findings(route.line.number, apart, closure_limit)
    return Overview(
        verdict=_verdict(route.line.number, worst := _worst(present)),
        facts=tuple(_facts(ready, present, absent, apart)),
        findings=(*faults, *loads, *review(present)),
        closure=apart,
        worst=worst,
    )


_NAMED = 3
"""So many things that are missing are named in a verdict; the findings name them all."""


def _not_judged(
    route: RouteView, findings: tuple[Finding, ...], missing: tuple[str, ...]
) -> Overview:
    more = f" and {len(missing) - _NAMED} more" if len(missing) > _NAMED else ""
    named = f"{'; '.join(missing[:_NAMED])}{more}"
    words = f"{route.line.number}: {cannot_judge([named])}"
    return Overview(words, (), findings, missing)


def _lacks(faults: Sequence[Finding]) -> Iterator[str]:
    """Give what keeps a route from being calculated: what is not there, and what is wrong."""
    stops = [fault for fault in faults if fault.forbids_storing]
    for stop in stops:
        if stop.missing:
            yield f"{stop.subject}: {', '.join(stop.missing)}"
    wrong = sum(not stop.missing for stop in stops)
    if wrong:
        yield f"a route without {counted(wrong, 'fault')}"


def _worst(present: LineResult) -> NozzleUse | None:
    uses = [use for use in nozzle_uses(present) if use.use is not None]
    return max(uses, key=lambda use: use.use or 0.0, default=None)


def _verdict(number: str, worst: NozzleUse | None) -> str:
    if worst is None:
        return f"{number}: screened; nozzles cannot be judged (missing: limits)"
    share = 100.0 * (worst.use or 0.0)
    return f"{number}: screened; worst nozzle use {worst.nozzle} {worst.what} {share:.0f} %"


def _facts(
    ready: ReadyLine, present: LineResult, absent: Sequence[str], apart: float | None
) -> Iterator[str]:
    at = ready.built.distances
    length = sum(abs(at[part.end] - at[part.start]) for part in ready.built.line.parts)
    yield f"  length {shown(length, 'm', Kind.LENGTH, 1)}"
    yield f"  weight operating {shown(present.weight, 'kN', Kind.LOAD)}"
    if apart is None:
        unknown = f"load on record of {', '.join(absent)}"
        yield f"  closure: {cannot_judge([unknown])}"
    else:
        yield f"  closure of the loads on record: {100.0 * apart:+.1f} % of the weight"


def _closure(present: LineResult, on_record: dict[str, float]) -> float:
    """Return closure of the loads on record, with what the screened nozzles and anchors carry."""
    carried = [on_record[name] for name in present.supports if name in on_record]
    return closure([*carried, at_ends(present)], present.weight)


def _closure_findings(number: str, apart: float | None, limit: float) -> Iterator[Finding]:
    if apart is not None and abs(apart) > limit:
        yield Finding(
            "sum-does-not-close",
            Severity.ACT,
            "loads on record with the screened loads at the ends do not add up to the weight",
            found=f"{100.0 * apart:+.1f} %",
            expected=f"±{100.0 * limit:.0f} %",
            remedy="Look for a support, a weight or a unit of measure that is missing",
            subject=number,
        )
