"""The record of a campaign: all that its close-out says, ready to be frozen at the sign-off."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date

from supports.rules.walkdown.findings import FindingView
from supports.rules.walkdown.flow import CampaignState
from supports.rules.walkdown.judgement import JudgedItem, counts
from supports.rules.walkdown.limits import WalkLimits
from supports.rules.walkdown.words import Half
from supports.vocabulary import PlantState


@dataclass(frozen=True, slots=True)
class StepView:
    """One step of a campaign: what, by whom, when."""

    act: str
    went_to: str
    done_by: str
    done_on: date
    words: str = ""


@dataclass(frozen=True, slots=True)
class DifferingView:
    """A row on which walkers differed: all that they wrote, and what was chosen by name.

    Parameters
    ----------
    entries
        Walker and words.
    """

    tag: str
    entries: tuple[tuple[str, str], ...]
    chosen: str = ""
    chosen_by: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class EarlierWalk:
    """A walk before this one, by its counts."""

    number: str
    rows: int
    findings: int


@dataclass(frozen=True, slots=True)
class CampaignRecord:
    """A campaign as it stands on a day.

    Parameters
    ----------
    form_revision
        Of the newest form issued.
    previous
        Walks before, oldest first.
    """

    plant: str
    campaign: str
    title: str
    half: Half
    state_wanted: PlantState
    walk_on: date
    state: CampaignState
    today: date
    form_revision: int
    limits: WalkLimits
    rows: tuple[JudgedItem, ...]
    findings: tuple[FindingView, ...]
    steps: tuple[StepView, ...] = ()
    differing: tuple[DifferingView, ...] = ()
    previous: tuple[EarlierWalk, ...] = ()

    @property
    def standing(self) -> dict[str, int]:
        """Return the rows counted by standing."""
        return counts(self.rows)

    @property
    def seen(self) -> tuple[JudgedItem, ...]:
        """Return the rows seen."""
        return tuple(one for one in self.rows if _is_seen(one))

    @property
    def not_seen(self) -> tuple[JudgedItem, ...]:
        """Return the rows not seen, with or without a reason."""
        return tuple(one for one in self.rows if not _is_seen(one))

    @property
    def by_state(self) -> list[tuple[str, int]]:
        """Return the findings counted by where they stand."""
        return Counter(str(one.state) for one in self.findings).most_common()

    @property
    def verdict(self) -> str:
        """Return the engineer's verdict in words, with the name."""
        said = [one for one in self.steps if one.act == "give verdict"]
        return f"{said[-1].words} ({said[-1].done_by}, {said[-1].done_on})" if said else ""

    @property
    def lines(self) -> dict[str, list[JudgedItem]]:
        """Return the rows by line, each in the line's own order."""
        held: dict[str, list[JudgedItem]] = {}
        for one in self.rows:
            line = one.facts.support.lines[0] if one.facts.support.lines else "no line"
            held.setdefault(line, []).append(one)
        return {
            line: sorted(rows, key=lambda one: one.facts.support.order_on(line))
            for line, rows in held.items()
        }

    def done_by(self, act: str) -> str:
        """Return who took a step last; '' where nobody did."""
        return next((one.done_by for one in reversed(self.steps) if one.act == act), "")


def _is_seen(one: JudgedItem) -> bool:
    return one.facts.found is not None and one.facts.found.is_seen
