"""Faults in data, as values with stable codes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from supports.errors import sentence
from supports.sentences import Sentence


class Severity(StrEnum):
    """How soon somebody must act, in plain words."""

    STOP = "STOP"
    """Must not start up, must not work, must not be stored."""
    ACT = "ACT"
    """Needs a decision with a date."""
    LOOK = "LOOK"
    """Check at the next chance."""
    NOTE = "NOTE"
    """Information."""

    @property
    def rank(self) -> int:
        """0 for the gravest."""
        return list(Severity).index(self)


class Answer(StrEnum):
    """What a rule says of one subject."""

    FAILS = "fails"
    PASSES = "passes"
    NOT_APPLICABLE = "not applicable"
    CANNOT_JUDGE = "cannot judge"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a value stands: file, sheet, cell. Parts not known are empty."""

    file: str = ""
    sheet: str = ""
    cell: str = ""

    def __str__(self) -> str:
        return " ".join(part for part in (self.file, self.sheet, self.cell) if part)


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault in data: what, where, found, expected, remedy, under a stable code.

    Parameters
    ----------
    code
        Stable, lower-case words joined by dashes, e.g. ``unit-not-stated``.
    subject
        Tag, line number or other name of the thing concerned; may be empty.
    """

    code: str
    severity: Severity
    what: str
    place: Place = Place()
    found: str = ""
    expected: str = ""
    remedy: str = ""
    subject: str = ""

    def __str__(self) -> str:
        """Return the whole sentence."""
        return sentence(self.what, str(self.place), self.found, self.expected, self.remedy)

    @property
    def missing(self) -> tuple[str, ...]:
        """Return what is not known, where that is the fault."""
        said = self.what.values.get("missing", ()) if isinstance(self.what, Sentence) else ()
        return (said,) if isinstance(said, str) else said

    @property
    def forbids_storing(self) -> bool:
        """Return whether data with this finding may not be stored."""
        return self.severity is Severity.STOP


MISSING = "cannot judge (missing: {missing})"
WAITING = "cannot judge (waiting: {waiting})"
BOTH = "cannot judge (waiting: {waiting}; missing: {missing})"


def cannot_judge(missing: Sequence[str], waiting: Sequence[str] = ()) -> Sentence:
    """Return 'cannot judge' with what waits for an answer and what is missing."""
    absent, waits = tuple(missing), tuple(waiting)
    if not waits:
        return Sentence(MISSING, missing=absent)
    if not absent:
        return Sentence(WAITING, waiting=waits)
    return Sentence(BOTH, waiting=waits, missing=absent)


def counts_by_code(findings: Iterable[Finding]) -> dict[str, int]:
    """Count findings by code, most frequent first."""
    return dict(Counter(finding.code for finding in findings).most_common())


def any_forbids(findings: Iterable[Finding]) -> bool:
    """Return whether one of the findings forbids storing."""
    return any(finding.forbids_storing for finding in findings)
