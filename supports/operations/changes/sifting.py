"""The coordinator's first look: is it a change, how deep to look, whose word is needed."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from supports.database import Register
from supports.errors import BadInput
from supports.model import ChangeNeed
from supports.operations.acting import deed
from supports.queries.change_record import unmet_changes
from supports.queries.lookups import change_of
from supports.rules.workflow import ChangeState, require_step
from supports.sentences import either
from supports.vocabulary import Role

DEPTHS = ("screening", "full analysis")


@dataclass(frozen=True, slots=True)
class Sifting:
    """How deep a change is looked into, which stretch feels it, whose word is asked for."""

    depth: str
    stretch: str
    needs: Collection[Role] = ()


def sift_change(
    register: Register, number: str, sifting: Sifting, *, acting: str, now: datetime
) -> tuple[str, ...]:
    """Sift a change; return the numbers of other changes that are on the same stretch.

    Raises
    ------
    BadInput
        The depth is not known, or no stretch is named.
    """
    if sifting.depth not in DEPTHS:
        raise BadInput("how deep is not said", found=sifting.depth, expected=either(DEPTHS))
    if not sifting.stretch.strip():
        raise BadInput("the stretch that feels the change is not named")
    with deed(register, acting, now, action="sift a change", subject=number) as act:
        change = change_of(act.session, number)
        change.state = require_step("sift", ChangeState(change.state), act.person.roles).to
        change.depth, change.stretch = sifting.depth, sifting.stretch
        known = set(
            act.session.scalars(select(ChangeNeed.role).where(ChangeNeed.change_id == change.id))
        )
        for role in sorted(set(sifting.needs) - known):
            act.session.add(ChangeNeed(change_id=change.id, role=str(role)))
        act.session.flush()
        return tuple(other.number for other in unmet_changes(act.session, change))


def find_like_for_like(
    register: Register, number: str, *, acting: str, reason: str, now: datetime
) -> None:
    """Find that nothing changes: same load, rate, travel and length; the reason says how so."""
    if not reason:
        raise BadInput("why it is like for like is not said", remedy="Say it with --reason")
    with deed(
        register, acting, now, action="find like for like", reason=reason, subject=number
    ) as act:
        change = change_of(act.session, number)
        step = require_step("find like for like", ChangeState(change.state), act.person.roles)
        act.sign(("change", change.id), "found like for like", {}, reason=reason)
        change.state = step.to
