"""What the paper of a screened line says to the engineer.

Loads [N], moments [N·m], lengths [m], shares as fractions; None is not known.
"""

from __future__ import annotations

from dataclasses import dataclass

from reports.contents.common import PaperHead
from reports.drawings.pointers import MovedPlace
from reports.drawings.route import DrawnRoute
from reports.drawings.straight import StraightLine


@dataclass(frozen=True, slots=True)
class SupportStates:
    """One support through the states, in order along the line.

    Parameters
    ----------
    loads
        Before, with the weight added, as planned [N].
    sink, planned_rise
        How far the pipe sinks with the weight added, and rises as planned, from before [m].
    setting_change
        What the aim asks of the setting [N]; None where nothing can be set.
    low, high
        Loads on the pipe between which the units can be set [N].
    """

    tag: str
    kind: str
    node: str
    distance: float | None
    loads: tuple[float | None, float | None, float | None]
    standing: tuple[str, str, str]
    sink: float | None
    planned_rise: float | None
    setting_change: float | None
    low: float | None
    high: float | None
    calculation: float | None
    look: str


@dataclass(frozen=True, slots=True)
class NozzleState:
    """One nozzle in one state: what the pipe puts on the equipment [N], [N·m].

    Parameters
    ----------
    values
        Fx, Fy, Fz, resultant force, Mx, My, Mz, resultant moment.
    limits
        The same in size; None is not known.
    """

    nozzle: str
    state: str
    values: tuple[float, ...]
    limits: tuple[float | None, ...]
    source: str

    @property
    def uses(self) -> tuple[float | None, ...]:
        """Return each use of its limit [1]."""
        pairs = zip(self.values, self.limits, strict=True)
        return tuple(abs(value) / limit if limit else None for value, limit in pairs)

    @property
    def worst(self) -> float | None:
        """Return the largest use [1]; None where no limit is known."""
        return max((use for use in self.uses if use is not None), default=None)


@dataclass(frozen=True, slots=True)
class Noticed:
    """A finding as it is printed."""

    severity: str
    subject: str
    what: str
    found: str
    expected: str
    code: str


@dataclass(frozen=True, slots=True)
class LineScreening:
    """The whole paper.

    Parameters
    ----------
    facts
        Name and value of what the line is, as words.
    reasons, unknown
        Why a full analysis is mandatory, and which reasons could not be judged.
    """

    head: PaperHead
    line: str
    change: str
    aim: str
    verdict: str
    details: tuple[str, ...]
    analysis: str
    facts: tuple[tuple[str, str], ...]
    supports: tuple[SupportStates, ...]
    nozzles: tuple[NozzleState, ...]
    findings: tuple[Noticed, ...]
    reasons: tuple[str, ...]
    unknown: tuple[str, ...]
    notes: tuple[str, ...]
    caution: str
    straight: StraightLine
    route: DrawnRoute
    moved: tuple[MovedPlace, ...]
