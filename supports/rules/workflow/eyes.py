"""Who may act at all, and where a second pair of eyes must be another pair."""

from __future__ import annotations

from collections.abc import Collection

from supports.errors import NotAllowed
from supports.sentences import Sentence, either, joined
from supports.vocabulary import Role


def require_roles(act: str, wanted: Collection[Role], held: Collection[Role]) -> None:
    """Raise NotAllowed unless one of the roles wanted is held."""
    if not set(wanted) & set(held):
        raise NotAllowed(
            Sentence("only {roles} may {act}", roles=either(sorted(wanted)), act=act),
            found=joined(sorted(held), ", ") or "no role",
            remedy="Ask one of those, or be named as deputy: supports people deputy",
        )


def require_other_person(act: str, person: str, others: Collection[str], why: str) -> None:
    """Raise NotAllowed if a second pair of eyes would be the first again."""
    if person in others:
        raise NotAllowed(
            Sentence("{person} may not {act}: {why}", person=person, act=act, why=why),
            remedy="Another person must do it",
        )
