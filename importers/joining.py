"""Join the rows of another file to the supports of the register, in a declared order.

The order: accepted before, present tag, former tag valid on the day, tag after harmless cleaning,
serial number, calculation node, line and order. Whoever bears another tag than the support it is
joined to by a later step is a rename for a person to confirm. What only resembles a tag (O for 0,
I for 1) is never joined.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import NamedTuple

from importers.likeness import Likeness
from supports import tags
from supports.sentences import Sentence, joined


@dataclass(frozen=True, slots=True)
class FormerTag:
    """A tag that a support bore, from a day to a day; None is not known."""

    tag: str
    since: date | None = None
    until: date | None = None


class KnownSupport(NamedTuple):
    """What the register knows a support by."""

    tag: str
    since: date | None = None
    former: tuple[FormerTag, ...] = ()
    serials: tuple[str, ...] = ()
    nodes: tuple[tuple[str, str], ...] = ()
    """Calculation and node."""
    places: tuple[tuple[str, int], ...] = ()
    """Line and order along it."""


@dataclass(frozen=True, slots=True)
class Stranger:
    """What a row of another file tells of its support; empty where it tells nothing."""

    row: int
    tag: str = ""
    on: date | None = None
    serial: str = ""
    calculation: str = ""
    node: str = ""
    line: str = ""
    order: int | None = None
    sheet: str = ""
    states_support: bool = False
    """The file itself lists it as a support: letters that merely resemble mean nothing then."""

    @property
    def name(self) -> str:
        """Return the tag, or what else names the row: a decision is kept under it."""
        if self.tag:
            return self.tag
        if self.serial:
            return f"serial {self.serial}"
        if self.node:
            return f"node {self.node} of {self.calculation}"
        return f"{self.line} order {self.order}" if self.order is not None else ""


class Step(StrEnum):
    """How a row was joined, in the order tried."""

    ACCEPTED = "accepted before"
    PRESENT = "present tag"
    FORMER = "former tag"
    CLEANED = "tag after cleaning"
    SERIAL = "serial number"
    NODE = "calculation node"
    PLACE = "line and order"


@dataclass(frozen=True, slots=True)
class Match:
    """A row joined to a support."""

    stranger: Stranger
    tag: str
    step: Step
    reason: str


@dataclass(frozen=True, slots=True)
class Candidate:
    """A support that a row may belong to, and why."""

    tag: str
    reason: str


@dataclass(frozen=True, slots=True)
class Question:
    """A row that a person must decide on: candidates, likeliest first."""

    stranger: Stranger
    what: str
    candidates: tuple[Candidate, ...]

    @property
    def choices(self) -> str:
        """Return the candidates in words, each with its reason."""
        return joined(
            Sentence("{tag} ({reason})", tag=one.tag, reason=one.reason) for one in self.candidates
        )


@dataclass(frozen=True, slots=True)
class Joined:
    """The four lists, the last one both ways."""

    matched: tuple[Match, ...]
    cleaned: tuple[Match, ...]
    to_decide: tuple[Question, ...]
    not_found: tuple[Stranger, ...]
    not_met: tuple[str, ...]
    """Tags of the register that no row was joined to."""


@dataclass(frozen=True, slots=True)
class OtherTags:
    """The present tags of the whole register, where an index knows only those that a file names.

    Parameters
    ----------
    every
        All of them.
    keyed
        Those that have one of some matching keys.
    """

    every: Callable[[], Sequence[str]]
    keyed: Callable[[Collection[str]], Sequence[str]]


ONE_BY_ONE = 200
"""So many names are looked up by their keys; for more of them all tags are read at once."""
_SPELLINGS = 500


@dataclass(slots=True)
class Index:
    """The supports known, ready to be looked up by whatever a row may tell.

    Parameters
    ----------
    accepted
        Name in the file: tag in the register, as a person has accepted it before.
    marks
        The same supports with serial numbers, nodes and places, for the files that ask; `known`
        itself where None.
    others
        The tags of all supports, where `known` are those alone that a file names.
    """

    known: Sequence[KnownSupport]
    accepted: Mapping[str, str] = field(default_factory=dict)
    marks: Callable[[], Iterable[KnownSupport]] | None = None
    others: OtherTags | None = None
    present: dict[str, KnownSupport] = field(default_factory=dict)
    former: dict[str, list[tuple[FormerTag, str]]] = field(
        default_factory=lambda: defaultdict(list)
    )
    _marked: dict[object, set[str]] | None = None
    _alike: dict[Callable[[str], str], dict[str, set[str]]] = field(default_factory=dict)
    _asked: dict[tuple[Callable[[str], str], str], list[str]] = field(default_factory=dict)
    _looked_up: int = 0
    _every: Sequence[str] | None = None
    _likeness: Likeness | None = None

    def __post_init__(self) -> None:
        for support in self.known:
            self.present[support.tag] = support
            for old in support.former:
                self.former[old.tag].append((old, support.tag))

    def marked(self, mark: object) -> list[str]:
        """Return the tags of the supports with a serial number, a node or a place."""
        if self._marked is None:
            self._marked = defaultdict(set)
            for support in self.known if self.marks is None else self.marks():
                for own in (*support.serials, *support.nodes, *support.places):
                    self._marked[own].add(support.tag)
        return sorted(self._marked.get(mark, ()))

    def alike(self, tag: str, key_of: Callable[[str], str]) -> list[str]:
        """Return the present tags that have the same key; most files never ask."""
        if (key_of, tag) not in self._asked:
            self._asked[key_of, tag] = self._alike_to(tag, key_of)
        return self._asked[key_of, tag]

    def _alike_to(self, tag: str, key_of: Callable[[str], str]) -> list[str]:
        wanted = key_of(tag)
        if self.others is not None and self._looked_up < ONE_BY_ONE:
            self._looked_up += 1
            if (
                keys := [wanted]
                if key_of is tags.matching_key
                else tags.lookalikes(tag, _SPELLINGS)
            ):
                return sorted(one for one in self.others.keyed(keys) if key_of(one) == wanted)
        if key_of not in self._alike:
            self._alike[key_of] = defaultdict(set)
            for present in self.every_tag():
                self._alike[key_of][key_of(present)].add(present)
        return sorted(self._alike[key_of].get(wanted, ()))

    def every_tag(self) -> Sequence[str]:
        """Return the present tags of all supports."""
        if self._every is None:
            self._every = list(self.present) if self.others is None else self.others.every()
        return self._every

    def near(self, tag: str, most: int) -> list[str]:
        """Return the present tags that resemble one, nearest first."""
        if self._likeness is None:
            self._likeness = Likeness(self.every_tag())
        return self._likeness.closest(tag, most)


Answer = Match | Question | Stranger


def sorted_out(found: Sequence[Answer], present: Iterable[str]) -> Joined:
    """Sort the answers into the four lists; `present` are the tags of all supports."""
    matches = [answer for answer in found if isinstance(answer, Match)]
    met = {match.tag for match in matches}
    return Joined(
        tuple(match for match in matches if match.step is not Step.CLEANED),
        tuple(match for match in matches if match.step is Step.CLEANED),
        tuple(answer for answer in found if isinstance(answer, Question)),
        tuple(answer for answer in found if isinstance(answer, Stranger)),
        tuple(tag for tag in present if tag not in met),
    )


def join_one(stranger: Stranger, index: Index) -> Answer:
    """Join one row; a question where it is not certain, the row itself where nothing fits."""
    for step, look in _STEPS:
        candidates = list(look(stranger, index))
        if len({candidate.tag for candidate in candidates}) > 1:
            return Question(
                stranger, Sentence("the {step} fits several supports", step=step), tuple(candidates)
            )
        if candidates:
            return _confirmed(stranger, index, step, candidates[0])
    suggested = tuple(_suggestions(stranger, index))
    return Question(stranger, "nothing fits for certain", suggested) if suggested else stranger


def _confirmed(
    stranger: Stranger, index: Index, step: Step, candidate: Candidate
) -> Match | Question:
    """Return a match, unless something else in the row speaks against it."""
    if step is Step.ACCEPTED:
        return Match(stranger, candidate.tag, step, candidate.reason)
    says = [*_by_serial(stranger, index)]
    if step is not Step.PRESENT:  # a line may be numbered anew, its tags stay
        says += by_place(stranger, index)
    others = [other for other in says if other.tag != candidate.tag]
    if others:
        what = Sentence("the {step} says one support, the rest of the row another", step=step)
        return Question(stranger, what, (candidate, *others))
    if stranger.tag and step in _LATER:
        what = Sentence(
            "by {step} the row is {tag}, which would be a rename", step=step, tag=candidate.tag
        )
        return Question(stranger, what, (candidate, *_suggestions(stranger, index)))
    return Match(stranger, candidate.tag, step, candidate.reason)


def _by_acceptance(stranger: Stranger, index: Index) -> Iterator[Candidate]:
    tag = index.accepted.get(stranger.name)
    if tag in index.present:
        yield Candidate(
            tag, Sentence("'{name}' was accepted as {tag} before", name=stranger.name, tag=tag)
        )


def _by_present(stranger: Stranger, index: Index) -> Iterator[Candidate]:
    support = index.present.get(stranger.tag)
    if support is None:
        return
    if _held(stranger.on, support.since, None):
        yield Candidate(support.tag, "the tag is the support's present one")
    elif not any(True for _ in _by_former(stranger, index)):
        why = Sentence(
            "the tag is the support's present one since {since}; nobody else bore it",
            since=str(support.since),
        )
        yield Candidate(support.tag, why)


def _by_former(stranger: Stranger, index: Index) -> Iterator[Candidate]:
    for old, tag in index.former.get(stranger.tag, ()):
        if _held(stranger.on, old.since, old.until):
            yield _bore(tag, old)


def _bore(tag: str, old: FormerTag) -> Candidate:
    return Candidate(
        tag,
        Sentence(
            "{tag} bore the tag '{former}' until {until}",
            tag=tag,
            former=old.tag,
            until=str(old.until) if old.until else "some day",
        ),
    )


def _held(on: date | None, since: date | None, until: date | None) -> bool:
    """Return whether a tag held on a day; without a day, whether it ever did."""
    return on is None or ((since is None or since <= on) and (until is None or on <= until))


def _by_cleaning(stranger: Stranger, index: Index) -> Iterator[Candidate]:
    for tag in index.alike(stranger.tag, tags.matching_key) if stranger.tag else ():
        yield Candidate(
            tag, Sentence("'{tag}' differs in spaces, dashes or case only", tag=stranger.tag)
        )


def _by_serial(stranger: Stranger, index: Index) -> Iterator[Candidate]:
    for tag in index.marked(stranger.serial) if stranger.serial else ():
        yield Candidate(
            tag,
            Sentence("the unit with serial number {serial} hangs there", serial=stranger.serial),
        )


def _by_node(stranger: Stranger, index: Index) -> Iterator[Candidate]:
    if not stranger.node:
        return
    for tag in index.marked((stranger.calculation, stranger.node)):
        yield Candidate(
            tag,
            Sentence(
                "node {node} of calculation {calculation}",
                node=stranger.node,
                calculation=stranger.calculation,
            ),
        )


def by_place(stranger: Stranger, index: Index) -> Iterator[Candidate]:
    """Yield the supports at the place along the line that a row tells."""
    if stranger.order is None:
        return
    for tag in index.marked((stranger.line, stranger.order)):
        yield Candidate(
            tag,
            Sentence(
                "number {order} along line {line}", order=str(stranger.order), line=stranger.line
            ),
        )


_MOST = 3
"""Tags suggested for one that is not found."""


def _suggestions(stranger: Stranger, index: Index) -> Iterator[Candidate]:
    if not stranger.tag:
        return
    yield from (_bore(tag, old) for old, tag in index.former.get(stranger.tag, ()))
    alike = index.alike(stranger.tag, tags.lookalike_key)
    for tag in alike:
        yield Candidate(tag, "differs in O/0 or I/1 only")
    if not stranger.states_support:
        near = list(dict.fromkeys([*alike, *index.near(stranger.tag, _MOST)]))[:_MOST]
        yield from (Candidate(tag, "resembles the tag") for tag in near if tag not in alike)


_STEPS: tuple[tuple[Step, Callable[[Stranger, Index], Iterator[Candidate]]], ...] = (
    (Step.ACCEPTED, _by_acceptance),
    (Step.PRESENT, _by_present),
    (Step.FORMER, _by_former),
    (Step.CLEANED, _by_cleaning),
    (Step.SERIAL, _by_serial),
    (Step.NODE, _by_node),
    (Step.PLACE, by_place),
)
_LATER = {Step.SERIAL, Step.NODE, Step.PLACE}
