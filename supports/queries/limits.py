"""The site's limits in force, who laid them down and when, and what they were before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import SiteSetting
from supports.rules.rule import Limits, Override
from supports.rules.site_settings import limit_of, limits, proposed_settings
from supports.rules.wording import scope_words
from supports.sentences import Sentence, joined

PROPOSED = "proposed, not confirmed by the site; {source}; {trust}"
SITE = ""
"""Scope of a value that holds everywhere."""


@dataclass(frozen=True, slots=True)
class LaidDown:
    """A limit as the site laid it down on a day; value in SI."""

    name: str
    scope: str
    value: float
    source: str
    trust: str
    owner: str
    valid_from: date

    @property
    def words(self) -> str:
        """Return who laid it down, when, and on what."""
        day = self.valid_from.isoformat()
        said = Sentence("laid down by {owner} from {day}", owner=self.owner, day=day)
        return joined(part for part in (said, self.source, self.trust) if part)


def laid_down(session: Session, name: str = "") -> Sequence[LaidDown]:
    """Return every limit that the site ever laid down, or those of one name, oldest first."""
    known = {name} if name else set(limits())
    query = (
        select(SiteSetting)
        .where(SiteSetting.name.in_(known))
        .order_by(SiteSetting.valid_from, SiteSetting.id)
    )
    return [
        LaidDown(
            name=row.name,
            scope=row.scope,
            value=float(row.value["si"]),
            source=row.source or "",
            trust=str(row.value.get("trust", "")),
            owner=row.owner,
            valid_from=row.valid_from,
        )
        for row in session.scalars(query)
        if is_scope(row.scope)
    ]


def is_scope(scope: str) -> bool:
    """Return whether a scope is that of a limit: the site, one line, one class."""
    return scope == SITE or scope.startswith(("line:", "class:"))


def in_force(session: Session, today: date) -> dict[tuple[str, str], LaidDown]:
    """Return the newest word on each name and scope that holds on a day."""
    return {(one.name, one.scope): one for one in laid_down(session) if one.valid_from <= today}


def limits_in_force(session: Session, today: date) -> Limits:
    """Return the proposed limits with the site's own in their place, lines and classes included."""
    held = in_force(session, today)
    site = {name: one.value for (name, scope), one in held.items() if scope == SITE}
    others = [one for (_, scope), one in held.items() if scope != SITE]
    overrides = tuple(Override(one.name, one.scope, one.value) for one in others)
    return Limits(proposed_settings().with_values(site), overrides)


def limit_origins(session: Session, today: date) -> dict[str, str]:
    """Return by limit where its value is from, and how far that is confirmed."""
    held = in_force(session, today)
    origins: dict[str, str] = {}
    for name, limit in limits().items():
        own = held.get((name, SITE))
        proposed = Sentence(PROPOSED, source=limit.source, trust=limit.trust)
        parts = [own.words if own else proposed]
        parts += [
            Sentence(
                "for {place}: {value}, {words}",
                place=scope_words(scope),
                value=limit_of(name).shown(one.value),
                words=one.words,
            )
            for (other, scope), one in held.items()
            if other == name and scope != SITE
        ]
        origins[name] = joined(parts)
    return origins
