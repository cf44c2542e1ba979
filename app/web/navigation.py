"""The places one can go to from every page, in the order in which they stand there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from supports.vocabulary import Role

if TYPE_CHECKING:
    from app.web.visits import Visit


@dataclass(frozen=True, slots=True)
class Place:
    """A place to go to.

    Parameters
    ----------
    roles
        Whose place it is; nobody else is shown it. Empty: everybody's. What somebody may do there
        is decided by the operations alone.
    aside
        It stands in the menu beside the places that are gone to all day.
    """

    address: str
    words: str
    roles: frozenset[Role] = frozenset()
    aside: bool = False


_KEEPERS = frozenset({Role.REGISTER_KEEPER, Role.COORDINATOR})

PLACES = (
    Place("/", "Waiting"),
    Place("/supports", "Supports"),
    Place("/lines", "Lines"),
    Place("/changes", "Changes"),
    Place("/work-orders", "Orders"),
    Place("/travel-stops", "Travel stops"),
    Place("/start-up", "Start-up"),
    Place("/walkdowns", "Walkdowns", aside=True),
    Place("/findings", "Findings", aside=True),
    Place("/rules", "Rules", aside=True),
    Place("/sheets", "Sheets", aside=True),
    Place("/record", "Record", aside=True),
    Place("/accounts", "Accounts", _KEEPERS, aside=True),
)


@dataclass(frozen=True, slots=True)
class Shown:
    """A place as it is shown: whether the present page lies in it."""

    place: Place
    here: bool


def places_for(visit: Visit) -> tuple[Shown, ...]:
    """Return the places that are shown to the visitor; none before the sign-in."""
    return tuple(_shown(visit)) if visit.account is not None else ()


def _shown(visit: Visit) -> Iterator[Shown]:
    path = visit.request.url.path
    for place in PLACES:
        if not place.roles or place.roles & visit.roles:
            inside = path.startswith(f"{place.address}/") and place.address != "/"
            yield Shown(place, path == place.address or inside)
