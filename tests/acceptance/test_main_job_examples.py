"""Worked examples of the trade from sheets to verdicts, on both databases.

The numbers were worked by hand beforehand (lever rule, turns = change / load per turn, rod
capacity = root area times allowable); no source beyond arithmetic unless one is named.
"""

from __future__ import annotations

import pytest

from tests.acceptance.sheets import (
    CALCULATIONS,
    LINES,
    LOADS,
    SUPPORTS,
    one_constant,
    plate,
    trapeze,
)
from tests.acceptance.walk import assessed, verdicts

ROD_M24 = 21.73
"""kN: 324.3 mm² of root area at an invented 67 MPa."""


B = (11.98, 16.22)
"""Range of the trapeze's unit B [kN]: 15 % about 14.1 kN."""


def plain(printed: str) -> str:
    """Return what was printed with no space before a percent sign, held or not."""
    return printed.replace("\u00a0", " ").replace(" %", "%")


def test_a_clean_re_set_tells_turns_flats_and_direction(site):
    # 2.1 kN at 0.25 kN a turn: 8.4 turns, 8 turns and 0.4 x 6 = 2.4 flats
    site.bring("site.xlsx", one_constant("PS-1", 20.0, 22.1, rod=40.0))
    printed = assessed(site)
    assert verdicts(printed) == {"PS-1": "re-set: 8 turns 2 flats, clockwise from below"}
    assert "+10.5" in printed


def test_a_unit_in_range_whose_rod_is_overloaded_is_not_re_set(site):
    # 22.1 kN + 0.3 kN of hardware = 22.4 kN on 21.73 kN: 103.1 %; 0.3 kN weigh 30.591 kg
    site.bring("site.xlsx", one_constant("PS-1", 20.0, 22.1, rod=ROD_M24, hung=30.5915))
    printed = assessed(site)
    assert verdicts(printed) == {"PS-1": "hardware fails"}
    assert "22.40 kN of 21.73 kN: 103.1%" in plain(printed)
    assert "turns" not in printed


def test_a_range_is_counted_from_the_nameplate_not_from_a_hand_mark(site):
    # 23.4 kN is +8.8 % from the mark at 21.5 kN but +17 % from the plate, beyond 23.0 kN
    sheets = one_constant("PS-1", 21.5, 23.4, rod=40.0)
    sheets["Settings"][1][4] = "paper mark"
    site.bring("site.xlsx", sheets)
    printed = assessed(site)
    assert verdicts(printed) == {"PS-1": "cannot be set"}
    assert "+17.0% from the nameplate load 20.00 kN; range 17.00 kN to 23.00 kN" in plain(printed)


def test_two_units_on_one_trapeze_share_by_the_lever_rule(site):
    # A 40 x 1000/1600 + 0.6 = 25.6 kN: 12.5 turns; B 40 x 600/1600 + 0.6 = 15.6 kN: 10 turns
    site.bring("site.xlsx", trapeze(19.64, 26.56, *B))
    told = verdicts(assessed(site))
    assert told["PS-7/A"].startswith("re-set: 12 turns 3 flats")
    assert told["PS-7/B"].startswith("re-set: 10 turns")


def test_neither_unit_of_a_trapeze_is_turned_where_one_cannot_be_set(site):
    # 23.1 kN +- 10 % ends at 25.41 kN, below 25.6 kN, although the sum of both limits holds
    site.bring("site.xlsx", trapeze(20.79, 25.41, *B))
    printed = assessed(site)
    assert verdicts(printed) == {"PS-7/A": "cannot be set", "PS-7/B": "cannot be set"}
    assert "turns" not in printed


@pytest.mark.parametrize(
    ("line_b", "shares"), [(8.0, ("11.00 kN", "9.00 kN")), (10.0, ("11.50 kN", "10.50 kN"))]
)
def test_a_support_of_two_lines_carries_both(site, line_b, shares):
    # 12 kN at 400 mm and 8 kN at 1200 mm of 1600 mm: 11.0 and 9.0 kN; +2 kN: 11.5 and 10.5 kN
    sheets = trapeze(10.0, 36.0, *B)
    sheets["Lines"].append(["L-2", "N", "8"])
    sheets["Nameplates"][1:] = [
        plate("PS-7", 11.0, 8.0, 14.0, 0.2),
        plate("PS-7", 9.0, 6.0, 12.0, 0.2, position="B"),
    ]
    sheets["Shared supports"] = [
        ["Support tag", "Line number", "Order along line", "Distance from unit A [mm]"],
        ["PS-7", "L-1", 1, 400],
        ["PS-7", "L-2", 1, 1200],
    ]
    sheets["Supports"][1][5:] = [800, 800, 0]
    sheets["Calculations"].append(["C-2", "B", "full analysis", "issued", "2031-05-01"])
    loads = [["C-1", "B", "PS-7", "L-1", "operating", "operating", 12.0, "yes", -140]]
    loads += [["C-2", "B", "PS-7", "L-2", "operating", "operating", line_b, "yes", -140]]
    sheets["Calculation loads"] = [LOADS, *loads]
    sheets["Settings"][1][3], sheets["Settings"][2][3] = 11.0, 9.0
    site.bring("site.xlsx", sheets)
    printed = assessed(site, "C-2", line="L-2")
    for row, share in zip(("PS-7/A", "PS-7/B"), shares, strict=True):
        (line,) = [one for one in printed.splitlines() if one.startswith(row)]
        assert f" {share} " in line
    listed = site.say("support list")
    assert "L-1, L-2" in listed
    assert listed.splitlines()[-1].startswith("1 support")


def test_a_register_of_bare_tags_answers_cannot_judge_three_hundred_times(site):
    tags = [f"PS-{n}" for n in range(1, 301)]
    site.bring(
        "site.xlsx",
        {
            "Lines": [LINES[:1], ["L-1"]],
            "Supports": [SUPPORTS[:2], *([tag, "L-1"] for tag in tags)],
            "Calculations": [CALCULATIONS, ["C-1", "B", "full analysis", "issued", None]],
            "Calculation loads": [
                [*LOADS[:6]],
                ["C-1", "B", "PS-1", "L-1", "operating", "operating"],
            ],
        },
    )
    printed = assessed(site)
    assert "300 cannot judge" in printed
    assert set(verdicts(printed)) == set(tags)
    assert all(told.startswith("cannot judge (missing: ") for told in verdicts(printed).values())
    papers = site.say(f"change summary CH-1 --into {site.folder / 'papers'}")
    assert len(papers.split()) == 2
    for command in ("support list", "support show PS-17", "change show CH-1", "change list",
                    "stops count", "audit show", "audit verify", "people list"):  # fmt: skip
        assert site.say(command).strip()
    assert "300 support" in site.say("support list --line L-1")
