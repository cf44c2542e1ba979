"""How a line stands, for the rules of the whole plant: weight, loads, worst use of each nozzle.

All of it is a screening calculation of the line as it is set now; nothing of it approves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from supports.calc.line.restraints import Constant, Rest, Rod, Variable
from supports.calc.line.results import LineResult
from supports.calc.line.review import NozzleUse, nozzle_uses
from supports.calc.line.solver import solve_states
from supports.calc.line.states import cold
from supports.errors import SupportsError
from supports.findings import Finding, any_forbids
from supports.rules.line.ends import nameless
from supports.rules.line.metal import OPERATING
from supports.rules.line.route_check import route_findings
from supports.rules.line.screening import ReadyLine, calculated_loads, ready_line
from supports.snapshots import RouteView
from supports.units import Kind, shown

SCREENED = "1"
"""Raised whenever the same line would be screened to other figures."""


@dataclass(frozen=True, slots=True)
class NozzleStanding:
    """A nozzle in its worst state: largest load against its limit [1], and that load in words."""

    nozzle: str
    use: float | None
    words: str


@dataclass(frozen=True, slots=True)
class LineStanding:
    """A line as it stands.

    Parameters
    ----------
    weight
        In operation [N].
    on_record
        Operating loads on the pipe by the calculation that holds, summed [N].
    at_ends
        What anchors and nozzles carry of it, upward, as screened [N].
    without_load
        Supports whose load is not on record.
    missing
        Why it could not be screened.
    """

    weight: float | None = None
    on_record: float | None = None
    at_ends: float | None = None
    without_load: tuple[str, ...] = ()
    missing: str = ""
    nozzles: tuple[NozzleStanding, ...] = ()


def line_standing(route: RouteView) -> LineStanding:
    """Screen a line as it is set now: operating, and shut down full and empty; nothing raises."""
    faults = route_findings(route)
    if any_forbids(faults):
        stops = [_lacking(fault) for fault in faults if fault.forbids_storing]
        return LineStanding(missing="; ".join(dict.fromkeys(stops)))
    try:
        ready = ready_line(route)
        results = solve_states(ready.system, [ready.present, cold(OPERATING), cold()])
    except SupportsError as error:
        return LineStanding(missing=str(error))
    present, on_record = results[0], calculated_loads(route)
    return LineStanding(
        weight=present.weight,
        on_record=sum(on_record[name] for name in present.supports if name in on_record),
        at_ends=at_ends(present),
        without_load=tuple(without_load(ready, on_record)),
        nozzles=(*_nozzles(results), *_nowhere(route)),
    )


def _lacking(fault: Finding) -> str:
    """Return what a fault of the route leaves unknown, in a few words."""
    what = ", ".join(fault.missing) or fault.what
    return f"{fault.subject}: {what}" if fault.subject else what


def at_ends(result: LineResult) -> float:
    """Return what anchors and nozzles carry of a line, upward [N]."""
    return sum(six[2] for six in result.nozzles.values())


def without_load(ready: ReadyLine, on_record: dict[str, float]) -> list[str]:
    """Return the supports that carry weight and whose load is not on record."""
    vertical = Constant | Variable | Rod | Rest
    names = [s.name for s in ready.built.line.supports if isinstance(s, vertical)]
    return [name for name in names if name not in on_record]


_STATES = ("operating, as set", "shut down and full", "shut down and empty")


def _nozzles(results: Sequence[LineResult]) -> Iterator[NozzleStanding]:
    uses = [
        (use, state)
        for result, state in zip(results, _STATES, strict=True)
        for use in nozzle_uses(result)
    ]
    for anchor in results[0].frame.line.anchors:
        if anchor.limits is None:
            continue
        known = [(u, state) for u, state in uses if u.nozzle == anchor.name and u.limit]
        if not known:
            yield NozzleStanding(anchor.name, None, "no limit is on record")
            continue
        worst, state = max(known, key=lambda one: one[0].use or 0.0)
        yield NozzleStanding(anchor.name, worst.use, f"{_size(worst)}, {state}")


def _size(use: NozzleUse) -> str:
    turning = use.what.lower().startswith("m")
    symbol, kind = ("N·m", Kind.MOMENT) if turning else ("kN", Kind.LOAD)
    limit = shown(use.limit or 0.0, symbol, kind)
    return f"{use.what} {shown(use.size, symbol, kind)} of {limit}"


def _nowhere(route: RouteView) -> Iterator[NozzleStanding]:
    for limits in nameless(route):
        yield NozzleStanding(limits.nozzle, None, "its node is no end of the route")
