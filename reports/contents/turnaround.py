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
from reports.contents.written import NOT_KNOWN
from supports.rules.turnaround.effort import effort_of, scaffold_name
from supports.rules.turnaround.plan import Plan
from supports.rules.turnaround.schedule import Placed, moment
from supports.rules.turnaround.scope import Action, Before, Item, Source
from supports.vocabulary import counted

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


def turnaround_blocks(paper: TurnaroundPaper) -> tuple[Block, ...]:
    """Return the scope list as blocks."""
    return (
        *_summary(paper),
        *_scope(paper),
        *_scaffolds(paper),
        *what_when(paper.plan),
        *_materials(paper),
        *_stops(paper),
        *_unknowns(paper),
        Heading("Agreed"),
        Signatures((Signature("planner"), Signature("operations"), Signature("engineer"))),
        Caution("Before anybody climbs", DEFERENCE),
    )


def hours(value: float) -> str:
    """Write hours with at most two decimals: '2.5'."""
    return f"{round(value, 2):g}"


def _summary(paper: TurnaroundPaper) -> Iterator[Block]:
    plan, sums = paper.plan, paper.plan.totals
    late = paper.late_materials
    yield Figures(
        (
            Figure(str(len(plan.scope.items)), "items in the scope"),
            Figure(hours(sums.whole), "man-hours of all trades"),
            Figure(str(len(plan.scaffolds)), "scaffolds, each built once"),
            Figure(str(late), "materials late", Mark.ACT if late else Mark.NONE),
        )
    )
    yield Facts(tuple(_facts(paper)), columns=2)
    yield Abreast((tuple(_by_action(plan)), tuple(_by_trade(plan))), (1.3, 1.0))


def _facts(paper: TurnaroundPaper) -> Iterator[tuple[str, Written]]:
    plan, means = paper.plan, paper.plan.schedule.means
    end = moment(means, plan.schedule.end, is_end=True)
    yield "Days", f"{means.begins_on} to {means.ends_on}, {means.hours_a_day:g} h a day"
    yield "Lines", ", ".join(paper.lines) or "the whole plant"
    yield "Work ends", f"{end:%Y-%m-%d %H:%M}" if plan.schedule.placed else "nothing is planned"
    people = (
        f"{counted(means.crews, 'crew')} of {counted(means.fitters, 'fitter')} together, "
        f"{counted(means.scaffolders, 'scaffolder')}, {counted(means.inspectors, 'inspector')}, "
        f"{counted(means.engineers, 'engineer')}"
    )
    yield "People", people
    yield "Freeze planned for", str(paper.freeze_on or "no day named")
    yield "Frozen", str(paper.frozen_on or "NOT FROZEN")
    yield "Added after the freeze", str(len(plan.scope.after_freeze))
    yield "How good the schedule is", "; ".join(str(one) for one in plan.schedule.proofs) or "–"


def _by_action(plan: Plan) -> Iterator[Plain]:
    """Give the items by action; an item with two actions is counted where it weighs most."""
    rows: list[tuple[Written, ...]] = []
    for action in Action:
        held = [one for one in plan.scope.items if one.actions[0] is action]
        if held:
            man = sum(effort_of(one, plan.norms).fitters for one in held)
            rows.append((str(action), str(len(held)), hours(man)))
    total = (
        Cell("Sum", strong=True),
        Cell(str(len(plan.scope.items)), strong=True),
        Cell(hours(plan.totals.fitters), strong=True),
    )
    yield Heading("By action")
    columns = (
        Column("Action", 2.0),
        Column("Items", 1.0, right=True),
        Column("Fitters' man-hours", 1.4, right=True),
    )
    yield Table(columns, (*rows, total))


