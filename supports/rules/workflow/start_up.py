"""May the plant start up, as far as its pipe supports are concerned: yes, no, or not known."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class MayStart(StrEnum):
    """The answer; there is no yes where something is missing."""

    YES = "yes"
    NO = "no"
    NOT_KNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Blocker:
    """One thing that forbids start-up, or that is missing to say so.

    Parameters
    ----------
    about
        Support, unit or change by name.
    lines
        The lines that it holds back.
    """

    about: str
    what: str
    lines: tuple[str, ...]

    def __str__(self) -> str:
        """Return it as a sentence."""
        return f"{self.about}: {self.what} ({', '.join(self.lines) or 'no line'})"


@dataclass(frozen=True, slots=True)
class StartUp:
    """The answer for a line or the plant, with everything that it rests on."""

    where: str
    supports: int
    stops_in: int
    props_in: int
    blockers: tuple[Blocker, ...]
    missing: tuple[Blocker, ...]

    @property
    def answer(self) -> MayStart:
        """Return yes only if nothing blocks and nothing is missing."""
        if self.blockers:
            return MayStart.NO
        return MayStart.NOT_KNOWN if self.missing or not self.supports else MayStart.YES
