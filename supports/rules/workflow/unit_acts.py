"""Every act at one unit of a work order in one table: from where, and by whom."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from supports.rules.workflow.states import LineState
from supports.vocabulary import Role


@dataclass(frozen=True, slots=True)
class UnitAct:
    """One act at a unit.

    Parameters
    ----------
    frm
        Where the unit must stand for it.
    roles
        Who may; empty: anybody who holds a role.
    read_only
        Where a unit that is only read must stand for it; empty: it is not done there.
    """

    act: str
    frm: frozenset[LineState]
    roles: frozenset[Role] = frozenset()
    read_only: frozenset[LineState] = frozenset()

    def states(self, *, read_only: bool) -> frozenset[LineState]:
        """Return where a unit must stand, if it is to be re-set or only read."""
        return self.read_only if read_only else self.frm


_S, _R = LineState, Role
_BEFORE = {_S.WRITTEN, _S.BACK_TO_ENGINEER}


def _act(
    act: str, frm: Collection[LineState], roles: Collection[Role] = (),
    read_only: Collection[LineState] = (),
) -> UnitAct:  # fmt: skip
    return UnitAct(act, frozenset(frm), frozenset(roles), frozenset(read_only))


UNIT_ACTS = (
    _act("read as found", _BEFORE, read_only=_BEFORE),
    _act("read after a round", {_S.IN_HAND}),
    _act("read as left", {_S.IN_HAND, _S.OUT_OF_WINDOW}, read_only={_S.READ}),
    _act("stop part-way", {_S.IN_HAND, _S.OUT_OF_WINDOW}),
    _act("release", {_S.BACK_TO_ENGINEER, _S.STOPPED}, {_R.STRESS_ENGINEER}),
    _act("accept", {_S.TO_BE_CHECKED}, {_R.INSPECTOR, _R.STRESS_ENGINEER}),
    _act("accept out of window", {_S.OUT_OF_WINDOW}, {_R.STRESS_ENGINEER, _R.RESPONSIBLE_ENGINEER}),
    _act("compare", {_S.TO_BE_COMPARED}, {_R.STRESS_ENGINEER}),
    _act("keep as it is", {_S.TO_BE_PUT_RIGHT}, {_R.RESPONSIBLE_ENGINEER}),
)
"""In the order in which they are usually done."""


def unit_act(act: str) -> UnitAct:
    """Return an act at a unit by its word."""
    return next(one for one in UNIT_ACTS if one.act == act)
