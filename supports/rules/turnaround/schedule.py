"""A schedule: which task when and by which crew, held against everything it must keep."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from itertools import pairwise

from supports.rules.turnaround.tasks import QUARTERS, Means, Task, Trade

DAY_BEGINS = time(7)
"""When work begins on a day, as printed; the site reads its own hour into it."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A task with its first quarter of an hour, and the crew's number; 0 is none."""

    task: Task
    start: int
    crew: int = 0

    @property
    def end(self) -> int:
        """Return the first quarter of an hour after it."""
        return self.start + self.task.length


@dataclass(frozen=True, slots=True)
class Proof:
    """How good one aim of a schedule is: what was reached, and what cannot be beaten."""

    aim: str
    reached: float
    bound: float

    @property
    def gap(self) -> float:
        """Return by which share [1] of the figure reached it may be better at most."""
        return max(0.0, (self.reached - self.bound) / self.reached) if self.reached else 0.0

    def __str__(self) -> str:
        """Return it in words."""
        if self.gap < 1e-9:
            return f"{self.aim}: proved best"
        return f"{self.aim}: not proved best; at most {100.0 * self.gap:.1f} % could be saved"


@dataclass(frozen=True, slots=True)
class Schedule:
    """A levelled schedule; `critical` names the tasks that move the end if they slip."""

    means: Means
    placed: tuple[Placed, ...]
    proofs: tuple[Proof, ...]
    critical: tuple[str, ...]

    @property
    def end(self) -> int:
        """Return the first quarter of an hour after the last task."""
        return max((one.end for one in self.placed), default=0)


def moment(means: Means, quarter: int, *, is_end: bool = False) -> datetime:
    """Return when a quarter of an hour of work is on the clock.

    An end that falls on the close of a day is told as that day's close.
    """
    days, left = divmod(quarter, means.day)
    if is_end and left == 0 and quarter > 0:
        days, left = days - 1, means.day
    begin = datetime.combine(means.begins_on + timedelta(days=days), DAY_BEGINS)
    return begin + timedelta(hours=left / QUARTERS)


def breaches(means: Means, placed: Sequence[Placed]) -> Iterator[str]:
    """Give everything that a schedule breaks; worked out apart from whoever made it."""
    at = {one.task.name: one for one in placed}
    for one in placed:
        if not any(a <= one.start and one.end <= b for a, b in one.task.windows):
            yield f"{one.task.name} lies outside the times allowed"
        for name in one.task.after:
            if name in at and at[name].end > one.start:
                yield f"{one.task.name} begins before {name} is over"
        if one.task.chain and not 1 <= one.crew <= means.crews:
            yield f"{one.task.name} has no crew"
    yield from _crews(placed)
    for trade in Trade:
        if peak_of(placed, trade) > means.people(trade):
            yield f"more {trade} are needed at once than there are"
    attended = [one for one in placed if one.task.engineer]
    if _peak(attended, {one.task.name: 1 for one in attended}) > means.engineers:
        yield "more engineers are needed at once than there are"


def _crews(placed: Sequence[Placed]) -> Iterator[str]:
    of_chain: dict[str, set[int]] = defaultdict(set)
    of_crew: dict[int, list[Placed]] = defaultdict(list)
    for one in placed:
        if one.task.chain:
            of_chain[one.task.chain].add(one.crew)
            of_crew[one.crew].append(one)
    for chain, crews in of_chain.items():
        if len(crews) > 1:
            yield f"{chain} is worked by more than one crew"
    for crew, held in of_crew.items():
        held.sort(key=lambda one: one.start)
        for first, second in pairwise(held):
            if first.end > second.start:
                yield f"crew {crew} is at {first.task.name} and {second.task.name} at once"


def _peak(placed: Sequence[Placed], demand: Mapping[str, int]) -> int:
    return max((_used(placed, demand, one.start) for one in placed), default=0)


def _used(placed: Sequence[Placed], demand: Mapping[str, int], quarter: int) -> int:
    return sum(demand[one.task.name] for one in placed if one.start <= quarter < one.end)


def peak_of(placed: Sequence[Placed], trade: Trade) -> int:
    """Return how many people of a trade are at work at once at most."""
    share = [one for one in placed if one.task.trade is trade]
    return _peak(share, {one.task.name: one.task.people for one in share})


def standing_proof(placed: Sequence[Placed]) -> Proof:
    """Return how long scaffolds stand, and the least that the work on each of them takes.

    One crew's work on a scaffold, one unit after the other, cannot be shorter than its sum.
    """
    reached, bound = 0, 0
    for up in (one for one in placed if one.task.name.startswith("up ")):
        on_it = [one for one in placed if one.task.scaffold == up.task.scaffold]
        reached += next(o.start for o in on_it if o.task.name.startswith("down ")) - up.start
        by_chain: dict[str, int] = defaultdict(int)
        for one in on_it:
            if one.task.trade is Trade.FITTERS:
                by_chain[one.task.chain] += one.task.length
        bound += up.task.length + max(by_chain.values(), default=0)
    return Proof("scaffolds standing", float(reached), float(bound))


def critical_tasks(means: Means, placed: Sequence[Placed]) -> tuple[str, ...]:
    """Return the tasks on a chain without slack that leads to the end of the last one.

    From task to task backwards: what ends just as the next begins, and holds it up, as it must come
    before, keeps its crew, or takes people that the next needs.
    """
    end = max((one.end for one in placed), default=0)
    open_ones = [one for one in placed if one.end == end]
    found = {one.task.name: one for one in open_ones}
    while open_ones:
        later = open_ones.pop()
        for one in placed:
            tight = one.task.name not in found and one.end == later.start
            if tight and _holds_up(means, placed, one, later):
                found[one.task.name] = one
                open_ones.append(one)
    return tuple(one.task.name for one in placed if one.task.name in found)


def _holds_up(means: Means, placed: Sequence[Placed], one: Placed, later: Placed) -> bool:
    if one.task.name in later.task.after or (one.crew and one.crew == later.crew):
        return True
    just_before = later.start - 1
    if one.task.trade is later.task.trade:
        trade = later.task.trade
        share = [p for p in placed if p.task.trade is trade]
        used = _used(share, {p.task.name: p.task.people for p in share}, just_before)
        if used + later.task.people > means.people(trade):
            return True
    attended = [p for p in placed if p.task.engineer]
    used = _used(attended, {p.task.name: 1 for p in attended}, just_before)
    return one.task.engineer and later.task.engineer and used + 1 > means.engineers
