"""Records of a file brought under the tags of the register, before they are compared with it.

What is joined for certain goes under the support's present tag; what a person must decide, and
what is not found, is held back and asked. A support that the file itself lists is a new one, unless
its tag, serial number or place speaks for one that is known.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property

from importers.each_once import each_once
from importers.joining import (
    Answer,
    Index,
    Joined,
    Match,
    Question,
    Step,
    Stranger,
    by_place,
    join_one,
    sorted_out,
)
from importers.reading import ReadResult, in_order
from importers.row_names import held_back
from importers.sheets import SHEETS, TAG_AT, named
from supports.findings import Finding, Severity
from supports.proposals import Record, Withheld
from supports.sentences import Sentence
from supports.vocabulary import counted

_DAYS = {"reading": "read_on", "setting": "happened_on"}

Name = tuple[str, date | None]
"""A tag as it stands in the file, and the day on which it is said."""


@dataclass(slots=True)
class _Evidence:
    """What a file tells of the supports that it names."""

    rows: dict[Name, Record] = field(default_factory=dict)
    names: list[Name | None] = field(default_factory=list)
    """Of each record; None where it speaks of no support."""
    listed: set[str] = field(default_factory=set)
    serials: dict[str, str] = field(default_factory=dict)
    places: dict[str, tuple[str, int]] = field(default_factory=dict)


@dataclass(frozen=True)
class JoinedRecords:
    """A reading under the tags of the register, and the four lists."""

    result: ReadResult
    _told: _Evidence
    _index: Index
    _own: Collection[str]

    @cached_property
    def joined(self) -> Joined:
        """The four lists."""
        answers = [_answer(name, self._told, self._index, self._own) for name in self._told.rows]
        return sorted_out(_once([*answers, *self.result.unnamed]), self._index.every_tag())

    @cached_property
    def counts(self) -> Mapping[str, int]:
        """Rows of the file by the name that they bear."""
        return Counter(name[0] for name in self._told.names if name)


def join_records(
    result: ReadResult,
    index: Index,
    *,
    own: Collection[str] = (),
    on: date | None = None,
) -> JoinedRecords:
    """Bring the records of a file under the tags of the register.

    Parameters
    ----------
    index
        The supports known, and what people have decided.
    own
        Tags that people have decided to be supports of their own.
    on
        The day that the file speaks of, where its rows do not.
    """
    told = _evidence(result.records, on)
    answers = {
        name: _answer(name, told, index, own)
        for name in told.rows
        if not _is_as_it_seems(name, told, index, own)
    }
    records, withheld, findings = _sorted(result.records, answers, told)
    if any(
        isinstance(answer, Match) and answer.tag != name for (name, _), answer in answers.items()
    ):
        records = each_once(records, findings, withheld)
    sorted_anew = replace(
        result,
        records=tuple(in_order(records, SHEETS)),
        findings=(*_still_asked(result.findings, {*index.accepted, *own}), *findings),
        withheld=(*_renamed(result.withheld, told.rows, answers, index), *withheld),
    )
    return JoinedRecords(sorted_anew, told, index, own)


def _is_as_it_seems(name: Name, told: _Evidence, index: Index, own: Collection[str]) -> bool:
    """Return whether a name is the present tag of a support and nothing speaks against it."""
    tag, on = name
    support = index.present.get(tag)
    return (
        support is not None
        and (on is None or support.since is None or support.since <= on)
        and tag not in told.serials
        and tag not in own
        and tag not in index.accepted
    )


def _still_asked(findings: Iterable[Finding], decided: Collection[str]) -> Iterator[Finding]:
    """Leave out what resembles a tag, where a person has decided what is meant."""
    return (f for f in findings if f.code != "tag-lookalike" or f.subject not in decided)


def _once(answers: Iterable[Answer]) -> list[Answer]:
    """Return each answer once, whatever days it was asked for."""
    found: dict[tuple[str, str], Answer] = {}
    for answer in answers:
        stranger = answer if isinstance(answer, Stranger) else answer.stranger
        what = answer.tag if isinstance(answer, Match) else type(answer).__name__
        found.setdefault((stranger.name, what), answer)
    return list(found.values())


def _evidence(records: Iterable[Record], on: date | None) -> _Evidence:
    told = _Evidence()
    for record in records:
        place = TAG_AT.get(record.subject)
        if place is None or "tag" not in record.source.cells:
            told.names.append(None)
            continue
        tag, values = record.key[place], record.values
        name = _name(record, place, on)
        told.names.append(name)
        told.rows.setdefault(name, record)
        if record.subject == "support":
            told.listed.add(tag)
            if values.get("line") and isinstance(values.get("order_along"), int):
                told.places[tag] = (str(values["line"]), int(str(values["order_along"])))
        elif record.subject == "unit" and values.get("serial"):
            told.serials.setdefault(tag, str(values["serial"]))
    return told


def _name(record: Record, place: int, on: date | None) -> Name:
    day = record.values.get(_DAYS.get(record.subject, ""))
    return record.key[place], day if isinstance(day, date) else on


def _answer(name: Name, told: _Evidence, index: Index, own: Collection[str]) -> Answer:
    tag, on = name
    record = told.rows[name]
    line, order = told.places.get(tag, ("", None))
    stranger = Stranger(
        record.source.row,
        tag,
        on,
        serial=told.serials.get(tag, ""),
        line=line,
        order=order,
        sheet=record.source.sheet,
        states_support=tag in told.listed,
    )
    if tag in own:
        return stranger
    answer = join_one(stranger, index)
    return _without_listed(answer, told, index) if isinstance(answer, Question) else answer


def _without_listed(question: Question, told: _Evidence, index: Index) -> Question | Stranger:
    """Drop candidates for their place alone that the file lists too: the line was renumbered."""
    there = {one for one in by_place(question.stranger, index) if one.tag in told.listed}
    left = tuple(candidate for candidate in question.candidates if candidate not in there)
    return replace(question, candidates=left) if left else question.stranger


def _sorted(
    records: Iterable[Record], answers: Mapping[Name, Answer], told: _Evidence
) -> tuple[list[Record], list[Withheld], list[Finding]]:
    """Return the records to keep, what is held back, and what is to be said of it."""
    kept: list[Record] = []
    held: list[Withheld] = []
    counts = Counter(name for name in told.names if name in answers)
    findings = {n: _finding(answer, counts[n], told.rows[n]) for n, answer in answers.items()}
    for record, name in zip(records, told.names, strict=True):
        answer = answers.get(name) if name else None
        finding = findings[name] if name and answer else None
        if finding is not None and finding.forbids_storing:
            held.append(held_back(record, finding))
        else:
            kept.append(_under(record, answer) if answer else record)
    return kept, held, [finding for finding in findings.values() if finding is not None]


def _under(record: Record, answer: Answer) -> Record:
    place = TAG_AT[record.subject]
    if not isinstance(answer, Match) or answer.tag == record.key[place]:
        return record
    key = (*record.key[:place], answer.tag, *record.key[place + 1 :])
    return record._replace(key=key)


def _finding(answer: Answer, times: int, record: Record) -> Finding | None:
    """Return what is to be said of a name, None where it is what it seems."""
    if isinstance(answer, Match):
        return _joined_otherwise(answer, times, record)
    if isinstance(answer, Question):
        return _stop(
            "join-to-decide",
            Sentence(
                "{what}; {rows} of '{name}' not taken",
                what=answer.what,
                rows=counted(times, "row"),
                name=answer.stranger.name,
            ),
            record,
            answer.choices,
            Sentence("Decide it: supports sheets decide '{name}'", name=answer.stranger.name),
        )
    if answer.states_support:
        return None
    return _stop(
        "support-not-known",
        Sentence(
            "no support of that name is known; {rows} of '{name}' not taken",
            rows=counted(times, "row"),
            name=answer.name,
        ),
        record,
        "a tag of the register, or the support in the same file",
        Sentence(
            "Bring the support in, or decide: supports sheets decide '{name}'", name=answer.name
        ),
    )


def _stop(code: str, what: str, record: Record, expected: str, remedy: str) -> Finding:
    place = record.source.place("tag")
    return Finding(code, Severity.STOP, what, place, "", expected, remedy, subject=named(record))


def _joined_otherwise(match: Match, times: int, record: Record) -> Finding | None:
    codes = {
        Step.CLEANED: "tag-cleaned",
        Step.FORMER: "tag-former",
        Step.ACCEPTED: "",
        Step.PRESENT: "",
    }
    code = codes.get(match.step, "joined-by-other-mark")
    if not code:
        return None
    what = Sentence(
        "{rows} of '{name}' went to {tag}: {reason}",
        rows=counted(times, "row"),
        name=match.stranger.name,
        tag=match.tag,
        reason=match.reason,
    )
    place = record.source.place("tag")
    return Finding(code, Severity.NOTE, what, place, subject=match.tag)


def _renamed(
    withheld: Iterable[Withheld],
    names: Iterable[Name],
    answers: Mapping[Name, Answer],
    index: Index,
) -> Iterator[Withheld]:
    """Put the values that wait under the tag that their row belongs to, where that is certain."""
    waiting = list(withheld)
    asked = {value.named for value in waiting}
    tags: dict[str, set[str]] = defaultdict(set)
    for tag, day in names if asked else ():
        if tag in asked:
            answer = answers.get((tag, day))
            tags[tag].add(answer.tag if isinstance(answer, Match) else tag)
    for value in waiting:
        if value.named not in tags:
            tags[value.named] = {_tag_of(value, index)}
        (borne, *others) = sorted(tags[value.named])
        yield value if others or borne == value.named else replace(value, named=borne)


def _tag_of(value: Withheld, index: Index) -> str:
    """Return the tag that a value belongs to where no row of its name was read at all."""
    if value.subject not in TAG_AT or not value.named:
        return value.named
    answer = join_one(Stranger(value.row, value.named), index)
    return answer.tag if isinstance(answer, Match) else value.named
