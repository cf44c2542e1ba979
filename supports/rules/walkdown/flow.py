"""What may follow what in a campaign and in a finding: one table each, no hidden paths."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, TypeVar

from supports.errors import NotAllowed, NotReady
from supports.sentences import Sentence, either, joined
from supports.vocabulary import Role


class CampaignState(StrEnum):
    """Where a campaign stands."""

    PLANNED = "planned"
    ISSUED = "packs printed"
    OUT = "out walking"
    BACK = "forms back"
    READ_IN = "read in"
    REVIEWED = "reviewed by another inspector"
    OWNED = "findings given owners"
    VERDICT = "engineer's verdict given"
    SIGNED_OFF = "signed off"


class FindingState(StrEnum):
    """Where a finding stands."""

    OPEN = "open"
    OWNER_NAMED = "owner named"
    ANSWERED = "answer proposed"
    DONE = "done in the field"
    VERIFIED = "verified by inspector"
    CLOSED = "closed"
    ACCEPTED = "accepted as it is"

    @property
    def is_at_an_end(self) -> bool:
        """Return whether nothing is left to do, unless an acceptance runs out."""
        return self in {FindingState.CLOSED, FindingState.ACCEPTED}


State = TypeVar("State", CampaignState, FindingState)


@dataclass(frozen=True, slots=True)
class Step(Generic[State]):
    """One step: its word, from which states, to which, by which roles."""

    act: str
    frm: frozenset[State]
    to: State
    roles: frozenset[Role]


_C, _F, _R = CampaignState, FindingState, Role
_FIELD = frozenset({_R.INSPECTOR, _R.PLANNER, _R.TECHNICIAN, _R.REGISTER_KEEPER, _R.FOREMAN})
_PLANS = frozenset({_R.INSPECTOR, _R.PLANNER, _R.STRESS_ENGINEER, _R.COORDINATOR})
_ENGINEERS = frozenset({_R.STRESS_ENGINEER, _R.RESPONSIBLE_ENGINEER})
_MANAGES = frozenset({_R.INSPECTOR, _R.COORDINATOR, _R.RESPONSIBLE_ENGINEER, _R.STRESS_ENGINEER})
_INSPECTOR = frozenset({_R.INSPECTOR})


def _c(
    act: str, frm: Collection[CampaignState], to: CampaignState, roles: frozenset[Role]
) -> Step[CampaignState]:
    return Step(act, frozenset(frm), to, roles)


def _f(
    act: str, frm: Collection[FindingState], to: FindingState, roles: frozenset[Role]
) -> Step[FindingState]:
    return Step(act, frozenset(frm), to, roles)


CAMPAIGN_STEPS = (
    _c("issue", {_C.PLANNED, _C.ISSUED}, _C.ISSUED, _PLANS),
    _c("issue again", {_C.OUT, _C.BACK}, _C.OUT, _PLANS),
    _c("go out", {_C.ISSUED, _C.OUT, _C.BACK}, _C.OUT, _FIELD),
    _c("return", {_C.ISSUED, _C.OUT, _C.BACK}, _C.BACK, _FIELD),
    _c("read in", {_C.BACK}, _C.READ_IN, _FIELD),
    _c("take back", {_C.READ_IN}, _C.BACK, _INSPECTOR),
    _c("review", {_C.READ_IN}, _C.REVIEWED, _INSPECTOR),
    _c("judge", {_C.REVIEWED}, _C.REVIEWED, _MANAGES),
    _c("owners named", {_C.REVIEWED}, _C.OWNED, _MANAGES),
    _c("give verdict", {_C.OWNED}, _C.VERDICT, _ENGINEERS),
    _c("sign off", {_C.VERDICT}, _C.SIGNED_OFF, frozenset({_R.RESPONSIBLE_ENGINEER})),
)
"""Every step of a campaign."""

FINDING_STEPS = (
    _f("name owner", {_F.OPEN, _F.OWNER_NAMED, _F.ANSWERED, _F.ACCEPTED}, _F.OWNER_NAMED, _MANAGES),
    _f("answer", {_F.OWNER_NAMED, _F.ANSWERED}, _F.ANSWERED, _MANAGES | {_R.PLANNER}),
    _f("done", {_F.ANSWERED}, _F.DONE, _FIELD),
    _f("verify", {_F.DONE}, _F.VERIFIED, _INSPECTOR),
    _f("not mended", {_F.DONE, _F.VERIFIED}, _F.OWNER_NAMED, _INSPECTOR),
    _f("close", {_F.VERIFIED}, _F.CLOSED, _MANAGES),
    _f("accept", {_F.OPEN, _F.OWNER_NAMED, _F.ANSWERED, _F.ACCEPTED}, _F.ACCEPTED, _ENGINEERS),
)
"""Every step of a finding."""


def require(
    steps: Collection[Step[State]], act: str, state: State, held: Collection[Role], what: str
) -> Step[State]:
    """Return the step if it may be taken from this state by somebody with these roles.

    Raises
    ------
    NotReady
        The thing stands elsewhere.
    NotAllowed
        The person holds none of the roles.
    """
    step = next(one for one in steps if one.act == act)
    if state not in step.frm:
        wanted = joined(sorted(step.frm), ", ")
        raise NotReady(
            Sentence("to {act}, {what} must stand at: {wanted}", act=act, what=what, wanted=wanted),
            (Sentence("it stands at: {state}", state=state),),
        )
    if not step.roles & set(held):
        raise NotAllowed(
            Sentence("only {roles} may {act}", roles=either(sorted(step.roles)), act=act),
            found=joined(sorted(held), ", ") or "no role",
        )
    return step


def open_steps(
    steps: Collection[Step[State]], state: State, held: Collection[Role]
) -> tuple[str, ...]:
    """Return the steps that somebody with these roles may take from a state."""
    return tuple(one.act for one in steps if state in one.frm and one.roles & set(held))
