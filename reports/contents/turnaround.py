"""The turnaround scope list: sums, scope, scaffolds, materials, travel stops, times, unknowns.

Every sum is made from the list below it, so that both always agree.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from reports.contents.blocks import (
    Abreast,
    Block,
    Caution,
    Cell,
    Column,
    Facts,
    Figure,
    Figures,
    Heading,
    Listing,
    Mark,
    Paragraph,
    Plain,
    Signatures,
    Table,
    Written,
)
from reports.contents.common import PaperHead, Signature
from reports.contents.schedule_bars import what_when
from reports.contents.scope_list import hours, scope_list
from reports.contents.written import NOT_KNOWN
from reports.languages import IN_ENGLISH, Texts
from supports.rules.turnaround.effort import effort_of
from supports.rules.turnaround.plan import Plan
from supports.rules.turnaround.schedule import Placed, moment
from supports.rules.turnaround.scope import Action, Before, Item

DEFERENCE = (
    "Hours are norms, not promises. Permits, isolation, scaffold tags and lifting follow the "
    "site's procedures and local codes. Nothing is turned without its own work pack; a spring "
    "unit stores enough energy to kill. The licensed engineer in charge decides."
)


@dataclass(frozen=True, slots=True)
class TurnaroundPaper:
    """Everything that the scope list, its workbook and its calendar say."""

    head: PaperHead
    number: str
    title: str
    plan: Plan
    freeze_on: date | None
    frozen_on: date | None
    lines: tuple[str, ...] = ()

    @property
    def late_materials(self) -> int:
        """Return how many parts are late, or ordered for after the freeze day."""
        return sum(
            one.status == "late"
            or (
                one.status == "ordered"
                and one.due_on is not None
                and self.freeze_on is not None
                and one.due_on > self.freeze_on
            )
            for one in self.plan.scope.materials
        )


def turnaround_blocks(paper: TurnaroundPaper, say: Texts = IN_ENGLISH) -> tuple[Block, ...]:
    """Return the scope list as blocks."""
    return (
        *_summary(paper, say),
        *scope_list(paper.plan, say),
        *_scaffolds(paper, say),
        *what_when(paper.plan, say),
        *_materials(paper, say),
        *_stops(paper, say),
        *_unknowns(paper, say),
        Heading(say("Agreed")),
        Signatures(
            (Signature(say("planner")), Signature(say("operations")), Signature(say("engineer")))
        ),
        Caution(say("Before anybody climbs"), say(DEFERENCE)),
    )


def _summary(paper: TurnaroundPaper, say: Texts) -> Iterator[Block]:
    plan, sums = paper.plan, paper.plan.totals
    late = paper.late_materials
    yield Figures(
        (
            Figure(str(len(plan.scope.items)), say("items in the scope")),
            Figure(hours(sums.whole), say("man-hours of all trades")),
            Figure(str(len(plan.scaffolds)), say("scaffolds, each built once")),
            Figure(str(late), say("materials late"), Mark.ACT if late else Mark.NONE),
        )
    )
    yield Facts(tuple(_facts(paper, say)), columns=2)
    yield Abreast((tuple(_by_action(plan, say)), tuple(_by_trade(plan, say))), (1.3, 1.0))


def _facts(paper: TurnaroundPaper, say: Texts) -> Iterator[tuple[str, Written]]:
    plan, means = paper.plan, paper.plan.schedule.means
    end = moment(means, plan.schedule.end, is_end=True)
    yield (
        say("Days"),
        say(
            "{first} to {last}, {hours} h a day",
            first=means.begins_on,
            last=means.ends_on,
            hours=f"{means.hours_a_day:g}",
        ),
    )
    yield say("Lines"), ", ".join(paper.lines) or say("the whole plant")
    yield (
        say("Work ends"),
        f"{end:%Y-%m-%d %H:%M}" if plan.schedule.placed else say("nothing is planned"),
    )
    people = say(
        "crews: {crews}, fitters in all: {fitters}, scaffolders: {scaffolders}, inspectors: "
        "{inspectors}, engineers: {engineers}",
        crews=means.crews,
        fitters=means.fitters,
        scaffolders=means.scaffolders,
        inspectors=means.inspectors,
        engineers=means.engineers,
    )
    yield say("People"), people
    yield say("Freeze planned for"), str(paper.freeze_on or say("no day named"))
    yield say("Frozen"), str(paper.frozen_on or say("NOT FROZEN"))
    yield say("Added after the freeze"), str(len(plan.scope.after_freeze))
    yield (
        say("How good the schedule is"),
        "; ".join(say.sentence(str(one)) for one in plan.schedule.proofs) or "–",
    )


def _by_action(plan: Plan, say: Texts) -> Iterator[Plain]:
    """Give the items by action; an item with two actions is counted where it weighs most."""
    rows: list[tuple[Written, ...]] = []
    for action in Action:
        held = [one for one in plan.scope.items if one.actions[0] is action]
        if held:
            man = sum(effort_of(one, plan.norms).fitters for one in held)
            rows.append((say.word(str(action)), str(len(held)), hours(man)))
    total = (
        Cell(say("Sum"), strong=True),
        Cell(str(len(plan.scope.items)), strong=True),
        Cell(hours(plan.totals.fitters), strong=True),
    )
    yield Heading(say("By action"))
    columns = (
        Column(say("Action"), 2.0),
        Column(say("Items"), 1.0, right=True),
        Column(say("Fitters' man-hours"), 1.4, right=True),
    )
    yield Table(columns, (*rows, total))


def _by_trade(plan: Plan, say: Texts) -> Iterator[Plain]:
    sums = plan.totals
    rows = (
        (say("fitters"), hours(sums.fitters)),
        (say("scaffold"), hours(sums.scaffold)),
        (say("inspection"), hours(sums.inspection)),
        (say("engineer's presence"), hours(sums.presence)),
        (Cell(say("Sum"), strong=True), Cell(hours(sums.whole), strong=True)),
        (
            say("growth, {growth} % of fitters, in no sum", growth=f"{plan.norms.growth:g}"),
            hours(sums.growth),
        ),
    )
    yield Heading(say("By trade"))
    yield Table((Column(say("Trade"), 2.0), Column(say("Man-hours"), 1.0, right=True)), rows)
    if sums.scaffolds_not_known:
        yield Paragraph(
            say(
                "Not in the sums: scaffolds of unknown height: {count}.",
                count=sums.scaffolds_not_known,
            ),
            strong=True,
        )


def _scaffolds(paper: TurnaroundPaper, say: Texts) -> Iterator[Block]:
    plan, means = paper.plan, paper.plan.schedule.means
    at = {one.task.name: one for one in plan.schedule.placed}
    rows: list[tuple[Written, ...]] = []
    for one in plan.scaffolds:
        up, down = at.get(f"up {one.name}"), at.get(f"down {one.name}")
        rows.append(
            (
                Cell(one.name, name=True),
                NOT_KNOWN if one.height is None else f"{one.height:.1f} m",
                f"{moment(means, up.end, is_end=True):%m-%d %H:%M}" if up else say("not planned"),
                f"{moment(means, down.start):%m-%d %H:%M}" if down else say("not planned"),
                NOT_KNOWN if one.hours is None else hours(one.hours),
                ", ".join(item.where.name for item in one.items),
            )
        )
    total = Cell(hours(plan.totals.scaffold), strong=True)
    rows.append((Cell(say("Sum"), strong=True), "", "", "", total, ""))
    yield Heading(say("Scaffolds"), 1)
    yield Paragraph(
        say(
            "Each is built once. It comes down after the last unit is worked on and looked at, "
            "travel "
            "stops are out, and not before."
        ),
        small=True,
    )
    columns = (
        Column(say("Scaffold"), 1.2),
        Column(say("Height"), 0.0, right=True),
        Column(say("Needed from"), 1.0),
        Column(say("Free from"), 1.0),
        Column(say("Man-hours"), 0.0, right=True),
        Column(say("Serves"), 4.0),
    )
    yield Table(columns, tuple(rows))


def _materials(paper: TurnaroundPaper, say: Texts) -> Iterator[Block]:
    yield Heading(say("Materials"), 1)
    columns = (
        Column(say("Pack"), 1.2),
        Column(say("Part"), 3.0),
        Column(say("Number"), 0.0, right=True),
        Column(say("Stands at"), 1.0),
        Column(say("Due"), 1.0),
        Column(say("If it does not come"), 2.4),
    )
    rows = tuple(
        (
            one.order,
            one.item,
            f"{one.quantity:g}",
            Cell(say.word(str(one.status)), mark=Mark.ACT if one.status == "late" else Mark.NONE),
            str(one.due_on or ("–" if one.status == "have" else say("no day"))),
            one.fallback or "–",
        )
        for one in paper.plan.scope.materials
    )
    yield Table(columns, rows, say("No work order names a part."))


def _stops(paper: TurnaroundPaper, say: Texts) -> Iterator[Block]:
    held = [one for one in paper.plan.scope.items if one.where.stops_in]
    count = sum(len(one.where.stops_in) for one in held)
    yield Heading(say("Travel stops in at units of the scope: {count}", count=count))
    at = {
        u: p for p in paper.plan.schedule.placed if p.task.name[:4] == "work" for u in p.task.units
    }
    rows = tuple(
        (
            Cell(one.where.name, name=True),
            ", ".join(one.where.stops_in),
            _out_words(one, at, paper, say),
        )
        for one in held
    )
    columns = (Column(say("Unit"), 1.0), Column(say("Pins in"), 1.4), Column(say("To be out"), 2.6))
    yield Table(columns, rows, say("None is in at a unit of the scope."))


def _out_words(item: Item, at: dict[str, Placed], paper: TurnaroundPaper, say: Texts) -> str:
    one = at.get(item.where.name)
    if one is None:
        return say("before heat-up; not planned")
    end = moment(paper.plan.schedule.means, one.end, is_end=True)
    return say("after its work, {end}, and counted before heat-up", end=f"{end:%m-%d %H:%M}")


def _unknowns(paper: TurnaroundPaper, say: Texts) -> Iterator[Block]:
    plan = paper.plan
    yield Heading(say("Growth, and what is not known"))
    share, growth = f"{plan.norms.growth:g} %", hours(plan.totals.growth)
    yield Paragraph(
        say(
            "Allowance for growth: {share} of the fitters' hours, {growth}; in no sum.",
            share=share,
            growth=growth,
        )
    )
    late = ", ".join(one.where.name for one in plan.scope.after_freeze)
    yield Paragraph(say("Added after the freeze: {names}.", names=late or say("nothing")))
    rows = tuple((Cell(name, name=True), say.sentence(why)) for name, why in plan.not_planned)
    columns = (Column(say("Not planned"), 1.0), Column(say("Why"), 4.0))
    yield Table(columns, rows, say("Every item of the scope is planned."))
    waits = _waits(plan.scope.befores, say)
    if waits:
        yield Heading(say("Jobs that must come before, outside this list"), 3)
        yield Listing(waits)
    if plan.scope.taken_out:
        yield Heading(say("Taken out again"), 3)
        yield Listing(tuple(f"{name}: {why}" for name, why in plan.scope.taken_out))


def _waits(befores: Sequence[Before], say: Texts) -> tuple[str, ...]:
    return tuple(say("{order} waits for: {job}", order=one.order, job=one.job) for one in befores)
