"""What an engineer must look at in a solved line: findings with stable codes.

The figures are a screening calculation. Nozzle limits come as data with a source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from supports.calc.line.restraints import AXES, Anchor, NozzleLimits, Six
from supports.calc.line.results import LineResult, Standing, SupportResult
from supports.findings import Finding, Severity
from supports.sentences import Sentence


@dataclass(frozen=True, slots=True)
class NozzleUse:
    """Use of one limit: size / limit [1]; None where the limit is not known (cannot judge)."""

    nozzle: str
    what: str
    size: float
    limit: float | None

    @property
    def use(self) -> float | None:
        """Size over limit [1]; None where there is no limit to hold it against."""
        return self.size / self.limit if self.limit else None


def nozzle_uses(result: LineResult) -> tuple[NozzleUse, ...]:
    """Return the use of every limit of every anchor or nozzle: six components and two resultants.

    Source: the limits are data of the equipment; resultant = root of the sum of squares.
    """
    every = (_uses(a, result.nozzles[a.name]) for a in result.frame.line.anchors)
    return tuple(use for uses in every for use in uses)


def worst_uses(result: LineResult) -> dict[str, float | None]:
    """Return the use of the worst limit of each anchor or nozzle [1]; None where it has none.

    Source: as `nozzle_uses`.
    """
    worst: dict[str, float | None] = {}
    for use in nozzle_uses(result):
        shares = [one for one in (worst.get(use.nozzle), use.use) if one is not None]
        worst[use.nozzle] = max(shares, default=None)
    return worst


def review(result: LineResult, near: float = 0.1) -> tuple[Finding, ...]:
    """Return what stands out in one state of a line.

    Parameters
    ----------
    near
        A one-way support that carries less than this share [1] of the line's mean support load is
        near a change of status.

    Source: common practice, no source.
    """
    found = (*_supports(result, near), *_nozzles(result))
    return tuple(found)


def _uses(anchor: Anchor, six: Six) -> Iterator[NozzleUse]:
    limits = anchor.limits or NozzleLimits()
    for axis, value, limit in zip(AXES, six, limits.components, strict=True):
        yield NozzleUse(anchor.name, axis, abs(value), limit)
    yield NozzleUse(anchor.name, "force", _length(six[:3]), limits.force)
    yield NozzleUse(anchor.name, "moment", _length(six[3:]), limits.moment)


def _length(three: tuple[float, ...]) -> float:
    return float(sum(value * value for value in three) ** 0.5)


def _nozzles(result: LineResult) -> Iterator[Finding]:
    for anchor in result.frame.line.anchors:
        if anchor.limits is None:
            continue
        uses = list(_uses(anchor, result.nozzles[anchor.name]))
        over = [use for use in uses if use.limit is not None and use.size > use.limit]
        for use in over:
            yield _over(result, use, anchor.limits.source)
        if all(use.limit is None for use in uses):
            yield Finding(
                "nozzle-limits-unknown",
                Severity.LOOK,
                "the nozzle cannot be judged (missing: limits)",
                anchor.place,
                subject=anchor.name,
            )


OVER = "{what} of the nozzle is over its limit in state '{state}'"


def _over(result: LineResult, use: NozzleUse, source: str) -> Finding:
    unit = "N·m" if use.what.lower().startswith("m") else "N"
    return Finding(
        "nozzle-over-limit",
        Severity.STOP,
        Sentence(OVER, what=use.what, state=result.state.name),
        found=f"{use.size:.0f} {unit}",
        expected=Sentence(
            "no more than {limit} ({source})",
            limit=f"{use.limit:.0f} {unit}",
            source=source or "source not stated",
        ),
        remedy="Choose another share of loads, another sequence, or prop the weight",
        subject=use.nozzle,
    )


def _supports(result: LineResult, near: float) -> Iterator[Finding]:
    carrying = [abs(s.load) for s in result.supports.values() if s.load]
    small = near * sum(carrying) / len(carrying) if carrying else 0.0
    one_way = (Standing.LIFTED, Standing.SLACK)
    for support in result.supports.values():
        if support.standing in one_way:
            yield _note(result, support, "support-lifted", Severity.ACT, support.standing.value)
        elif support.standing in (Standing.BOTTOM, Standing.TOP):
            yield _note(result, support, "unit-on-stop", Severity.STOP, support.standing.value)
        elif support.load < 0.0 and _points_up(result, support.name):
            text = "the support would have to push the pipe down"
            yield _note(result, support, "negative-load", Severity.ACT, text)
        elif 0.0 <= support.load < small and _can_lift(result, support.name):
            text = "the support is near lifting off"
            yield _note(result, support, "near-change-of-status", Severity.LOOK, text)


def _note(
    result: LineResult, support: SupportResult, code: str, severity: Severity, what: str
) -> Finding:
    return Finding(
        code,
        severity,
        Sentence("{what} in state '{state}'", what=what, state=result.state.name),
        found=Sentence(
            "{load} N, pipe {movement} mm",
            load=f"{support.load:.0f}",
            movement=f"{1e3 * support.movement:+.1f}",
        ),
        remedy="Have the loads of the line looked at by the stress engineer",
        subject=support.name,
    )


def _points_up(result: LineResult, name: str) -> bool:
    return any(c.support == name and c.direction[2] > 0.99 for c in result.frame.components)


def _can_lift(result: LineResult, name: str) -> bool:
    upper = [c.high for c in result.frame.components if c.support == name and not c.preload]
    return upper == [float("inf")] and not any(s.name == name for s in result.frame.line.springs)
