"""A plan for two units on one trapeze, from sheets to the order, on both databases.

Worked example, by hand: 1,600 mm between the units, the pipe 600 mm from A, 36.0 kN on it and a
beam of 1.2 kN. A carries 36.0 x 1000/1600 + 0.6 = 23.1 kN, B 36.0 x 600/1600 + 0.6 = 14.1 kN. With
4.0 kN more at the pipe A is to carry 25.6 kN, which is 2.5 / 0.20 = 12.5 turns, and B 15.6 kN,
which is 1.5 / 0.15 = 10 turns: five rounds of 2.5 and 2.0 turns.

The worked line of two constants is told in `test_hand_mark_and_order`.
"""

from __future__ import annotations

import re

import pytest

from supports.errors import NotReady
from tests.acceptance.sheets import along, trapeze
from tests.acceptance.site import Site
from tests.acceptance.walk import CHANGE, RECORD, cleared

WIDE_A, WIDE_B = (19.64, 26.56), (11.98, 16.22)
"""15 % about the plates: both units fit."""
NARROW_A, NARROW_B = (20.79, 25.41), (12.69, 15.51)
"""10 % about the plates: 23.1 x 1.1 = 25.41 < 25.6 kN, and 14.1 x 1.1 = 15.51 < 15.6 kN."""
VALVE = {
    "Weight items": [
        ["Line number", "Description", "Added or removed", "Mass [kg]",
         "Distance along line [mm]", "Source"],
        ["L-1", "valve", "added", 4000 / 9.80665, 6000, "drawing"],
    ],
}  # fmt: skip
LEVER = 3
"""Where the lever method stands among the alternatives."""
STEP = re.compile(r"^ +\d+\. PS-7/([AB]): (.+) up; most used", re.MULTILINE)


def assessed_trapeze(site: Site, a: tuple[float, float], b: tuple[float, float]) -> str:
    """Note and assess 4.0 kN at the trapeze, by ranges of A and B [kN]; return what is printed."""
    site.bring("site.xlsx", along(trapeze(*a, *b)))
    site.say(f"change new 'a valve' --line L-1 --reason isolation --number {CHANGE}", person="CO")
    site.say(f"change sift {CHANGE} --depth screening --stretch 'the whole line'", person="CO")
    site.say(f"change describe {CHANGE} {RECORD}", person="CO")
    site.type("change", "weights", CHANGE, str(site.write("w.xlsx", VALVE)), person="S1")
    basis = ("--calculation", "C-1", "--revision", "B", "--aim", "loads of the calculation")
    return site.type("change", "assess", CHANGE, *basis, person="S1")


def made(site: Site, aim: str) -> str:
    """Make a plan; return what is printed."""
    words = ("plan", "make", CHANGE, "--line", "L-1", "--aim", aim, "--friction", "0 %")
    return site.type(*words, person="S1")


def shown(site: Site, which: int) -> str:
    """Return one alternative of the plan, told in full."""
    return site.say(f"plan show PL-2031-001 --which {which}")


def flats(turns: str) -> int:
    """Return turns and flats as flats: '2 turns 3 flats' is 15."""
    counts = {word.rstrip("s"): int(n) for n, word in re.findall(r"(\d+) (turns?|flats?)", turns)}
    return 6 * counts.get("turn", 0) + counts.get("flat", 0)


def test_both_units_are_turned_in_five_rounds_as_worked_by_hand(site):
    assessed_trapeze(site, WIDE_A, WIDE_B)
    made(site, "loads of the calculation")
    by_lever = shown(site, LEVER)
    assert "PS-7/A       12 turns 3 flats up: 23.10 kN -> 25.60 kN" in by_lever
    assert "PS-7/B       10 turns up: 14.10 kN -> 15.60 kN" in by_lever
    assert len(re.findall(r"^ +round \d+,", by_lever, re.MULTILINE)) == 5
    steps = STEP.findall(by_lever)
    assert [unit for unit, _ in steps] == ["A", "B"] * 5
    # 2.5 turns are 15 flats, 2.0 turns are 12
    assert [flats(turns) for _, turns in steps] == [15, 12] * 5


@pytest.mark.parametrize("aim", ["loads of the calculation", "pipe back to its level"])
def test_no_alternative_turns_one_unit_of_the_trapeze_without_the_other(site, aim):
    assessed_trapeze(site, WIDE_A, WIDE_B)
    told = made(site, aim)
    for which in re.findall(r"^ +(\d)\. (?:fewest|least|lever)", told, re.MULTILINE):
        units = [unit for unit, _ in STEP.findall(shown(site, int(which)))]
        assert units == ["A", "B"] * (len(units) // 2)
        assert units


@pytest.mark.parametrize(
    ("a", "b", "out"), [(NARROW_A, WIDE_B, "PS-7/A"), (WIDE_A, NARROW_B, "PS-7/B")]
)
def test_where_one_unit_is_outside_its_range_neither_gets_turns(site, a, b, out):
    # sums of the high ends: 25.41 + 16.22 and 26.56 + 15.51 kN; 25.6 + 15.6 = 41.2 kN fits both
    assert min(NARROW_A[1] + WIDE_B[1], WIDE_A[1] + NARROW_B[1]) > 25.6 + 15.6
    told = assessed_trapeze(site, a, b)
    assert "turns" not in told
    with pytest.raises(NotReady, match="no unit of the line may be turned") as why:
        made(site, "loads of the calculation")
    assert f"{out}: cannot be set" in str(why.value)
    assert site.say("plan list").strip() == "there is no plan yet"


def test_the_order_of_the_plan_gives_turns_to_both(site):
    assessed_trapeze(site, WIDE_A, WIDE_B)
    made(site, "loads of the calculation")
    site.say(f"plan choose PL-2031-001 {LEVER} --why 'as by hand'", person="RE")
    order = cleared(site)
    rows = [row for row in site.say(f"work-order show {order}").splitlines() if "PS-7/" in row]
    assert [(row.split()[1], flats(row.split(" kN ")[-1])) for row in rows] == [
        ("PS-7/A", 75), ("PS-7/B", 60),
    ]  # fmt: skip
