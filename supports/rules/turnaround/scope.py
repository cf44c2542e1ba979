"""What is to be done at which unit, and why: the same unit asked for twice is one item."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Source(StrEnum):
    """Where a wish for work comes from."""

    CHANGE = "change"
    WALKDOWN = "walkdown"
    RULE = "rule"
    HAND = "by hand"


class Action(StrEnum):
    """What is done at a unit; the gravest first."""

    REPLACE = "replace unit"
    SET_BACK = "set back"
    RE_SET = "re-set"
    TAKE_UP = "take up rod"
    MEND = "see to a finding"
    READ = "read only"

    @property
    def norm(self) -> str:
        """Return the first part of the names of its norms."""
        return _NORMS[self]

    @property
    def moves_load(self) -> bool:
        """Return whether loads move along the line, so that the order of units matters."""
        return self not in {Action.MEND, Action.READ}


_NORMS = {
    Action.REPLACE: "replace",
    Action.SET_BACK: "re_set",
    Action.RE_SET: "re_set",
    Action.TAKE_UP: "take_up",
    Action.MEND: "mend",
    Action.READ: "read",
}


@dataclass(frozen=True, slots=True)
class Reason:
    """One wish for work at one unit, or at a support as a whole.

    Parameters
    ----------
    reference
        Number of the work order or finding, name of the rule, or who asked by hand.
    crew, hours
        People, and time [h] at the unit, where the work order was planned; None takes the norms.
    order_no
        Place of the unit in its work order, which is the order of turning.
    """

    source: Source
    reference: str
    words: str
    action: Action
    change: str = ""
    state_needed: str = ""
    order_no: int = 0
    crew: int | None = None
    hours: float | None = None
    holds: tuple[str, ...] = ()

    @property
    def place(self) -> tuple[str, str]:
        """Return what makes it the same reason at another time."""
        return (self.source, self.reference)

    def __str__(self) -> str:
        """Return it as printed in a list."""
        head = f"{self.change} {self.reference}".strip()
        return f"{self.source} {head}: {self.words}".rstrip(": ")


@dataclass(frozen=True, slots=True)
class Where:
    """A unit, or a support as a whole, with where it is; heights [m]."""

    point_id: int
    unit_id: int | None
    name: str
    tag: str
    line: str
    along: int
    place: str = ""
    height: float | None = None
    scaffold_group: str = ""
    stops_in: tuple[str, ...] = ()

    @property
    def key(self) -> tuple[int, int]:
        """Return what makes it the same place; 0 for a support as a whole."""
        return (self.point_id, self.unit_id or 0)


@dataclass(frozen=True, slots=True)
class Item:
    """One line of the scope: a unit with all reasons why somebody goes there."""

    where: Where
    reasons: tuple[Reason, ...]
    added_on: date | None = None
    after_freeze: bool = False

    @property
    def actions(self) -> tuple[Action, ...]:
        """Return what is done there, the gravest first.

        Who works there reads it anyway, and who sets it sees to what the rules found; what an
        inspector found is work of its own.
        """
        asked = [one for one in Action if any(r.action is one for r in self.reasons)]
        if asked[0].moves_load and not self._found_in_the_field:
            asked = [one for one in asked if one is not Action.MEND]
        return tuple(one for one in asked if one is not Action.READ or len(asked) == 1)

    @property
    def _found_in_the_field(self) -> bool:
        return any(r.action is Action.MEND and r.source is not Source.RULE for r in self.reasons)

    @property
    def states(self) -> tuple[str, ...]:
        """Return the plant states that the work needs; more than one cannot be had at once."""
        return tuple(dict.fromkeys(r.state_needed for r in self.reasons if r.state_needed))

    @property
    def orders(self) -> tuple[str, ...]:
        """Return the work orders that ask for it."""
        named = (r.reference for r in self.reasons if r.source is Source.CHANGE)
        return tuple(dict.fromkeys(named))

    @property
    def holds(self) -> tuple[str, ...]:
        """Return the hold points there."""
        return tuple(dict.fromkeys(words for r in self.reasons for words in r.holds))

    @property
    def moves_load(self) -> bool:
        """Return whether its place in the order of turning matters."""
        return any(one.moves_load for one in self.actions)

    @property
    def turn(self) -> tuple[str, int]:
        """Return its place in the order of turning: work order, place in it."""
        turning = [r for r in self.reasons if r.source is Source.CHANGE and r.action.moves_load]
        return min(((r.reference, r.order_no) for r in turning), default=("", 0))


def merged(wishes: Iterable[tuple[Where, Reason]]) -> list[Item]:
    """Join the wishes for one unit to one item, in the order along the lines.

    A wish for a support as a whole joins the first of its units that is asked for anyway, so that
    nobody goes there twice.
    """
    places: dict[tuple[int, int], Where] = {}
    reasons: dict[tuple[int, int], dict[tuple[str, str], Reason]] = {}
    held = list(wishes)
    units: dict[int, list[Where]] = {}
    for where, _ in held:
        if where.unit_id is not None:
            units.setdefault(where.point_id, []).append(where)
    for where, reason in held:
        at = _at(where, units)
        places.setdefault(at.key, at)
        reasons.setdefault(at.key, {}).setdefault(reason.place, reason)
    return along_lines(Item(where, tuple(reasons[key].values())) for key, where in places.items())


def along_lines(items: Iterable[Item]) -> list[Item]:
    """Return items line by line, in the order along each."""
    return sorted(items, key=lambda one: (one.where.line, one.where.along, one.where.name))


def _at(where: Where, units: Mapping[int, list[Where]]) -> Where:
    if where.unit_id is None and where.point_id in units:
        return min(units[where.point_id], key=lambda one: one.name)
    return where


@dataclass(frozen=True, slots=True)
class Material:
    """A part that the work needs: have, ordered or late."""

    order: str
    item: str
    quantity: float
    status: str
    due_on: date | None = None
    fallback: str = ""


@dataclass(frozen=True, slots=True)
class Before:
    """A job that comes before a work order; `waits_for` names the order meant, if it is one."""

    order: str
    job: str
    waits_for: str = ""


@dataclass(frozen=True, slots=True)
class Scope:
    """All that a turnaround is to do, with what the work orders wait for.

    Parameters
    ----------
    scaffold_hours
        Scaffold groups with the man-hours [h] that a planner laid down for them.
    done, taken_out
        Names of what is done, and of what was taken out again with the reason; not in `items`.
    """

    items: tuple[Item, ...] = ()
    materials: tuple[Material, ...] = ()
    befores: tuple[Before, ...] = ()
    scaffold_hours: tuple[tuple[str, float], ...] = ()
    done: tuple[str, ...] = ()
    taken_out: tuple[tuple[str, str], ...] = ()

    @property
    def after_freeze(self) -> tuple[Item, ...]:
        """Return what came in after the freeze."""
        return tuple(one for one in self.items if one.after_freeze)