def _by_trade(plan: Plan) -> Iterator[Plain]:
    sums = plan.totals
    rows = (
        ("fitters", hours(sums.fitters)),
        ("scaffold", hours(sums.scaffold)),
        ("inspection", hours(sums.inspection)),
        ("engineer's presence", hours(sums.presence)),
        (Cell("Sum", strong=True), Cell(hours(sums.whole), strong=True)),
        (f"growth, {plan.norms.growth:g} % of fitters, in no sum", hours(sums.growth)),
    )
    yield Heading("By trade")
    yield Table((Column("Trade", 2.0), Column("Man-hours", 1.0, right=True)), rows)
    if sums.scaffolds_not_known:
        words = counted(sums.scaffolds_not_known, "scaffold")
        yield Paragraph(f"Not in the sums: {words} whose height is {NOT_KNOWN}.", strong=True)


_SCOPE = (
    Column("No.", 0.0, right=True),
    Column("Line", 1.1),
    Column("Unit", 1.1),
    Column("Action", 1.1),
    Column("Why", 3.4),
    Column("Line state", 1.2),
    Column("Turn", 0.0, right=True),
    Column("Height", 0.0, right=True),
    Column("Scaffold", 0.9),
    Column("Crew × h", 0.0, right=True),
    Column("Man-h", 0.0, right=True),
    Column("Holds", 0.0, right=True),
    Column("Pack", 1.2),
)


def _scope(paper: TurnaroundPaper) -> Iterator[Block]:
    plan = paper.plan
    critical = set(plan.critical_units)
    rows = [_scope_row(place, one, plan, critical) for place, one in enumerate(plan.scope.items, 1)]
    total = Cell(hours(plan.totals.fitters), strong=True)
    rows.append((*("",) * 3, Cell("Sum", strong=True), *("",) * 6, total, "", ""))
    yield Heading("Scope", 1)
    yield Paragraph(
        "One line for each unit, whoever asked for it. CRITICAL moves the end if it slips; units "
        "of one line are turned by one crew in the order given. Hold points are told in the pack.",
        small=True,
    )
    yield Table(_SCOPE, tuple(rows), small=True)
    yield from _rules_said(plan)


def _scope_row(place: int, item: Item, plan: Plan, critical: set[str]) -> tuple[Written, ...]:
    effort, where = effort_of(item, plan.norms), item.where
    marks = [
        *(["CRITICAL"] if where.name in critical else []),
        *(["AFTER THE FREEZE"] if item.after_freeze else []),
    ]
    return (
        str(place),
        where.line or "–",
        Cell(where.name, name=True),
        ", ".join((*item.actions, *marks)),
        "; ".join(_why(item)),
        ", ".join(item.states) or "any",
        str(item.turn[1]) if item.turn[1] else "–",
        NOT_KNOWN if where.height is None else f"{where.height:.1f} m",
        scaffold_name(item, plan.norms) or "from the floor",
        f"{effort.crew} × {hours(effort.hours)}",
        hours(effort.fitters),
        str(len(item.holds)) if item.holds and item.moves_load else "–",
        ", ".join(item.orders) or "–",
    )


def _why(item: Item) -> Iterator[str]:
    """Give the reasons, those of rules by severity and name; what these say is told below."""
    yield from (str(one) for one in item.reasons if one.source is not Source.RULE)
    rules = [one for one in item.reasons if one.source is Source.RULE]
    if rules:
        named = ", ".join(f"{one.words.split(',')[0]} {one.reference}" for one in rules)
        yield f"rules: {named}"


def _rules_said(plan: Plan) -> Iterator[Block]:
    """Give what the rules named in the list say, each once."""
    said = {
        one.reference: one.words.split(", ", 1)[-1]
        for item in plan.scope.items
        for one in item.reasons
        if one.source is Source.RULE
    }
    if said:
        yield Heading("What the rules named say")
        yield Listing(tuple(f"{name}: {said[name]}." for name in sorted(said)))


