"""The order of walking: floor by floor, row by row, never back along a row that was walked."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from supports.rules.walkdown.limits import WalkLimits
from supports.snapshots import SupportView
from supports.tags import natural_key

NO_FLOOR, NO_ROW = "floor not known", "row not known"


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch of the walk along one row of one floor."""

    floor: str
    row: str
    tags: tuple[str, ...]
    minutes: float


def row_and_bay(grid: str) -> tuple[str, str]:
    """Split a place on the column grid; what has no comma is all row.

    >>> row_and_bay("row H, bay 18")
    ('row H', 'bay 18')
    """
    row, _, bay = grid.partition(",")
    return row.strip(), bay.strip()


def walking_order(supports: Iterable[SupportView]) -> list[SupportView]:
    """Return supports floor by floor; along a row and back along the next; unknown places last."""
    ordered: list[SupportView] = []
    for floor in _groups(supports, lambda one: one.floor):
        rows = _groups(floor, lambda one: row_and_bay(one.grid)[0])
        for number, row in enumerate(rows):
            bays = sorted(
                row, key=lambda one: (natural_key(row_and_bay(one.grid)[1]), natural_key(one.tag))
            )
            ordered += bays[::-1] if number % 2 else bays
    return ordered


def legs(ordered: Sequence[SupportView], limits: WalkLimits) -> tuple[Leg, ...]:
    """Return the stretches of a walk with their planning time [minutes]."""
    made: list[Leg] = []
    for one in ordered:
        floor, row = one.floor or NO_FLOOR, row_and_bay(one.grid)[0] or NO_ROW
        spent = minutes_at(one, limits)
        if made and (made[-1].floor, made[-1].row) == (floor, row):
            last = made.pop()
            made.append(Leg(floor, row, (*last.tags, one.tag), last.minutes + spent))
        else:
            made.append(Leg(floor, row, (one.tag,), spent))
    return tuple(made)


def minutes_at(support: SupportView, limits: WalkLimits) -> float:
    """Return the planning time at a support; an unknown height is planned as climbed to."""
    height = support.height_above_floor
    return (
        limits.minutes_each
        if height is not None and height <= limits.reach
        else (limits.minutes_high)
    )


def _groups(
    supports: Iterable[SupportView], name: Callable[[SupportView], str]
) -> list[list[SupportView]]:
    groups: dict[str, list[SupportView]] = {}
    for one in supports:
        groups.setdefault(name(one), []).append(one)
    return [groups[key] for key in sorted(groups, key=lambda word: (not word, natural_key(word)))]
