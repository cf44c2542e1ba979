"""Files joined to the register: what was decided before is used, the four lists are shown."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from string import ascii_letters

from importers.joined_records import JoinedRecords, join_records
from importers.joining import (
    FormerTag,
    Index,
    Joined,
    KnownSupport,
    Match,
    OtherTags,
    Question,
    Stranger,
)
from importers.reading import ReadResult
from supports.database import Register
from supports.errors import BadInput
from supports.queries.joining import (
    Decided,
    DecisionView,
    decisions_of,
    point_marks,
    point_tags,
    present_tags,
)
from supports.sentences import joined
from supports.vocabulary import counted

SHOWN = 10
"""Rows shown of each list; the rest is counted."""


@dataclass(frozen=True, slots=True)
class Acquaintance:
    """The supports known, and what was decided on names in files of a source."""

    supports: tuple[KnownSupport, ...]
    decided: Decided
    index: Index
    tags: frozenset[str] | None = None
    """The present tags of these supports; None where they are all of the register."""

    def under_all_names(self, by_tag: Mapping[str, float]) -> dict[str, float]:
        """Return values by tag under the former and the accepted names of supports as well."""
        names = {
            former.tag: s.tag for s in self.supports for former in s.former
        } | self.decided.joined
        return {name: by_tag[tag] for name, tag in names.items() if tag in by_tag} | dict(by_tag)

    def joined(self, result: ReadResult, on: date) -> JoinedRecords:
        """Bring what was read under the tags of the register."""
        return join_records(result, self.index, own=self.decided.own, on=on)


def acquaintance(
    register: Register, source: str, asked: Collection[str] | None = None
) -> Acquaintance:
    """Return what the register knows supports by.

    Parameters
    ----------
    asked
        Every name that the file may speak of: other supports are looked up only where one of them
        is not found. All supports if None.
    """
    with register.reading() as session:
        decided = decisions_of(session, source)
        named = None if asked is None else {*asked, *decided.joined.values()}
        names = point_tags(session, named)
    supports = tuple(
        KnownSupport(one.tag, one.since, tuple(FormerTag(*life) for life in one.former))
        for one in names
    )
    others = (
        None
        if asked is None
        else OtherTags(lambda: _present(register, None), lambda keys: _present(register, keys))
    )
    index = Index(supports, decided.joined, lambda: _with_marks(register), others)
    tags = None if asked is None else frozenset(support.tag for support in supports)
    return Acquaintance(supports, decided, index, tags)


def _present(register: Register, keys: Collection[str] | None) -> list[str]:
    with register.reading() as session:
        return present_tags(session, keys)


def _with_marks(register: Register) -> Iterator[KnownSupport]:
    """Yield the supports with what few files ask for: serial numbers, nodes and places."""
    with register.reading() as session:
        marks = point_marks(session)
    for one in marks:
        yield KnownSupport(
            one.tag,
            serials=tuple(one.serials),
            nodes=tuple(one.nodes),
            places=tuple(one.places),
        )


def four_lists(found: JoinedRecords, *, every: bool) -> Iterator[str]:
    """Return the four lists as lines, the last one both ways."""
    joined, counts = found.joined, found.counts
    yield from _list("matched", [_match(m, counts) for m in joined.matched], every=every)
    cleaned = [_match(m, counts) for m in joined.cleaned]
    yield from _list("matched after cleaning", cleaned, every=every)
    yield f"to be decided: {len(joined.to_decide)}"
    for question in joined.to_decide:
        yield from _question(question, counts)
    unknown = [_stranger(s, counts) for s in joined.not_found]
    yield from _list("in the file, not in the register", unknown, every=every)
    yield from _list("in the register, not in the file", list(joined.not_met), every=every)
    rows = {(v.sheet, v.cell.strip(ascii_letters + " ")) for v in found.result.withheld}
    if rows:
        yield f"{counted(len(rows), 'row')} with other faults; see them with: supports sheets check"


def _list(title: str, rows: list[str], *, every: bool) -> Iterator[str]:
    yield f"{title}: {len(rows)}"
    shown = rows if every else rows[:SHOWN]
    yield from (f"  {row}" for row in shown)
    if len(shown) < len(rows):
        yield f"  and {len(rows) - len(shown)} more; see them with --every"


def _where(stranger: Stranger, counts: Mapping[str, int]) -> str:
    times = counts.get(stranger.name, 1)
    rows = "row" if times == 1 else f"{times} rows, first row"
    return f"{stranger.name} ({stranger.sheet} {rows} {stranger.row})"


def _match(match: Match, counts: Mapping[str, int]) -> str:
    return f"{_where(match.stranger, counts)} = {match.tag}: {match.step}"


def _question(question: Question, counts: Mapping[str, int]) -> Iterator[str]:
    yield f"  {_where(question.stranger, counts)}: {question.what}"
    for candidate in question.candidates:
        yield f"      {candidate.tag}: {candidate.reason}"


def _stranger(stranger: Stranger, counts: Mapping[str, int]) -> str:
    new = ", listed there as a support: would be new" if stranger.states_support else ""
    return f"{_where(stranger, counts)}{new}"


def next_step(joined: Joined, source: str) -> str:
    """Return what comes after the four lists."""
    of = f" --source '{source}'" if source else ""
    if joined.to_decide:
        name = joined.to_decide[0].stranger.name
        ways = "--same-as TAG, or --renamed-from TAG --since DAY, or --its-own"
        return f"Next: supports sheets decide '{name}'{of} {ways}"
    return f"Nothing is left to decide. Next: supports sheets import FILE{of}"


def decision_lines(views: Iterable[DecisionView]) -> Iterator[str]:
    """Return decisions as lines: who said what of which name when, and what holds."""
    for view in views:
        what = f"{view.kind} {view.support}".strip()
        if view.since:
            what = f"{what} since {view.since}"
        why = f": {view.reason}" if view.reason else ""
        state = "  (holds)" if view.holds else ""
        yield (
            f"{view.decided_at:%Y-%m-%d}  {view.source or '(any)':<16} '{view.name}' {what}, by "
            f"{view.person}{why}{state}"
        )


def one_of(**ways: object) -> None:
    """Raise unless exactly one way to decide was chosen."""
    chosen = [name for name, said in ways.items() if said]
    if len(chosen) != 1:
        raise BadInput(
            "a decision says one thing",
            found=joined(chosen, ", ") or "nothing",
            expected="--same-as TAG, --renamed-from TAG, --its-own, or --undo",
        )
