"""A finding may be accepted for a time, by the right person; it stays shown and counted."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from supports.errors import BadInput, NotAllowed
from supports.findings import Severity
from supports.rules.run import Found
from supports.sentences import Sentence, either, joined
from supports.vocabulary import Role

MAY_ACCEPT: Mapping[Severity, frozenset[Role]] = {
    Severity.STOP: frozenset({Role.RESPONSIBLE_ENGINEER}),
    Severity.ACT: frozenset({Role.RESPONSIBLE_ENGINEER, Role.STRESS_ENGINEER}),
    Severity.LOOK: frozenset({Role.RESPONSIBLE_ENGINEER, Role.STRESS_ENGINEER, Role.INSPECTOR}),
    Severity.NOTE: frozenset({Role.RESPONSIBLE_ENGINEER, Role.STRESS_ENGINEER, Role.INSPECTOR}),
}
"""Who may accept a finding of each severity; common practice, no source."""


class Standing(StrEnum):
    """Where a finding stands."""

    OPEN = "open"
    ACCEPTED = "accepted"
    RUN_OUT = "acceptance ran out"
    OVERTAKEN = "accepted on other facts, to be assessed again"


@dataclass(frozen=True, slots=True)
class Acceptance:
    """The newest word of acceptance on one finding."""

    rule: str
    subject: str
    key: int
    name: str
    inputs: str
    by: str
    role: str
    accepted_on: date
    until: date
    reason: str

    @property
    def place(self) -> tuple[str, str, int]:
        """Return which finding it is about."""
        return (self.rule, self.subject, self.key)

    @property
    def is_withdrawn(self) -> bool:
        """Return whether the word took an acceptance back."""
        return self.until < self.accepted_on

    @property
    def words(self) -> str:
        """Return the acceptance as a sentence."""
        if self.is_withdrawn:
            return f"acceptance withdrawn by {self.by} on {self.accepted_on}: {self.reason}"
        return f"accepted by {self.by} ({self.role}) until {self.until}: {self.reason}"


def standing_of(found: Found, accepted: Acceptance | None, today: date) -> Standing:
    """Return where a finding stands; other facts outrank a date that still holds."""
    if accepted is None or accepted.is_withdrawn:
        return Standing.OPEN
    if accepted.until < today:
        return Standing.RUN_OUT
    return Standing.ACCEPTED if accepted.inputs == found.inputs else Standing.OVERTAKEN


@dataclass(frozen=True, slots=True)
class Stood:
    """A finding with where it stands and the word on it."""

    found: Found
    standing: Standing
    accepted: Acceptance | None = None


def stood(
    found: Iterable[Found], acceptances: Mapping[tuple[str, str, int], Acceptance], today: date
) -> tuple[Stood, ...]:
    """Return every finding with where it stands; none is left out."""
    return tuple(
        Stood(one, standing_of(one, acceptances.get(one.place), today), acceptances.get(one.place))
        for one in found
    )


def require_may_accept(
    found: Found, roles: Collection[Role], reason: str, until: date, today: date
) -> str:
    """Return the role in which a person may accept a finding.

    Raises
    ------
    NotAllowed
        The person holds none of the roles.
    BadInput
        There is no reason, or the end date lies in the past.
    """
    if not reason.strip():
        raise BadInput("accepting a finding needs its reason", remedy="Give it with --reason")
    if until < today:
        raise BadInput(
            "an acceptance ends today or later", found=until.isoformat(), remedy="Give --until"
        )
    able = sorted(MAY_ACCEPT[found.severity] & set(roles))
    if not able:
        raise NotAllowed(
            Sentence(
                "a finding of severity {severity} is accepted by {names} only",
                severity=found.severity,
                names=either(sorted(MAY_ACCEPT[found.severity])),
            ),
            found=joined(sorted(roles), ", ") or "no role",
        )
    return able[0]
