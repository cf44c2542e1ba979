"""What may follow what, who may do it, and what stands in the way: one table, no hidden paths."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum

from supports.errors import NotAllowed, NotReady
from supports.vocabulary import Role


class ChangeState(StrEnum):
    """Where a change stands."""

    NOTED = "noted"
    BEING_CHECKED = "being checked"
    BEFORE_THE_APPROVER = "before the approver"
    CLEARED = "cleared to build"
    BEING_DONE = "being done"
    TO_BE_PROVED = "done, to be proved"
    CLOSED = "closed"
    SENT_BACK = "sent back"
    REFUSED = "refused"


class LineState(StrEnum):
    """Where the work at one unit stands."""

    WRITTEN = "written"
    BACK_TO_ENGINEER = "as-found differs, back to the engineer"
    IN_HAND = "in hand"
    TO_BE_CHECKED = "finished, to be checked"
    OUT_OF_WINDOW = "out of window"
    ACCEPTED = "accepted"
    ACCEPTED_IN_WRITING = "accepted in writing"
    READ = "read"

    @property
    def is_settled(self) -> bool:
        """Return whether nothing is left to do at the unit."""
        return self in {LineState.ACCEPTED, LineState.ACCEPTED_IN_WRITING, LineState.READ}


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a change: from which states, to which, by which roles."""

    act: str
    frm: frozenset[ChangeState]
    to: ChangeState
    roles: frozenset[Role]


def _step(act: str, frm: Collection[ChangeState], to: ChangeState, *roles: Role) -> Step:
    return Step(act, frozenset(frm), to, frozenset(roles))


_OPEN = {
    ChangeState.NOTED,
    ChangeState.SENT_BACK,
    ChangeState.BEING_CHECKED,
    ChangeState.BEFORE_THE_APPROVER,
}
_S = ChangeState

STEPS = (
    _step("assess", _OPEN, _S.BEING_CHECKED, Role.STRESS_ENGINEER),
    _step("check", {_S.BEING_CHECKED}, _S.BEFORE_THE_APPROVER, Role.STRESS_ENGINEER),
    _step("approve", {_S.BEFORE_THE_APPROVER}, _S.CLEARED, Role.RESPONSIBLE_ENGINEER),
    _step(
        "send back",
        {_S.BEING_CHECKED, _S.BEFORE_THE_APPROVER},
        _S.SENT_BACK,
        Role.STRESS_ENGINEER,
        Role.RESPONSIBLE_ENGINEER,
    ),
    _step("refuse", {_S.BEFORE_THE_APPROVER}, _S.REFUSED, Role.RESPONSIBLE_ENGINEER),
    _step("close", {_S.TO_BE_PROVED}, _S.CLOSED, Role.COORDINATOR),
)
"""Every step that a person takes; 'being done' and 'done' follow from the work order lines."""


def step_of(act: str) -> Step:
    """Return a step by its word."""
    return next(step for step in STEPS if step.act == act)


def require_step(act: str, state: ChangeState, roles: Collection[Role]) -> Step:
    """Return the step if it may be taken from this state by somebody with these roles.

    Raises
    ------
    NotReady
        The change stands elsewhere.
    NotAllowed
        The person holds none of the roles.
    """
    step = step_of(act)
    if state not in step.frm:
        wanted = ", ".join(sorted(step.frm))
        raise NotReady(f"to {act}, the change must stand at: {wanted}", (f"it stands at: {state}",))
    require_roles(act, step.roles, roles)
    return step


def require_roles(act: str, wanted: Collection[Role], held: Collection[Role]) -> None:
    """Raise NotAllowed unless one of the roles wanted is held."""
    if not set(wanted) & set(held):
        raise NotAllowed(
            f"only {' or '.join(sorted(wanted))} may {act}",
            found=", ".join(sorted(held)) or "no role",
        )


def require_other_person(act: str, person: str, others: Collection[str], why: str) -> None:
    """Raise NotAllowed if a second pair of eyes would be the first again."""
    if person in others:
        raise NotAllowed(f"{person} may not {act}: {why}", remedy="Another person must do it")


def within(load: float, low: float, high: float) -> bool:
    """Return whether a reading [N] is inside a window [N]; exactly at an end is inside."""
    slack = 1e-9 * abs(high)
    return low - slack <= load <= high + slack
