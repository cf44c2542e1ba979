"""When each support was last seen, and when it is to be seen again."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from supports.rules.walkdown.limits import WalkLimits


@dataclass(frozen=True, slots=True)
class Seen:
    """A support and the days on which it was seen operating and shut down; None is never."""

    tag: str
    area: str
    criticality: str
    lines: tuple[str, ...]
    operating: date | None = None
    shut_down: date | None = None
    any_state: date | None = None

    @property
    def never(self) -> bool:
        """Return whether nobody ever saw it, as far as records tell."""
        return self.any_state is None

    def due(self, limits: WalkLimits) -> date | None:
        """Return the day on which the next walk is due; None where it was never seen."""
        if self.any_state is None:
            return None
        return add_months(self.any_state, round(limits.interval(self.criticality)))

    def overdue(self, today: date, limits: WalkLimits) -> bool:
        """Return whether the interval of its class has passed; never seen is overdue."""
        due = self.due(limits)
        return due is None or due < today

    def paired(self, limits: WalkLimits) -> bool:
        """Return whether both halves of the last cycle were walked close enough together."""
        if self.operating is None or self.shut_down is None:
            return False
        return abs((self.operating - self.shut_down).days) <= limits.pair_days


@dataclass(frozen=True, slots=True)
class Coverage:
    """Counts over many supports."""

    supports: int
    seen: int
    never: int
    overdue: int
    unpaired: int


def coverage(seen: Iterable[Seen], today: date, limits: WalkLimits) -> Coverage:
    """Count supports seen, never seen, overdue, and seen without a pair."""
    held = tuple(seen)
    return Coverage(
        supports=len(held),
        seen=sum(not one.never for one in held),
        never=sum(one.never for one in held),
        overdue=sum(one.overdue(today, limits) for one in held),
        unpaired=sum(not one.never and not one.paired(limits) for one in held),
    )


def add_months(day: date, months: int) -> date:
    """Return the same day so many months on; the month's last day where it has fewer.

    >>> add_months(date(2024, 1, 31), 1)
    datetime.date(2024, 2, 29)
    """
    years, month = divmod(day.month - 1 + months, 12)
    for last in range(day.day, 27, -1):
        try:
            return date(day.year + years, month + 1, last)
        except ValueError:
            continue
    return date(day.year + years, month + 1, day.day)
