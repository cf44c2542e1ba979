"""Numbers for shock arrestors against the published table and independent programs."""

from __future__ import annotations

import pytest
from scipy import stats

from supports.errors import BadInput
from supports.rules.walkdown.sampling import (
    least_good,
    next_look,
    published_rows,
    sample_size,
    visual_row,
)

# US NRC Generic Letter 90-09, table of visual inspection intervals: population, extend, repeat,
# reduce. Rows up to 150 as read in the letter; from 200 on from memory.
PUBLISHED = [
    (1, 0, 0, 1), (80, 0, 0, 2), (100, 0, 1, 4), (150, 0, 3, 8), (200, 2, 5, 13), (300, 5, 12, 25),
    (400, 8, 18, 36), (500, 12, 24, 48), (750, 20, 40, 78), (1000, 29, 56, 109),
]  # fmt: skip


@pytest.mark.parametrize("row", PUBLISHED)
def test_the_published_rows(row):
    made = visual_row(row[0])
    assert (made.population, made.extend, made.repeat, made.reduce) == row
    assert made.trust == ("read" if row[0] <= 150 else "from memory")


def test_the_last_row_stands_for_more():
    assert visual_row(5000) == published_rows()[-1]


def test_between_rows_fractions_are_dropped():
    # The letter: interpolation allowed, a fraction reduced to the next lower integer.
    # 125 is half way from 100 to 150: 0, (1 + 3) / 2 = 2, (4 + 8) / 2 = 6; 90: 0.5 to 0, 3.
    assert visual_row(125).repeat == 2
    assert visual_row(125).reduce == 6
    assert (visual_row(90).repeat, visual_row(90).reduce) == (0, 3)
    assert visual_row(175).trust == "partly from memory"


@pytest.mark.parametrize(
    ("bad", "months"),
    [(0, 36.0), (2, 36.0), (3, 18.0), (5, 18.0), (9, 18.0 * (1 - 4 / 8 / 3)), (13, 12.0),
     (20, 12.0)],
)  # fmt: skip
def test_the_next_interval_of_two_hundred(bad, months):
    assert next_look(200, bad, 18.0).months == pytest.approx(months)


def test_the_interval_is_never_longer_than_forty_eight_months():
    assert next_look(200, 0, 36.0).months == 48.0


@pytest.mark.parametrize(
    ("good", "size"),
    [(0.95, 59), (0.90, 29)],
)
def test_none_failing_in_a_large_population(good, size):
    # Wilks, Annals of Mathematical Statistics 12 (1941): 59 for 95 % of 95 %; for 90 % likewise
    # ln 0.05 / ln 0.9 = 28.4, so 29.
    assert sample_size(10**6, good, 0.95) == size


@pytest.mark.parametrize(("population", "good"), [(40, 0.9), (200, 0.95), (37, 0.9)])
def test_the_size_is_the_smallest_that_scipy_agrees_to(population, good):
    size = sample_size(population, good, 0.95)
    bad = int(population * (1 - good) + 1e-9) + 1
    assert stats.hypergeom.pmf(0, population, bad, size) <= 0.05
    assert stats.hypergeom.pmf(0, population, bad, size - 1) > 0.05


@pytest.mark.parametrize(("tested", "failed"), [(20, 0), (20, 2), (37, 1), (100, 0)])
def test_the_bound_is_that_of_scipy(tested, failed):
    population = 100
    bad = population - least_good(population, tested, failed, 0.95)
    assert bad == failed or stats.hypergeom.cdf(failed, population, bad, tested) > 0.05
    if bad < population - (tested - failed):
        assert stats.hypergeom.cdf(failed, population, bad + 1, tested) <= 0.05


def test_counts_that_contradict_each_other_are_refused():
    for call in (
        lambda: next_look(10, 11, 18.0),
        lambda: visual_row(0),
        lambda: sample_size(10, 1.0, 0.95),
        lambda: least_good(10, 11, 0, 0.95),
    ):
        with pytest.raises(BadInput):
            call()