def _scaffolds(paper: TurnaroundPaper) -> Iterator[Block]:
    plan, means = paper.plan, paper.plan.schedule.means
    at = {one.task.name: one for one in plan.schedule.placed}
    rows: list[tuple[Written, ...]] = []
    for one in plan.scaffolds:
        up, down = at.get(f"up {one.name}"), at.get(f"down {one.name}")
        rows.append(
            (
                Cell(one.name, name=True),
                NOT_KNOWN if one.height is None else f"{one.height:.1f} m",
                f"{moment(means, up.end, is_end=True):%m-%d %H:%M}" if up else "not planned",
                f"{moment(means, down.start):%m-%d %H:%M}" if down else "not planned",
                NOT_KNOWN if one.hours is None else hours(one.hours),
                ", ".join(item.where.name for item in one.items),
            )
        )
    total = Cell(hours(plan.totals.scaffold), strong=True)
    rows.append((Cell("Sum", strong=True), "", "", "", total, ""))
    yield Heading("Scaffolds", 1)
    yield Paragraph(
        "Each is built once. It comes down after the last unit is worked on and looked at, travel "
        "stops are out, and not before.",
        small=True,
    )
    columns = (
        Column("Scaffold", 1.2),
        Column("Height", 0.0, right=True),
        Column("Needed from", 1.0),
        Column("Free from", 1.0),
        Column("Man-hours", 0.0, right=True),
        Column("Serves", 4.0),
    )
    yield Table(columns, tuple(rows))


def _materials(paper: TurnaroundPaper) -> Iterator[Block]:
    yield Heading("Materials", 1)
    columns = (
        Column("Pack", 1.2),
        Column("Part", 3.0),
        Column("Number", 0.0, right=True),
        Column("Stands at", 1.0),
        Column("Due", 1.0),
        Column("If it does not come", 2.4),
    )
    rows = tuple(
        (
            one.order,
            one.item,
            f"{one.quantity:g}",
            Cell(one.status, mark=Mark.ACT if one.status == "late" else Mark.NONE),
            str(one.due_on or ("–" if one.status == "have" else "no day")),
            one.fallback or "–",
        )
        for one in paper.plan.scope.materials
    )
    yield Table(columns, rows, "No work order names a part.")


def _stops(paper: TurnaroundPaper) -> Iterator[Block]:
    held = [one for one in paper.plan.scope.items if one.where.stops_in]
    count = sum(len(one.where.stops_in) for one in held)
    yield Heading(f"Travel stops in at units of the scope: {count}")
    at = {
        u: p for p in paper.plan.schedule.placed if p.task.name[:4] == "work" for u in p.task.units
    }
    rows = tuple(
        (Cell(one.where.name, name=True), ", ".join(one.where.stops_in), _out_words(one, at, paper))
        for one in held
    )
    columns = (Column("Unit", 1.0), Column("Pins in", 1.4), Column("To be out", 2.6))
    yield Table(columns, rows, "None is in at a unit of the scope.")


def _out_words(item: Item, at: dict[str, Placed], paper: TurnaroundPaper) -> str:
    one = at.get(item.where.name)
    if one is None:
        return "before heat-up; not planned"
    end = moment(paper.plan.schedule.means, one.end, is_end=True)
    return f"after its work, {end:%m-%d %H:%M}, and counted before heat-up"


def _unknowns(paper: TurnaroundPaper) -> Iterator[Block]:
    plan = paper.plan
    yield Heading("Growth, and what is not known")
    share, growth = f"{plan.norms.growth:g} %", hours(plan.totals.growth)
    yield Paragraph(f"Allowance for growth: {share} of the fitters' hours, {growth}; in no sum.")
    late = ", ".join(one.where.name for one in plan.scope.after_freeze)
    yield Paragraph(f"Added after the freeze: {late or 'nothing'}.")
    rows = tuple((Cell(name, name=True), why) for name, why in plan.not_planned)
    columns = (Column("Not planned", 1.0), Column("Why", 4.0))
    yield Table(columns, rows, "Every item of the scope is planned.")
    waits = _waits(plan.scope.befores)
    if waits:
        yield Heading("Jobs that must come before, outside this list", 3)
        yield Listing(waits)
    if plan.scope.taken_out:
        yield Heading("Taken out again", 3)
        yield Listing(tuple(f"{name}: {why}" for name, why in plan.scope.taken_out))


def _waits(befores: Sequence[Before]) -> tuple[str, ...]:
    return tuple(f"{one.order} waits for: {one.job}" for one in befores)
