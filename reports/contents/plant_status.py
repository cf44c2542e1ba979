"""What the one-page status of the plant says: may it start up, what is open, what is not known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from reports.contents.blocks import (
    Abreast,
    Answered,
    Block,
    Caution,
    Cell,
    Column,
    Figure,
    Figures,
    Heading,
    Listing,
    Mark,
    Paragraph,
    Plain,
    Table,
    Weight,
)
from reports.contents.written import NOT_KNOWN, percent
from reports.languages import Texts
from supports.rules.workflow.start_up import Blocker, MayStart, StartUp
from supports.snapshots import OpenChange, Walked, WorkDone

NAMED, BESIDE = 6, 4
"""Blockers named on the page, and rows of tables side by side; the rest is counted."""
DECISIONS = 3
"""Decisions that the page has room for."""


@dataclass(frozen=True, slots=True)
class Decision:
    """A decision that somebody wants, and by when."""

    what: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class PlantStatus:
    """The whole page.

    Parameters
    ----------
    read_in_interval
        Supports read within the interval of their class.
    with_stop, unjudged
        Supports with a finding at STOP, and with a rule that cannot be judged.
    stops
        The supports with a finding at STOP, each with its rules.
    missing
        The rules that most often cannot judge, with the number of answers they owe.
    temporary
        Number and standing of temporary changes.
    money
        Avoided replacements, units to buy: words of the site; '' leaves it out.
    """

    start: StartUp
    day: date
    supports: int
    read_in_interval: int
    with_stop: int
    unjudged: int
    stops: tuple[tuple[str, tuple[str, ...]], ...] = ()
    missing: tuple[tuple[str, int], ...] = ()
    changes: tuple[OpenChange, ...] = ()
    temporary: tuple[tuple[str, str], ...] = ()
    work: WorkDone = field(default_factory=WorkDone)
    pins: tuple[str, ...] = ()
    props: tuple[str, ...] = ()
    walks: tuple[Walked, ...] = ()
    decisions: tuple[Decision, ...] = ()
    money: str = ""


def plant_status(status: PlantStatus, say: Texts) -> tuple[Block, ...]:
    """Return the page as blocks."""
    return (
        _answer(status, say),
        _figures(status, say),
        *_blockers(status, say),
        _stops_and_missing(status, say),
        _changes_and_work(status, say),
        _walks_and_decisions(status, say),
        *_money(status, say),
        Paragraph(_foot(status, say), small=True),
        Caution(say("Who decides"), say(WHO_DECIDES)),
    )


WHO_DECIDES = (
    "This page counts what the register holds. It is no permit. Operations decide on start-up, "
    "by the site's own procedure, local codes and the licensed engineer in charge."
)

BY_SCREENING = (
    "Nozzles and sums of load are judged by the screening of lines, which is no full analysis and "
    "approves nothing."
)

_WEIGHTS = {
    MayStart.YES: Weight.YES,
    MayStart.NO: Weight.NO,
    MayStart.NOT_KNOWN: Weight.DOUBT,
}


def _answer(status: PlantStatus, say: Texts) -> Answered:
    start = status.start
    words = say(
        "{blockers} things stand in the way, {missing} are not known.",
        blockers=len(start.blockers), missing=len(start.missing),
    )  # fmt: skip
    return Answered(
        question=say("May the plant start up as far as its pipe supports are concerned?"),
        answer=say.word(str(start.answer)).upper(),
        weight=_WEIGHTS[start.answer],
        words=words,
    )


def _figures(status: PlantStatus, say: Texts) -> Figures:
    doubtful = Mark.CANNOT_JUDGE if status.unjudged else Mark.NONE
    stop = Mark.STOP if status.with_stop else Mark.NONE
    return Figures(
        (
            Figure(str(status.supports), say("supports known")),
            Figure(str(status.read_in_interval), say("read within their interval")),
            Figure(str(status.with_stop), say("with a finding at STOP"), stop),
            Figure(str(status.unjudged), say("where a rule cannot judge"), doubtful),
        )
    )


def _blockers(status: PlantStatus, say: Texts) -> Iterator[Block]:
    start = status.start
    named = [(Mark.STOP, one) for one in start.blockers]
    named += [(Mark.CANNOT_JUDGE, one) for one in start.missing]
    if not named:
        return
    yield Heading(say("What stands in the way, and what is not known"))
    columns = (
        Column("", 0.0),
        Column(say("About"), 1.2),
        Column(say("What, in the words of the register"), 4.0),
        Column(say("Lines"), 1.4),
    )
    rows = tuple(_blocker_row(mark, one, say) for mark, one in named[:NAMED])
    yield Table(columns, rows)
    if len(named) > NAMED:
        yield Paragraph(
            say("And {count} more.", count=len(named) - NAMED),
            small=True,
        )


def _blocker_row(mark: Mark, one: Blocker, say: Texts) -> tuple[str | Cell, ...]:
    about = Cell(say.sentence(one.about), name=True)
    return (Cell("", mark=mark), about, say.sentence(one.what), ", ".join(one.lines) or "–")


def _stops_and_missing(status: PlantStatus, say: Texts) -> Abreast:
    stops = tuple((Cell(tag, name=True), ", ".join(rules)) for tag, rules in status.stops[:BESIDE])
    more = len(status.stops) - BESIDE
    left: tuple[Plain, ...] = (
        Heading(say("Findings at STOP, by rule")),
        Table((Column(say("Support"), 0.0), Column(say("Rules"))), stops, say("None.")),
        *([Paragraph(say("And {count} more.", count=more), small=True)] if more > 0 else []),
    )
    owed = tuple((rule, str(count)) for rule, count in status.missing[:BESIDE])
    right: tuple[Plain, ...] = (
        Heading(say("What most often cannot be judged")),
        Table(
            (Column(say("Rule")), Column(say("Answers owed"), 0.0, right=True)), owed, say("None.")
        ),
    )
    return Abreast((left, right), (1.1, 1.0))


def _changes_and_work(status: PlantStatus, say: Texts) -> Abreast:
    columns = (
        Column(say("Change"), 0.0),
        Column(say("What"), 2.0),
        Column(say("Stands at, waits for"), 1.6),
        Column(say("Since"), 0.0),
    )
    changes: tuple[Plain, ...] = (
        Heading(say("Open changes: {count}", count=len(status.changes))),
        Table(columns, tuple(_change_row(one, say) for one in status.changes), say("None.")),
        *_temporary(status, say),
    )
    return Abreast((changes, tuple(_work(status, say))), (1.45, 1.0))


def _change_row(one: OpenChange, say: Texts) -> tuple[str | Cell, ...]:
    waits = say("{state}; waits for: {roles}") if one.waits_for else "{state}"
    roles = ", ".join(say.word(role) for role in one.waits_for)
    stands = waits.format(state=say.word(one.state), roles=roles)
    return (Cell(one.number, name=True), one.title, stands, one.since.isoformat())


def _temporary(status: PlantStatus, say: Texts) -> Iterator[Plain]:
    if status.temporary:
        yield Heading(say("Temporary changes"), 3)
        yield Listing(tuple(f"{number}: {words}" for number, words in status.temporary))


def _work(status: PlantStatus, say: Texts) -> Iterator[Plain]:
    work = status.work
    yield Heading(say("Work at units"))
    columns = (Column(say("What"), 1.0), Column(say("Count"), 0.0, right=True))
    hours = f"{work.man_hours:g}" if work.man_hours else NOT_KNOWN
    if work.man_hours and work.orders_without_hours:
        hours = say("{hours} and more", hours=hours)
    held: list[tuple[str | Cell, ...]] = [
        (say("travel stops still in"), Cell(str(len(status.pins)), strong=bool(status.pins)))
    ]
    if status.props:
        held.append((say("props still in"), Cell(str(len(status.props)), strong=True)))
    rows = (
        (say("units done"), str(work.done)),
        (say("units to do"), str(work.to_do)),
        (say("man-hours of open orders"), say(hours) if hours == NOT_KNOWN else hours),
        (say("open orders without hours"), str(work.orders_without_hours)),
        *held,
    )
    yield Table(columns, rows)
    for names in (status.pins, status.props):
        if beside := _not_above(status, names):
            yield Listing(tuple(map(say.sentence, beside[:BESIDE])))


def _not_above(status: PlantStatus, names: Sequence[str]) -> list[str]:
    """Return what does not stand in the way by name already."""
    above = [one.about for one in status.start.blockers[:NAMED]]
    return [name for name in names if not any(name.startswith(f"{one} ") for one in above)]


def _walks_and_decisions(status: PlantStatus, say: Texts) -> Abreast:
    walks = (
        Column(say("Campaign"), 1.3),
        Column(say("Day"), 0.0),
        Column(say("Rows"), 0.0, right=True),
        Column(say("Findings"), 0.0, right=True),
    )
    rows = tuple(
        (Cell(one.number, name=True), one.walk_on.isoformat(), str(one.rows), str(one.findings))
        for one in status.walks
    )
    none = say("No campaign yet: the trend cannot be told.")
    left: tuple[Plain, ...] = (
        Heading(say("Findings of the last walkdowns")),
        Table(walks, rows, none),
    )
    wanted = (
        Column(say("Decision wanted"), 2.2),
        Column(say("By when"), 1.0),
        Column(say("Who"), 1.0),
    )
    right: tuple[Plain, ...] = (
        Heading(say("Decisions wanted")),
        Table(wanted, tuple(_decision_rows(status.decisions))),
    )
    return Abreast((left, right), (1.0, 1.35))


def _decision_rows(decisions: Sequence[Decision]) -> Iterator[tuple[str, ...]]:
    for place in range(DECISIONS):
        one = decisions[place] if place < len(decisions) else Decision("")
        yield (one.what or "…", one.by or "…", "…")


def _money(status: PlantStatus, say: Texts) -> Iterator[Block]:
    if status.money:
        yield Heading(say("Money, as the site gave it"), 3)
        yield Paragraph(status.money)


def _foot(status: PlantStatus, say: Texts) -> str:
    share = status.unjudged / status.supports if status.supports else None
    data = say(
        "Data of {day}. At {share} of the supports at least one rule cannot judge; nothing on this "
        "page is called good where data are missing.",
        day=status.day.isoformat(), share=say(NOT_KNOWN) if share is None else percent(share),
    )  # fmt: skip
    return f"{data} {say(BY_SCREENING)}"
