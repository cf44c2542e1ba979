"""Turnarounds as lines of text for a terminal: scope, sums, plan, norms."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

from app.shapes import NumberNow
from supports.model import Turnaround
from supports.operations.turnarounds import Collected
from supports.queries.laid_down import NumberLaidDown, number_in_force
from supports.rules.turnaround.effort import effort_of, totals
from supports.rules.turnaround.norms import Norms, norms
from supports.rules.turnaround.plan import Plan
from supports.rules.turnaround.schedule import moment
from supports.rules.turnaround.scope import Item, Scope
from supports.vocabulary import counted


def collected_lines(found: Collected) -> Iterator[str]:
    """Return what a collecting brought."""
    yield f"{counted(found.items, 'new item')}, {counted(found.reasons, 'new reason')}."
    if found.after_freeze:
        yield f"The scope is frozen: {counted(found.after_freeze, 'addition')} after the freeze."
    for name in found.asked_again:
        yield f"  {name} was taken out, and something asks for it again"


def scope_lines(row: Turnaround, scope: Scope, norms_: Norms) -> Iterator[str]:
    """Return the scope item by item, with its sums and what it waits for."""
    frozen = f"scope frozen on {row.frozen_on} by {row.frozen_by}" if row.frozen_on else "open"
    yield f"{row.number} {row.title}: {row.begins_on} to {row.ends_on}, {frozen}"
    for place, item in enumerate(scope.items, start=1):
        yield from _item_lines(place, item, norms_)
    yield from _sum_lines(scope, norms_)
    for material in scope.materials:
        due = f", due {material.due_on}" if material.due_on else ""
        amount = f"{material.quantity:g} x {material.item}"
        yield f"  {material.order}: {amount}: {material.status}{due}"
    for before in scope.befores:
        yield f"  {before.order} waits for: {before.job}"
    for name, why in scope.taken_out:
        yield f"  taken out: {name}: {why}"


def _item_lines(place: int, item: Item, norms_: Norms) -> Iterator[str]:
    effort = effort_of(item, norms_)
    late = "  AFTER THE FREEZE" if item.after_freeze else ""
    actions = ", ".join(item.actions)
    yield (
        f"{place:>4} {item.where.line:<12} {item.where.name:<12} {actions:<24} "
        f"{effort.crew} x {effort.hours:g} h = {effort.fitters:g}{late}"
    )
    yield from (f"       - {reason}" for reason in item.reasons)


def _sum_lines(scope: Scope, norms_: Norms) -> Iterator[str]:
    sums = totals(scope, norms_)
    joined = sum(len(item.reasons) > 1 for item in scope.items)
    yield (
        f"{counted(len(scope.items), 'item')}, {joined} of them with more than one reason, "
        f"{len(scope.after_freeze)} after the freeze, {len(scope.done)} done."
    )
    yield (
        f"Man-hours: fitters {sums.fitters:g}, scaffold {sums.scaffold:g}, inspection "
        f"{sums.inspection:g}, engineer's presence {sums.presence:g}; together {sums.whole:g}."
    )
    yield f"Allowance for growth, in no sum: {sums.growth:g}."
    if sums.scaffolds_not_known:
        unknown = counted(sums.scaffolds_not_known, "scaffold")
        yield f"Not in the sums: {unknown} whose height nobody knows."


def plan_lines(plan: Plan, revision: int) -> Iterator[str]:
    """Return a plan: task by task in time, what is critical, how good it is proved to be."""
    schedule = plan.schedule
    critical = set(schedule.critical)
    for one in schedule.placed:
        begin = moment(schedule.means, one.start)
        end = moment(schedule.means, one.end, is_end=True)
        who = f"crew {one.crew}" if one.crew else str(one.task.trade)
        what = ", ".join(one.task.units) or one.task.scaffold
        mark = "  CRITICAL" if one.task.name in critical else ""
        yield (
            f"  {begin:%m-%d %H:%M} to {end:%m-%d %H:%M}  {who:<12} {one.task.name:<14} "
            f"{one.task.people} people: {what}{mark}"
        )
    for name, why in plan.not_planned:
        yield f"  NOT PLANNED {name}: {why}"
    yield from (f"  {proof}" for proof in schedule.proofs)
    if not plan.windows:
        yield "  No plant states were laid down: every day counts as in the state needed."
    days = Counter(one.task.trade for one in schedule.placed)
    tasks = ", ".join(f"{count} of {trade}" for trade, count in days.items())
    end = moment(schedule.means, schedule.end, is_end=True)
    yield f"Plan {revision}: {tasks or 'no tasks'}; the last ends {end:%Y-%m-%d %H:%M}."


def norm_lines(laid_down: Sequence[NumberLaidDown], today: date) -> Iterator[str]:
    """Return every norm with what is proposed and all that was laid down for it."""
    for name, norm in norms().items():
        held = [one for one in laid_down if one.name == name]
        now = number_in_force(laid_down, name, today)
        value = now.number if now else float(norm.default)
        words = "" if now else f"  proposed; {norm.source}; {norm.trust}"
        yield f"  {name:<20}{value:>7g} {norm.unit:<7}{norm.meaning}{words}"
        for one in held:
            yield f"    {one.valid_from}: {one.number:g}, by {one.owner}: {one.source}"


def norms_now(laid_down: Sequence[NumberLaidDown], today: date) -> Iterator[NumberNow]:
    """Return every norm as it holds."""
    for name, norm in norms().items():
        now = number_in_force(laid_down, name, today)
        value = now.number if now else float(norm.default)
        source = now.source if now else norm.source
        yield NumberNow(name, value, norm.unit, norm.meaning, now is not None, source)
