"""Statistical help for large numbers of shock arrestors: when to look again, how many to test.

The site chooses whether to use it. Its form is that of a table published by the US Nuclear
Regulatory Commission (Generic Letter 90-09); plants under other rules follow their own.
"""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from supports.errors import BadInput
from supports.sentences import Sentence

LONGEST_MONTHS = 48.0
"""Longest interval (Generic Letter 90-09, from memory)."""


@dataclass(frozen=True, slots=True)
class VisualRow:
    """One row: up to `extend` unacceptable the interval may double, up to `repeat` it stays."""

    population: int
    extend: int
    repeat: int
    reduce: int
    trust: str


@dataclass(frozen=True, slots=True)
class NextLook:
    """When to look again [months], and why."""

    months: float
    row: VisualRow
    why: str


@cache
def published_rows() -> tuple[VisualRow, ...]:
    """Return the table's rows by population."""
    text = (files("supports") / "data" / "arrestor_visual_intervals.csv").read_text("utf-8")
    return tuple(
        VisualRow(
            population=int(row["population"]),
            extend=int(row["extend"]),
            repeat=int(row["repeat"]),
            reduce=int(row["reduce"]),
            trust=row["trust"],
        )
        for row in csv.DictReader(text.splitlines())
    )


def visual_row(population: int) -> VisualRow:
    """Return the row for a population; between rows by interpolation, fractions dropped.

    Raises
    ------
    BadInput
        There is nothing to look at.
    """
    if population < 1:
        raise BadInput("a population is one arrestor or more", found=str(population))
    rows = published_rows()
    if population >= rows[-1].population:
        return rows[-1]
    above = next(row for row in rows if row.population >= population)
    if above.population == population:
        return above
    below = rows[rows.index(above) - 1]
    share = (population - below.population) / (above.population - below.population)

    def between(low: int, high: int) -> int:
        return math.floor(low + share * (high - low) + 1e-9)

    return VisualRow(
        population,
        between(below.extend, above.extend),
        between(below.repeat, above.repeat),
        between(below.reduce, above.reduce),
        below.trust if below.trust == above.trust else "partly from memory",
    )


def next_look(population: int, unacceptable: int, months: float) -> NextLook:
    """Return the next interval of visual inspection from what the last one found.

    Parameters
    ----------
    months
        The interval just ended.

    Raises
    ------
    BadInput
        More unacceptable than there are, or an interval of nought.
    """
    if not 0 <= unacceptable <= population or months <= 0.0:
        raise BadInput(
            "unacceptable ones are counted within the population, after an interval",
            found=Sentence(
                "{unacceptable} of {population} after {months} months",
                unacceptable=str(unacceptable),
                population=str(population),
                months=f"{months:g}",
            ),
        )
    row = visual_row(population)
    if unacceptable <= row.extend:
        return NextLook(min(2.0 * months, LONGEST_MONTHS), row, "may be doubled, at most 48 months")
    if unacceptable <= row.repeat:
        return NextLook(months, row, "stays as it is")
    if unacceptable >= row.reduce:
        return NextLook(months * 2.0 / 3.0, row, "is cut to two thirds")
    over = (unacceptable - row.repeat) / (row.reduce - row.repeat)
    return NextLook(months * (1.0 - over / 3.0), row, "is cut in proportion, by a third at most")


def sample_size(population: int, good_share: float, confidence: float) -> int:
    """Return how many to test, none failing, to be so confident that so large a share is good.

    Drawing without replacement: the smallest n for which, if one more were bad than allowed,
    a sample without a bad one has a probability of 1 - confidence at most.

    Raises
    ------
    BadInput
        A share or a confidence outside 0 to 1, or no population.
    """
    if population < 1 or not 0.0 < good_share < 1.0 or not 0.0 < confidence < 1.0:
        raise BadInput("a population of one or more, shares between 0 and 1")
    bad = math.floor(population * (1.0 - good_share) + 1e-9) + 1
    for n in range(1, population + 1):
        if _none_bad(population, bad, n) <= 1.0 - confidence:
            return n
    return population


def least_good(population: int, tested: int, failed: int, confidence: float) -> int:
    """Return the smallest number of good ones that a test does not contradict.

    Exact for drawing without replacement: the largest number bad for which seeing `failed` or
    fewer still has a probability above 1 - confidence.

    Raises
    ------
    BadInput
        The counts contradict each other.
    """
    if not 0 <= failed <= tested <= population or tested < 1 or not 0.0 < confidence < 1.0:
        raise BadInput(
            "failed ones are among the tested, and those among the population",
            found=Sentence(
                "{failed} of {tested} of {population}",
                failed=str(failed),
                tested=str(tested),
                population=str(population),
            ),
        )
    bad = failed
    while bad < population - (tested - failed) and (
        _at_most(population, bad + 1, tested, failed) > 1.0 - confidence
    ):
        bad += 1
    return population - bad


def _none_bad(population: int, bad: int, n: int) -> float:
    return _at_most(population, bad, n, 0)


def _at_most(population: int, bad: int, n: int, most: int) -> float:
    """Return the probability of at most so many bad ones in a sample (hypergeometric)."""
    ways = math.comb(population, n)
    good = population - bad
    seen = sum(math.comb(bad, k) * math.comb(good, n - k) for k in range(min(most, bad, n) + 1))
    return seen / ways
