"""Findings as views: whose, how old, overdue."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from supports.rules.walkdown.flow import FindingState


@dataclass(frozen=True, slots=True)
class FindingStepView:
    """One step of a finding."""

    act: str
    went_to: str
    done_by: str
    done_on: date
    words: str


@dataclass(frozen=True, slots=True)
class FindingView:
    """A finding with where it stands."""

    number: str
    campaign: str
    tag: str
    code: str
    severity: str
    what: str
    how_soon: str
    state: FindingState
    found_on: date
    found_by: str
    told: str = ""
    owner: str = ""
    due_on: date | None = None
    answer: str = ""
    reference: str = ""
    done_by: str = ""
    verified_by: str = ""
    accepted_until: date | None = None
    steps: tuple[FindingStepView, ...] = ()

    def wants_something(self, today: date) -> bool:
        """Return whether it is not at its end, or its acceptance has run out."""
        if self.state is FindingState.ACCEPTED:
            return self.accepted_until is not None and self.accepted_until < today
        return self.state is not FindingState.CLOSED

    def overdue(self, today: date) -> bool:
        """Return whether its day has passed; no day is not overdue but ownerless."""
        day = self.accepted_until if self.state is FindingState.ACCEPTED else self.due_on
        return self.wants_something(today) and day is not None and day < today

    @property
    def ownerless(self) -> bool:
        """Return whether nobody, or no day, is named."""
        return not self.owner or not (self.due_on or self.accepted_until)
