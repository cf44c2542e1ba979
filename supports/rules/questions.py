"""A question about the register in a few plain filters, kept as words."""

from __future__ import annotations

from dataclasses import asdict, dataclass, fields
from datetime import date
from typing import Any

from supports.errors import BadInput
from supports.findings import Answer, Severity
from supports.sentences import Sentence, joined
from supports.vocabulary import SupportKind, Verdict


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked for; what is not said does not narrow.

    Parameters
    ----------
    verdict
        What the rules on loads would make of the support today: re-set, leave, cannot judge, ...
    answer
        'fails' or 'cannot judge', of the rule named or of any.
    room_below
        The required load is nearer than this to an end of its range [N].
    not_read_since
        No reading since that day, or none at all.
    part_of_tag
        A part of the tag, however it is written.
    """

    area: str = ""
    line: str = ""
    kind: str = ""
    criticality: str = ""
    verdict: str = ""
    rule: str = ""
    severity: str = ""
    answer: str = ""
    room_below: float | None = None
    not_read_since: date | None = None
    part_of_tag: str = ""

    @property
    def asks_rules(self) -> bool:
        """Return whether the rules, or values that they work with, must be looked at."""
        narrow = self.room_below is not None or self.not_read_since is not None
        return narrow or bool(self.verdict) or self.asks_for_findings

    @property
    def asks_for_findings(self) -> bool:
        """Return whether it asks for what the rules found."""
        return bool(self.rule or self.severity or self.answer)

    def checked(self) -> Question:
        """Return the question if its words are known.

        Raises
        ------
        BadInput
            A word is not in its list.
        """
        lists = {
            "kind": SupportKind,
            "verdict": Verdict,
            "severity": Severity,
            "answer": Answer,
        }
        for name, words in lists.items():
            said = getattr(self, name)
            if said and said not in list(words):
                raise BadInput(
                    Sentence("{name} '{said}' is not known", name=name, said=said),
                    expected=joined(words, ", "),
                )
        return self

    @property
    def as_words(self) -> dict[str, Any]:
        """Return what narrows, as it is kept."""
        said = {name: value for name, value in asdict(self).items() if value not in {"", None}}
        if self.not_read_since is not None:
            said["not_read_since"] = self.not_read_since.isoformat()
        return said

    @classmethod
    def of_words(cls, words: dict[str, Any]) -> Question:
        """Return the question that was kept."""
        known = {item.name for item in fields(cls)}
        said = {name: value for name, value in words.items() if name in known}
        if "not_read_since" in said:
            said["not_read_since"] = date.fromisoformat(said["not_read_since"])
        return cls(**said).checked()
