"""An imported calculation beside ours, support by support, with a reason to look."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from supports.calc.line.results import LineResult, Standing


class Look(StrEnum):
    """Why a support of two calculations deserves a look."""

    AGREES = "agrees"
    LOAD_DIFFERS = "load differs by more than the tolerance"
    SIGN_DIFFERS = "one calculation carries, the other pulls down"
    LIFTS_HERE = "lifts off here and carries there"
    LIFTS_THERE = "carries here and has no load there"
    NOT_THERE = "not in the imported calculation (cannot judge)"
    NOT_HERE = "not in this line (cannot judge)"


@dataclass(frozen=True, slots=True)
class Compared:
    """One support in both calculations: loads [N], difference [N] and as a share of theirs [1]."""

    support: str
    ours: float | None
    theirs: float | None
    look: Look

    @property
    def difference(self) -> float | None:
        """Ours − theirs [N]."""
        if self.ours is None or self.theirs is None:
            return None
        return self.ours - self.theirs

    @property
    def share(self) -> float | None:
        """Difference over theirs [1]; None where theirs is zero or unknown."""
        apart = self.difference
        return apart / abs(self.theirs) if apart is not None and self.theirs else None


def compared(
    result: LineResult, imported: Mapping[str, float], tolerance: float = 0.1
) -> tuple[Compared, ...]:
    """Hold a state of the line against loads of another calculation.

    Parameters
    ----------
    imported
        Load [N] of each support there, up positive.
    tolerance
        Difference as a share of their load [1] above which somebody must look; 10 % is common
        practice, no source.

    Source: definition.
    """
    names = dict.fromkeys((*result.supports, *imported))
    return tuple(_one(result, name, imported.get(name), tolerance) for name in names)


def _one(result: LineResult, name: str, theirs: float | None, tolerance: float) -> Compared:
    here = result.supports.get(name)
    if here is None:
        return Compared(name, None, theirs, Look.NOT_HERE)
    if theirs is None:
        return Compared(name, here.load, None, Look.NOT_THERE)
    lifted = here.standing in (Standing.LIFTED, Standing.SLACK)
    return Compared(name, here.load, theirs, _look(here.load, theirs, tolerance, lifted=lifted))


def _look(ours: float, theirs: float, tolerance: float, *, lifted: bool) -> Look:
    if lifted and theirs:
        return Look.LIFTS_HERE
    if not theirs and ours and not lifted:
        return Look.LIFTS_THERE
    if ours * theirs < 0.0:
        return Look.SIGN_DIFFERS
    return Look.LOAD_DIFFERS if abs(ours - theirs) > tolerance * abs(theirs) else Look.AGREES
