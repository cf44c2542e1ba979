"""What a change record says, part by part, and which signatures still stand on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date, datetime

from supports.freezing import fingerprint
from supports.sentences import Sentence
from supports.snapshots import WeightItemView

FIVE_ITEMS = {
    "technical_basis": "technical basis",
    "safety_and_health": "impact on safety and health",
    "operating_procedures": "modifications to operating procedures",
    "time_period": "necessary time period",
    "authorization": "authorization requirements",
}
"""What 29 CFR 1910.119(l)(2) (i) to (v) wants addressed before any change, by field."""


@dataclass(frozen=True, slots=True)
class ChangeRecord:
    """All that people wrote about a change, apart from its assessment."""

    number: str
    title: str
    reason: str
    duration: str
    ends_on: date | None
    depth: str
    stretch: str
    owner: str
    watch_days: int | None
    five: Mapping[str, str]
    lines: tuple[str, ...]
    weights: tuple[WeightItemView, ...]
    needs: tuple[str, ...]
    """Roles whose word is asked for."""

    @property
    def items_missing(self) -> tuple[str, ...]:
        """Return which of the five items nobody has written yet."""
        return tuple(words for field, words in FIVE_ITEMS.items() if not self.five.get(field))


def parts_of(record: ChangeRecord, assessment: str) -> dict[str, str]:
    """Return the fingerprint of every part that a signature on the change covers."""
    parts: dict[str, object] = {
        "assessment": assessment,
        "title and reason": [record.title, record.reason],
        "lines": list(record.lines),
        "weights": [asdict(weight) for weight in record.weights],
        "duration and end date": [record.duration, str(record.ends_on or "")],
        "owner and watch": [record.owner, record.watch_days],
        "depth and stretch": [record.depth, record.stretch, list(record.needs)],
    }
    parts |= {words: record.five.get(field, "") for field, words in FIVE_ITEMS.items()}
    return {name: fingerprint(part) for name, part in parts.items()}


def changed_parts(signed: Mapping[str, str], present: Mapping[str, str]) -> tuple[str, ...]:
    """Return the parts that say something else now than when they were signed."""
    names = dict.fromkeys([*signed, *present])
    return tuple(name for name in names if signed.get(name) != present.get(name))


@dataclass(frozen=True, slots=True)
class Signed:
    """A signature with what became of it: void where a part that it covers was changed."""

    meaning: str
    person: str
    role: str
    signed_at: datetime
    reason: str
    changed: tuple[str, ...] = ()
    mark: str = ""
    """Fingerprint of all that it covers, as it was signed."""

    @property
    def stands(self) -> bool:
        """Return whether it still says what was signed."""
        return not self.changed

    @property
    def in_words(self) -> Sentence:
        """Return it as a sentence."""
        pattern = "{meaning} by {person} ({role}) on {day}"
        pattern += ": void, changed since: {parts}" if self.changed else ""
        pattern += " - {reason}" if self.reason else ""
        return Sentence(
            pattern,
            meaning=self.meaning, person=self.person, role=self.role,
            day=f"{self.signed_at:%Y-%m-%d}", parts=self.changed, reason=self.reason,
        )  # fmt: skip

    def __str__(self) -> str:
        return str(self.in_words)
