"""What one unit has to carry: from the loads of all lines and cases at its support point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from supports.rules.facts import CASES
from supports.rules.unit_loads import UnitLoads
from supports.vocabulary import CaseKind


@dataclass(frozen=True, slots=True)
class CaseLoad:
    """The load at one unit in one case [N]."""

    case: str
    kind: CaseKind
    load: float


@dataclass(frozen=True, slots=True)
class UnitDemand:
    """What a unit must carry.

    Parameters
    ----------
    cases
        Load by case, hardware below the unit included [N].
    governing
        Load to set: the operating case, or the middle of several [N].
    spread
        Half spread of several operating cases, relative to the middle [1].
    movement_up, sideways
        Cold to hot: up positive, and horizontal resultant [m].
    """

    cases: tuple[CaseLoad, ...] = ()
    governing: float | None = None
    spread: float | None = None
    movement_up: float | None = None
    sideways: float | None = None
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def largest(self) -> float | None:
        """Return the largest load of the operating, sustained and occasional cases [N]."""
        loads = [c.load for c in self.cases if c.kind is not CaseKind.TEST]
        return max(loads, default=None)


def demand_of(loads: UnitLoads, carrier: int, case_names: Sequence[str]) -> UnitDemand:
    """Return what one carrier must carry, from the columns of all."""
    cases = loads.cases
    rows = np.flatnonzero((cases.carrier == carrier) & ~np.isnan(cases.load))
    missing, note = str(loads.missing[carrier]), str(loads.note[carrier])
    several = loads.operating_cases[carrier] > 1.0
    return UnitDemand(
        cases=tuple(
            CaseLoad(case_names[cases.case[r]], CASES[cases.kind[r]], float(cases.load[r]))
            for r in rows
        ),
        governing=_known(loads.governing[carrier]),
        spread=_known(loads.spread[carrier]) if several else None,
        movement_up=_known(loads.up[carrier]),
        sideways=_known(loads.sideways[carrier]),
        missing=tuple(missing.split("; ")) if missing else (),
        notes=(note,) if note else (),
    )


def _known(value: float) -> float | None:
    return None if np.isnan(value) else float(value)
