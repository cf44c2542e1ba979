"""The scope of a turnaround as a list: every unit once, with its reasons and what it takes."""

from __future__ import annotations

from collections.abc import Iterator

from reports.contents.blocks import Block, Cell, Column, Heading, Listing, Paragraph, Table, Written
from reports.contents.written import NOT_KNOWN
from reports.languages import IN_ENGLISH, Texts
from supports.rules.turnaround.effort import effort_of, scaffold_name
from supports.rules.turnaround.plan import Plan
from supports.rules.turnaround.scope import Item, Reason, Source


def hours(value: float) -> str:
    """Write hours with at most two decimals: '2.5'."""
    return f"{round(value, 2):g}"


def scope_list(plan: Plan, say: Texts = IN_ENGLISH) -> Iterator[Block]:
    """Give the scope as a list, and what the rules named in it say."""
    critical = set(plan.critical_units)
    rows = [
        _scope_row(place, one, plan, critical, say) for place, one in enumerate(plan.scope.items, 1)
    ]
    total = Cell(hours(plan.totals.fitters), strong=True)
    rows.append((*("",) * 3, Cell(say("Sum"), strong=True), *("",) * 6, total, "", ""))
    yield Heading(say("Scope"), 1)
    yield Paragraph(
        say(
            "One line for each unit, whoever asked for it. CRITICAL moves the end if it slips; "
            "units "
            "of one line are turned by one crew in the order given. Hold points are told in the "
            "pack."
        ),
        small=True,
    )
    yield Table(_scope_columns(say), tuple(rows), small=True)
    yield from _rules_said(plan, say)


def _scope_columns(say: Texts) -> tuple[Column, ...]:
    return (
        Column(say("No."), 0.0, right=True),
        Column(say("Line"), 1.1),
        Column(say("Unit"), 1.1),
        Column(say("Action"), 1.1),
        Column(say("Why"), 3.4),
        Column(say("Line state"), 1.2),
        Column(say("Turn"), 0.0, right=True),
        Column(say("Height"), 0.0, right=True),
        Column(say("Scaffold"), 0.9),
        Column(say("Crew × h"), 0.0, right=True),
        Column(say("Man-h"), 0.0, right=True),
        Column(say("Holds"), 0.0, right=True),
        Column(say("Pack"), 1.2),
    )


def _scope_row(
    place: int, item: Item, plan: Plan, critical: set[str], say: Texts
) -> tuple[Written, ...]:
    effort, where = effort_of(item, plan.norms), item.where
    marks = [
        *([say("CRITICAL")] if where.name in critical else []),
        *([say("AFTER THE FREEZE")] if item.after_freeze else []),
    ]
    return (
        str(place),
        where.line or "–",
        Cell(where.name, name=True),
        ", ".join((*map(say.word, item.actions), *marks)),
        "; ".join(_why(item, say)),
        ", ".join(map(say.word, item.states)) or say("any"),
        str(item.turn[1]) if item.turn[1] else "–",
        NOT_KNOWN if where.height is None else f"{where.height:.1f} m",
        scaffold_name(item, plan.norms) or say("from the floor"),
        f"{effort.crew} × {hours(effort.hours)}",
        hours(effort.fitters),
        str(len(item.holds)) if item.holds and item.moves_load else "–",
        ", ".join(item.orders) or "–",
    )


def _why(item: Item, say: Texts) -> Iterator[str]:
    """Give the reasons, those of rules by severity and name; what these say is told below."""
    yield from (_reason(one, say) for one in item.reasons if one.source is not Source.RULE)
    rules = [one for one in item.reasons if one.source is Source.RULE]
    if rules:
        named = ", ".join(f"{say.word(one.words.split(',')[0])} {one.reference}" for one in rules)
        yield say("rules: {named}", named=named)


def _reason(one: Reason, say: Texts) -> str:
    head = f"{one.change} {one.reference}".strip()
    return f"{say.word(str(one.source))} {head}: {say.sentence(one.words)}".rstrip(": ")


def _rules_said(plan: Plan, say: Texts) -> Iterator[Block]:
    """Give what the rules named in the list say, each once."""
    said = {
        one.reference: one.words.split(", ", 1)[-1]
        for item in plan.scope.items
        for one in item.reasons
        if one.source is Source.RULE
    }
    if said:
        yield Heading(say("What the rules named say"))
        yield Listing(tuple(f"{name}: {say.sentence(said[name])}." for name in sorted(said)))
