"""Hours by trade: for each item, for each scaffold, and their sums."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from supports.rules.turnaround.norms import Norms
from supports.rules.turnaround.scope import Action, Item, Reason, Scope, Source

NO_SCAFFOLD = ""


@dataclass(frozen=True, slots=True)
class Effort:
    """What one item takes; times [h], hours by trade [man-h].

    Parameters
    ----------
    hours
        Time that the crew is at the unit.
    """

    crew: int
    hours: float
    fitters: float
    inspection: float
    presence: float


@dataclass(frozen=True, slots=True)
class Scaffold:
    """One scaffold, built once for all items that it serves; heights [m], hours [man-h].

    Parameters
    ----------
    height
        Of the highest support it serves; None where no height is known.
    hours
        As laid down by a planner, else by the norms; None where neither tells.
    """

    name: str
    items: tuple[Item, ...]
    height: float | None
    hours: float | None

    def parted(self, norms: Norms) -> tuple[float, float]:
        """Return the man-hours [h] of building and of taking down."""
        whole = self.hours or 0.0
        down = whole * norms.scaffold_down / 100.0
        return whole - down, down


@dataclass(frozen=True, slots=True)
class Totals:
    """Sums over the scope [man-h]; they equal the sums of the lists."""

    fitters: float
    scaffold: float
    inspection: float
    presence: float
    growth: float
    scaffolds_not_known: int

    @property
    def whole(self) -> float:
        """Return the hours of all trades; the allowance for growth is not in it."""
        return self.fitters + self.scaffold + self.inspection + self.presence


def effort_of(item: Item, norms: Norms) -> Effort:
    """Return what an item takes: as its work order was planned, else by the norms."""
    parts = [_part(item.reasons, action, norms) for action in item.actions]
    worked = any(action is not Action.READ for action in item.actions)
    return Effort(
        crew=max(crew for crew, _ in parts),
        hours=sum(hours for _, hours in parts),
        fitters=sum(crew * hours for crew, hours in parts),
        inspection=norms.inspection_hours if worked else 0.0,
        presence=norms.presence_hours if item.holds and item.moves_load else 0.0,
    )


def _part(reasons: Sequence[Reason], action: Action, norms: Norms) -> tuple[int, float]:
    crew, hours = norms.of(action.norm)
    planned = [one for one in reasons if one.action is action and one.source is Source.CHANGE]
    return (
        max((one.crew for one in planned if one.crew), default=crew),
        max((one.hours for one in planned if one.hours), default=hours),
    )


def scaffolds(scope: Scope, norms: Norms) -> list[Scaffold]:
    """Return the scaffolds that the items need, by name.

    A support of no group gets a scaffold of its own where it is high enough, or where nobody knows
    how high it is.
    """
    held: dict[str, list[Item]] = {}
    for item in scope.items:
        if name := scaffold_name(item, norms):
            held.setdefault(name, []).append(item)
    laid_down = dict(scope.scaffold_hours)
    return [_scaffold(name, held[name], laid_down.get(name), norms) for name in sorted(held)]


def scaffold_name(item: Item, norms: Norms) -> str:
    """Return which scaffold serves an item; '' where it is reached from the floor."""
    where = item.where
    if where.scaffold_group:
        return where.scaffold_group
    low = where.height is not None and where.height < norms.scaffold_from
    return NO_SCAFFOLD if low else f"at {where.tag}"


def _scaffold(name: str, items: Sequence[Item], laid_down: float | None, norms: Norms) -> Scaffold:
    heights = [one.where.height for one in items if one.where.height is not None]
    height = max(heights, default=None)
    by_norm = None if height is None else norms.scaffold(height)
    return Scaffold(name, tuple(items), height, by_norm if laid_down is None else laid_down)


def totals(scope: Scope, norms: Norms) -> Totals:
    """Return the sums over the items and their scaffolds."""
    efforts = [effort_of(item, norms) for item in scope.items]
    built = scaffolds(scope, norms)
    fitters = sum(one.fitters for one in efforts)
    return Totals(
        fitters=fitters,
        scaffold=sum(one.hours or 0.0 for one in built),
        inspection=sum(one.inspection for one in efforts),
        presence=sum(one.presence for one in efforts),
        growth=fitters * norms.growth / 100.0,
        scaffolds_not_known=sum(one.hours is None for one in built),
    )
