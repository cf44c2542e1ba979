"""The scope as tasks: a scaffold is built once, one crew goes along a line in order of turning."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum

from supports.rules.turnaround.effort import Effort, effort_of, scaffold_name, scaffolds
from supports.rules.turnaround.norms import Norms
from supports.rules.turnaround.scope import Before, Item, Scope

QUARTERS = 4
"""Time is counted in quarters of an hour of work."""


class Trade(StrEnum):
    """Who does a task."""

    SCAFFOLDERS = "scaffolders"
    FITTERS = "fitters"
    INSPECTORS = "inspectors"


@dataclass(frozen=True, slots=True)
class Means:
    """When there is work and how many people there are."""

    begins_on: date
    ends_on: date
    hours_a_day: float
    crews: int
    fitters: int
    scaffolders: int
    inspectors: int
    engineers: int

    @property
    def day(self) -> int:
        """Return how many quarters of an hour one day has."""
        return round(self.hours_a_day * QUARTERS)

    @property
    def horizon(self) -> int:
        """Return how many quarters of an hour the whole turnaround has."""
        return ((self.ends_on - self.begins_on).days + 1) * self.day

    def people(self, trade: Trade) -> int:
        """Return how many people of a trade there are."""
        return {
            Trade.SCAFFOLDERS: self.scaffolders,
            Trade.FITTERS: self.fitters,
            Trade.INSPECTORS: self.inspectors,
        }[trade]


@dataclass(frozen=True, slots=True)
class Window:
    """From the first to the last of these days a line is in a plant state; '' is every line."""

    line: str
    state: str
    first: date
    last: date


@dataclass(frozen=True, slots=True)
class Task:
    """Something that takes some people for some time without a break.

    Parameters
    ----------
    length
        Quarters of an hour.
    chain
        Tasks of one chain are done by one and the same crew; '' needs no crew.
    after
        Names of the tasks that must be over before.
    windows
        (first, last + 1) quarter of an hour in which it must lie whole.
    engineer
        Whether an engineer must be there.
    """

    name: str
    trade: Trade
    length: int
    people: int
    line: str = ""
    scaffold: str = ""
    chain: str = ""
    state: str = ""
    engineer: bool = False
    units: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    windows: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Tasks:
    """What can be planned, and what cannot with the reason."""

    tasks: tuple[Task, ...]
    not_planned: tuple[tuple[str, str], ...]


def quarters(hours: float) -> int:
    """Return a time [h] in whole quarters of an hour, rounded up; at least one."""
    return max(1, math.ceil(round(hours * QUARTERS, 6)))


def tasks_of(scope: Scope, norms: Norms, means: Means, windows: Sequence[Window]) -> Tasks:
    """Return the tasks of a scope with what they wait for, and what cannot be planned and why."""
    blocked = {i.where.name: why for i in scope.items if (why := _why_not(i, scope, norms))}
    blocks = _blocks([i for i in scope.items if i.where.name not in blocked], norms)
    while True:
        times = [_times(block, means, windows, scope) for block in blocks]
        late = {
            item.where.name: f"no time is left for it {_state_words(block)}"
            for block, spans in zip(blocks, times, strict=True)
            if not spans
            for item in block.items
        }
        if not late:
            break
        blocked |= late
        left = [i for block in blocks for i in block.items if i.where.name not in late]
        blocks = _blocks(left, norms)
    work = _work(blocks, times, scope)
    around = _around(work, blocks, scope, norms, means)
    return Tasks(tuple(_on_scaffolds([*work, *around])), tuple(blocked.items()))


@dataclass(frozen=True, slots=True)
class _Block:
    """Units of one line on one scaffold that are worked on one after the other."""

    line: str
    scaffold: str
    state: str
    chain: str
    items: tuple[Item, ...]
    efforts: tuple[Effort, ...]

    @property
    def length(self) -> int:
        return quarters(sum(one.hours for one in self.efforts))

    @property
    def orders(self) -> set[str]:
        return {order for item in self.items for order in item.orders}


def _why_not(item: Item, scope: Scope, norms: Norms) -> str:
    if len(item.states) > 1:
        return f"its reasons need different states: {' and '.join(item.states)}"
    for material in scope.materials:
        if material.order in item.orders and material.status != "have" and not material.due_on:
            return f"{material.item} is {material.status} and has no day of delivery"
    name = scaffold_name(item, norms)
    if name and item.where.height is None and name not in dict(scope.scaffold_hours):
        return "its height is not known, so that its scaffold cannot be told"
    return ""


def _blocks(items: Sequence[Item], norms: Norms) -> list[_Block]:
    """Return runs of units: in order of turning where load moves, else scaffold by scaffold."""
    runs: list[tuple[tuple[str, str, str, str], list[Item]]] = []
    turning = sorted(
        (i for i in items if i.moves_load), key=lambda i: (i.where.line, *i.turn, i.where.along)
    )
    for item in turning:
        key = _run_key(item, norms, f"line {item.where.line}")
        if not runs or runs[-1][0] != key:
            runs.append((key, []))
        runs[-1][1].append(item)
    for item in (i for i in items if not i.moves_load):
        _join(runs, item, norms)
    return [
        _Block(*key, tuple(held), tuple(effort_of(item, norms) for item in held))
        for key, held in runs
    ]


def _run_key(item: Item, norms: Norms, chain: str) -> tuple[str, str, str, str]:
    state = item.states[0] if item.states else ""
    return (item.where.line, scaffold_name(item, norms), state, chain)


def _join(
    runs: list[tuple[tuple[str, str, str, str], list[Item]]], item: Item, norms: Norms
) -> None:
    """Put a unit where no load moves to the last run on its line and scaffold, or by itself."""
    line, scaffold, state, _ = _run_key(item, norms, "")
    for key, held in reversed(runs):
        if key[:2] == (line, scaffold) and state in {"", key[2]}:
            held.append(item)
            return
    runs.append(((line, scaffold, state, f"{line} {scaffold}".strip()), [item]))


def _times(
    block: _Block, means: Means, windows: Sequence[Window], scope: Scope
) -> tuple[tuple[int, int], ...]:
    """Return the times in which a block can lie whole: state of the line, parts delivered."""
    spans = [(0, means.horizon)]
    if block.state and windows:
        spans = [
            (_quarter(one.first, means), _quarter(one.last + timedelta(days=1), means))
            for one in windows
            if one.state == block.state and one.line in {"", block.line}
        ]
    due = [m.due_on for m in scope.materials if m.order in block.orders and m.status != "have"]
    earliest = max((_quarter(day + timedelta(days=1), means) for day in due if day), default=0)
    cut = [(max(0, first, earliest), min(last, means.horizon)) for first, last in spans]
    return tuple(sorted({(a, b) for a, b in cut if b - a >= block.length}))


def _quarter(day: date, means: Means) -> int:
    return (day - means.begins_on).days * means.day


def _state_words(block: _Block) -> str:
    if not block.state:
        return "in the turnaround"
    return f"while line {block.line} is '{block.state}'"


def _work(
    blocks: Sequence[_Block], times: Sequence[tuple[tuple[int, int], ...]], scope: Scope
) -> list[Task]:
    names = [f"work {place:03d}" for place in range(1, len(blocks) + 1)]
    tasks = []
    for place, block in enumerate(blocks):
        same = [n for n, b in zip(names[:place], blocks[:place], strict=True) if _follows(b, block)]
        before = [
            name
            for name, other in zip(names, blocks, strict=True)
            if other is not block and _waits(block, other, scope.befores)
        ]
        tasks.append(
            Task(
                name=names[place],
                trade=Trade.FITTERS,
                length=block.length,
                people=max(one.crew for one in block.efforts),
                line=block.line,
                scaffold=block.scaffold,
                chain=block.chain,
                state=block.state,
                engineer=any(one.presence for one in block.efforts),
                units=tuple(item.where.name for item in block.items),
                after=tuple(dict.fromkeys((*same[-1:], *before))),
                windows=times[place],
            )
        )
    return tasks


def _follows(earlier: _Block, later: _Block) -> bool:
    return earlier.chain == later.chain


def _waits(block: _Block, other: _Block, befores: Iterable[Before]) -> bool:
    return any(
        one.order in block.orders
        and one.waits_for in other.orders
        and one.waits_for not in block.orders
        for one in befores
    )


def _around(
    work: Sequence[Task], blocks: Sequence[_Block], scope: Scope, norms: Norms, means: Means
) -> Iterator[Task]:
    """Give inspections and scaffolds; a scaffold stands until the last look is taken from it."""
    whole = ((0, means.horizon),)
    looks: dict[str, list[str]] = {}
    for task, block in zip(work, blocks, strict=True):
        hours = sum(one.inspection for one in block.efforts)
        looks.setdefault(task.scaffold, []).append(task.name)
        if hours > 0.0:
            name = task.name.replace("work", "look")
            looks[task.scaffold].append(name)
            yield Task(
                name, Trade.INSPECTORS, quarters(hours), 1, line=task.line,
                scaffold=task.scaffold, units=task.units, after=(task.name,), windows=whole,
            )  # fmt: skip
    served = replace(scope, items=tuple(item for block in blocks for item in block.items))
    people = max(1, min(round(norms.scaffold_crew), means.scaffolders))
    for one in scaffolds(served, norms):
        up, down = one.parted(norms)
        yield Task(
            f"up {one.name}", Trade.SCAFFOLDERS, quarters(up / people), people,
            scaffold=one.name, windows=whole,
        )  # fmt: skip
        yield Task(
            f"down {one.name}", Trade.SCAFFOLDERS, quarters(down / people), people,
            scaffold=one.name, after=tuple(looks[one.name]), windows=whole,
        )  # fmt: skip


def _on_scaffolds(tasks: Sequence[Task]) -> list[Task]:
    """Let each task wait for the scaffold that it is done from."""
    built = {task.scaffold: task.name for task in tasks if task.name.startswith("up ")}
    return [
        replace(task, after=(built[task.scaffold], *task.after))
        if task.trade is not Trade.SCAFFOLDERS and task.scaffold in built
        else task
        for task in tasks
    ]
