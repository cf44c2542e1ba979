"""Lay down a limit, or a profile of limits; what held before stays on record."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import select

from supports.database import Register
from supports.errors import BadInput, Conflict
from supports.model import SiteSetting
from supports.operations.acting import Deed, deed
from supports.queries.limits import SITE, is_scope
from supports.queries.lookups import line_of
from supports.rules.site_settings import ProfileValue, limit_of, profile_of
from supports.rules.workflow import require_roles
from supports.vocabulary import Role

CONFIRMED = "confirmed by the site"
KEEPERS = {Role.RESPONSIBLE_ENGINEER, Role.STRESS_ENGINEER}


@dataclass(frozen=True, slots=True)
class Wanted:
    """A limit to lay down: its value in the limit's own unit, where it holds, since when, why."""

    name: str
    value: float
    source: str
    scope: str = SITE
    valid_from: date | None = None
    trust: str = CONFIRMED


def lay_down_limit(register: Register, wanted: Wanted, *, acting: str, now: datetime) -> None:
    """Lay down one limit for the site, one line or one class.

    Raises
    ------
    NotFound
        There is no such limit, or no such line.
    BadInput
        No source is given, the value is below nought, or the scope is none.
    Conflict
        The same limit was laid down for the same day already.
    NotAllowed
        The person is neither responsible engineer nor stress engineer.
    """
    with deed(
        register, acting, now, action="lay down a limit", reason=wanted.source, subject=wanted.name
    ) as act:
        require_roles("lay down a limit", KEEPERS, act.person.roles)
        _lay_down(act, wanted)


def choose_profile(
    register: Register, name: str, *, acting: str, now: datetime, valid_from: date | None = None
) -> tuple[ProfileValue, ...]:
    """Lay down every value of a profile, each with its source and how far that was confirmed."""
    values = profile_of(name)
    with deed(register, acting, now, action="choose a profile", reason=name, subject=name) as act:
        require_roles("choose a profile", {Role.RESPONSIBLE_ENGINEER}, act.person.roles)
        for one in values:
            source = f"profile {name}: {one.source}"
            _lay_down(
                act,
                Wanted(one.name, float(one.value), source, SITE, valid_from, one.trust),
            )
    return values


def _lay_down(act: Deed, wanted: Wanted) -> None:
    limit, day = limit_of(wanted.name), wanted.valid_from or act.today
    _check(act, wanted)
    taken = select(SiteSetting.id).where(
        SiteSetting.name == wanted.name,
        SiteSetting.scope == wanted.scope,
        SiteSetting.valid_from == day,
    )
    if act.session.scalar(taken) is not None:
        raise Conflict(
            f"{wanted.name} was laid down for {day.isoformat()} already",
            remedy="Say from which later day the new value holds, with --valid-from",
        )
    act.session.add(
        SiteSetting(
            name=wanted.name,
            scope=wanted.scope,
            value={
                "si": limit.to_si(wanted.value),
                "written": f"{wanted.value:g} {limit.unit}",
                "trust": wanted.trust,
            },
            source=wanted.source,
            owner=act.person.name,
            valid_from=day,
        )
    )


def _check(act: Deed, wanted: Wanted) -> None:
    if not wanted.source.strip():
        raise BadInput("a limit needs its source", remedy="Give it with --source")
    if not wanted.value >= 0.0:
        raise BadInput("a limit is not below nought", found=f"{wanted.value:g}")
    if not is_scope(wanted.scope):
        raise BadInput(
            "a limit holds for the site, one line or one class", found=wanted.scope,
            expected="line:NUMBER or class:LETTER",
        )  # fmt: skip
    if wanted.scope.startswith("line:"):
        line_of(act.session, wanted.scope.removeprefix("line:"))
