"""What the commands of change control say: next steps, units of the scale, periods, counts."""

from __future__ import annotations

import pytest

from supports.errors import BadInput, Conflict, NotFound
from supports.vocabulary import counted
from tests.acceptance.sheets import one_constant
from tests.acceptance.walk import approved


@pytest.fixture
def pounds(site):
    """Give a site with an approved change at one unit whose scale is in lbf."""
    sheets = one_constant("PS-1", 20.0, 22.1, rod=40.0)
    sheets["Nameplates"][1][2] = "lbf"
    sheets["Nameplates"][1][4:8] = [4500, 3825, 5175, 56.2]
    site.bring("site.xlsx", sheets)
    approved(site)
    return site


def test_an_order_names_loads_in_the_unit_of_the_scale_first(pounds):
    """1 lbf is 4.4482216152605 N (NIST SP 811): 20 kN are 4 496.2 lbf, 22.1 kN are 4 968.3 lbf."""
    assert pounds.say("work-order write CH-1", person="PL").startswith("WO-2031-001 is written")
    shown = pounds.say("work-order show WO-2031-001").replace("\u202f", "")
    assert "4496 lbf -> 4968 lbf (20.00 kN -> 22.10 kN) 8 turns 2 flats" in shown
    history = pounds.say("unit history PS-1").replace("\u202f", "")
    assert "set to 4496 lbf by" in history


def test_a_change_says_what_comes_next_on_its_order(pounds):
    def last() -> str:
        return pounds.say("change show CH-1").strip().splitlines()[-1]

    assert last() == "Next, by the planner: supports work-order write"
    pounds.say("work-order write CH-1", person="PL")
    assert last().endswith("who did not write it: supports work-order check WO-2031-001")
    assert "WO-2031-001 (re-set): written, 1 unit\n" in pounds.say("change show CH-1")
    pounds.say("work-order check WO-2031-001", person="S2")
    assert last() == "Next, by the planner: supports work-order give-out WO-2031-001"
    pounds.say("work-order give-out WO-2031-001 --to crew", person="PL")
    assert last().endswith("supports work-order as-found WO-2031-001")
    drained = "--plant-state 'shut down, drained'"
    read = f"work-order as-found WO-2031-001 PS-1 --load '4496 lbf' --pointer '40 mm' {drained}"
    pounds.say(read, person="T1")
    assert "as-left WO-2031-001" in last()
    left = f"work-order as-left WO-2031-001 PS-1 --load '4968 lbf' --pointer '40 mm' {drained}"
    pounds.say(f"{left} --second-reader T2", person="T1")
    assert last().endswith("supports work-order accept WO-2031-001")


@pytest.mark.parametrize("word", ["forever", "emergency", "temp"])
def test_a_change_is_permanent_or_temporary(site, word):
    site.bring("site.xlsx", one_constant("PS-1", 20.0, 22.1, rod=40.0))
    with pytest.raises(BadInput, match=r"expected permanent or temporary\. .*make-safe"):
        site.say(f"change new valve --line L-1 --duration {word}", person="CO")
    assert "is noted" in site.say("change new valve --line L-1 --duration Permanent", person="CO")


def test_retention_is_laid_down_and_what_held_before_stays_known(site):
    """29 CFR 1910.119 gives no years for change records, so that the site must lay them down."""
    assert "keep_years                      5 years   proposed" in site.say("settings periods")
    lay = "settings period keep_years 10 --source 'site procedure 12'"
    assert "keep_years: 10 years from today on" in site.say(lay, person="RE")
    with pytest.raises(Conflict, match="laid down today already, by Person RE"):
        site.say(lay, person="RE")
    site.say("settings period keep_years 15 --source 'new law'", person="RE", on="2031-06-01")
    listed = site.say("settings periods", on="2031-06-02")
    assert "keep_years                     15 years " in listed
    assert "2031-05-05: 10 years, by Person RE: site procedure 12" in listed
    assert "2031-06-01: 15 years, by Person RE: new law" in listed
    site.bring("site.xlsx", one_constant("PS-1", 20.0, 22.1, rod=40.0))
    site.say("change new valve --line L-1 --number CH-1", person="CO")
    history = site.say("change history CH-1")
    assert "keeps it at hand for 10 years" in history
    verified = site.say("audit verify").split("Head: ")[1].splitlines()[0]
    assert f"The record's head is {verified}" in history


@pytest.mark.parametrize(
    ("words", "error", "said"),
    [
        ("keep_years 0 --source x", BadInput, "longer than nought"),
        ("keep_years 7", BadInput, "needs its source"),
        ("keep_ages 7 --source x", NotFound, "one of temporary_longest; "),
    ],
)
def test_a_period_that_cannot_be_is_refused(site, words, error, said):
    with pytest.raises(error, match=said):
        site.say(f"settings period {words}", person="RE")


def test_the_hours_of_an_emergency_are_laid_down_once_for_gate_and_rule(site):
    with pytest.raises(NotFound, match="It is a limit: supports settings set emergency_hours"):
        site.say("settings period emergency_hours 48 --source x", person="RE")
    site.say("settings set emergency_hours 24 --source 'site procedure 3'", person="RE")
    site.bring("site.xlsx", one_constant("PS-1", 20.0, 22.1, rod=40.0))
    site.say(
        "change make-safe prop --line L-1 --shift-leader OP --engineer S1 --reason cracked",
        person="T1",
    )
    assert "the full change is due by 2031-05-06 08:00" in site.say("change show CH-2031-001")


def test_one_is_one_and_many_are_many():
    assert [counted(n, "unit") for n in (0, 1, 2, 1200)] == [
        "0 units", "1 unit", "2 units", "1,200 units"
    ]  # fmt: skip
    assert counted(2, "batch", "batches") == "2 batches"
