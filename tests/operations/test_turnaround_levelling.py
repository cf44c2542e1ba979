"""Schedules against optima worked out by hand, and against what no schedule can beat."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from supports.errors import NotReady
from supports.operations.turnarounds.levelling import levelled
from supports.rules.turnaround.schedule import breaches, peak_of
from supports.rules.turnaround.tasks import Means, Task, Trade

MEANS = Means(date(2031, 5, 5), date(2031, 5, 6), 10.0, 2, 4, 3, 1, 1)
WHOLE = ((0, MEANS.horizon),)


def task(name: str, length: int, **more) -> Task:
    said = {"trade": Trade.FITTERS, "people": 2, "chain": name, "windows": WHOLE} | more
    return Task(name, length=length, **said)


def test_five_jobs_on_two_crews_end_when_the_best_parting_of_them_ends():
    """Lengths 8, 7, 6, 5, 4 on two crews: 15 and 15 (8 + 7, 6 + 5 + 4); nothing ends before."""
    tasks = [task(f"t{length}", length) for length in (8, 7, 6, 5, 4)]
    schedule = levelled(tasks, MEANS)
    assert schedule.end == 15
    assert str(schedule.proofs[0]) == "end: proved best"
    assert set(schedule.critical) == {one.name for one in tasks}


def test_one_crew_is_enough_where_the_end_does_not_need_a_second():
    """A scaffold of 20 holds up one job of 4; another of 4 fits beside it: never four people."""
    up = task("up S", 20, trade=Trade.SCAFFOLDERS, people=3, chain="", scaffold="S")
    down = task(
        "down S", 1, trade=Trade.SCAFFOLDERS, people=3, chain="", scaffold="S", after=("a",)
    )
    tasks = [up, down, task("a", 4, after=("up S",), scaffold="S"), task("b", 4)]
    schedule = levelled(tasks, MEANS)
    assert schedule.end == 25
    assert peak_of(schedule.placed, Trade.FITTERS) == 2
    assert "b" not in schedule.critical


def test_the_same_tasks_give_the_same_schedule():
    tasks = [task(f"t{n}", 3 + n % 4, chain=f"c{n % 3}") for n in range(9)]
    assert levelled(tasks, MEANS) == levelled(tasks, MEANS)


def test_what_does_not_fit_is_told_with_its_figures():
    tasks = [task(f"t{n}", 41) for n in range(4)]
    with pytest.raises(NotReady, match=r"fitters: 82 h asked for, 80 h there are"):
        levelled(tasks, MEANS)


@pytest.mark.parametrize(
    ("tasks", "words"),
    [
        ([task("a", 4, people=5, units=("C1",))], r"5 fitters at a \(C1\)"),
        ([task("a", 4, engineer=True)], "an engineer at the hold points"),
    ],
)
def test_too_few_people_are_named(tasks, words):
    with pytest.raises(NotReady, match=words):
        levelled(tasks, replace(MEANS, engineers=0))


def test_nothing_to_do_is_a_schedule_too():
    assert levelled([], MEANS).end == 0


@settings(max_examples=12, deadline=None, derandomize=True, database=None)
@given(
    lengths=st.lists(st.integers(1, 9), min_size=1, max_size=6),
    chains=st.lists(st.integers(0, 3), min_size=6, max_size=6),
    waits=st.lists(st.booleans(), min_size=6, max_size=6),
)
def test_a_schedule_keeps_everything_and_cannot_beat_the_work(lengths, chains, waits):
    """No end comes before the longest chain, nor before all work shared between two crews."""
    tasks, last = [], {}
    for place, length in enumerate(lengths):
        chain = f"c{chains[place]}"
        before = (last[chain],) if chain in last else ()
        before += (f"t{place - 1}",) if place and waits[place] else ()
        tasks.append(task(f"t{place}", length, chain=chain, after=before))
        last[chain] = f"t{place}"
    schedule = levelled(tasks, MEANS)
    assert list(breaches(MEANS, schedule.placed)) == []
    of_chain = {t.chain: sum(u.length for u in tasks if u.chain == t.chain) for t in tasks}
    assert max(*of_chain.values(), -(-sum(lengths) // 2)) <= schedule.end <= sum(lengths)
    assert all(proof.bound <= proof.reached for proof in schedule.proofs)
