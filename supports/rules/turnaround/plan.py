"""A plan as it is kept: the scope and the norms it was made from, and the schedule."""

from __future__ import annotations

from dataclasses import dataclass

from supports.rules.turnaround.effort import Scaffold, Totals, scaffolds, totals
from supports.rules.turnaround.norms import Norms
from supports.rules.turnaround.schedule import Schedule
from supports.rules.turnaround.scope import Item, Scope
from supports.rules.turnaround.tasks import Window


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything that a plan says; frozen with a fingerprint.

    Parameters
    ----------
    not_planned
        Units that no time was found for, each with the reason.
    """

    scope: Scope
    norms: Norms
    windows: tuple[Window, ...]
    schedule: Schedule
    not_planned: tuple[tuple[str, str], ...]

    @property
    def totals(self) -> Totals:
        """Return the sums over the whole scope, planned or not."""
        return totals(self.scope, self.norms)

    @property
    def scaffolds(self) -> list[Scaffold]:
        """Return the scaffolds of the whole scope."""
        return scaffolds(self.scope, self.norms)

    @property
    def critical_units(self) -> tuple[str, ...]:
        """Return the units whose work moves the end if it slips."""
        named = set(self.schedule.critical)
        held = (u for p in self.schedule.placed if p.task.name in named for u in p.task.units)
        return tuple(dict.fromkeys(held))

    def item_of(self, name: str) -> Item | None:
        """Return the item of a unit by its name."""
        return next((one for one in self.scope.items if one.where.name == name), None)
