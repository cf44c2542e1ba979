"""Sixty sorts of dirt that plants' spreadsheets hold, each with what is found in it.

The two tables beside this are written to be read: each entry begins with its number in its family,
so that one sees at a glance what is met with and what becomes of it. ``"code"`` refuses a cell,
``Taken`` says something and takes it; a number [SI] is what it is read as.
"""

from __future__ import annotations

import pytest

from tests.importers.dirt_in_sheets import DAYS, SHEETS, TYPES
from tests.importers.dirt_in_values import LOADS_OFF, TAGS, UNITS

FAMILIES = {
    "tags": TAGS,
    "units": UNITS,
    "loads": LOADS_OFF,
    "dates": DAYS,
    "types": TYPES,
    "sheets": SHEETS,
}
EXAMPLES = {f"{name} {one}": dirt for name, of in FAMILIES.items() for one, dirt in of.items()}


@pytest.mark.parametrize("example", EXAMPLES)
def test_each_sort_of_dirt_is_found_at_its_cell_and_nothing_else_is(example, tmp_path):
    EXAMPLES[example].check(tmp_path)


def test_the_table_holds_ten_examples_of_each_of_six_families():
    numbers = {name: {int(one.split()[0]) for one in of} for name, of in FAMILIES.items()}
    assert numbers == {name: set(range(1, 11)) for name in FAMILIES}
