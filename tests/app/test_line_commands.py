"""The worked line of two constants from spreadsheets to printed numbers, and what is refused.

The expected numbers come from an independent small beam script that the trade's worked example was
made with (Euler-Bernoulli; rows 'fixed nozzle'); the program takes shear deformation in, which
changes them by up to 3 %.
"""

from __future__ import annotations

import json
import re

import pytest

from supports.errors import BadInput, NotAllowed, NotFound, NotReady
from supports.model import Calculation, RequiredLoad
from tests.app.line_sheets import added_weight, worked_line

NEAR = 0.03
LEVEL = "pipe back to its level"


@pytest.fixture
def site(terminal):
    """Give a register with the worked line and a change that adds the weight."""
    site = terminal.site
    site.bring("line.xlsx", worked_line())
    site.say("change new 'New valve' --line L-9 --number CH-1", person="CO")
    weights = site.write("weights.xlsx", added_weight())
    site.type("change", "weights", "CH-1", str(weights), person="S1")
    return site


def screened(site, *words):
    """Return what `line screen` prints through the change."""
    return site.type("line", "screen", "L-9", "--change", "CH-1", *words)


def numbers(printed, tag):
    """Return the numbers of the row that begins with a tag, by their order."""
    row = next(line for line in printed.splitlines() if line.split()[:1] == [tag])
    return [float(n) for n in re.findall(r"(?<![\w-])[+-]?\d+\.\d+", row)]


def nozzle(printed, state):
    """Return the eight printed components of the nozzle in a state [kN], [kN·m]."""
    row = next(
        line for line in printed.splitlines() if line.strip().startswith(f"N1           {state}")
    )
    return [float(n) for n in re.findall(r"[+-]?\d+\.\d+", row)][:8]


def test_weight_added_and_nothing_re_set_goes_where_the_worked_example_says(site):
    printed = screened(site, "--aim", "keep present settings")
    before, after = nozzle(printed, "before"), nozzle(printed, "added")
    assert before[2] - after[2] == pytest.approx(4.876, rel=NEAR)  # row (d): kN
    assert abs(after[5] - before[5]) == pytest.approx(21.55, rel=NEAR)  # row (d): kN·m
    for tag, load in (("PS-V", 0.507), ("PS-R", 0.617)):
        was, now, *_ = numbers(printed, tag)
        assert now - was == pytest.approx(load, abs=0.04)
    assert numbers(printed, "PS-C1")[-2] == pytest.approx(-4.8, abs=0.3)  # mm
    assert numbers(printed, "PS-C2")[-2] == pytest.approx(-11.7, abs=0.4)


def test_three_aims_give_three_sets_of_loads(site):
    only = ("--only", "PS-C1", "--only", "PS-C2")
    level = screened(site, "--aim", LEVEL, *only)
    least = screened(site, "--aim", "least change to nozzle", *only)
    kept = screened(site, "--aim", "keep present settings", *only)
    changes = [
        [numbers(text, tag)[3] for tag in ("PS-C1", "PS-C2")] for text in (level, least, kept)
    ]
    assert changes[0] == pytest.approx([4.801, 2.854], rel=NEAR)  # row (h)
    assert changes[1] == pytest.approx([2.136, 4.441], rel=NEAR)  # free of the added force, moment
    assert changes[2] == [0.0, 0.0]
    assert numbers(level, "PS-C1")[-1] == pytest.approx(0.0, abs=0.05)


def test_the_nozzle_over_its_limit_is_named_with_its_source(site):
    printed = screened(site, "--aim", "keep present settings")
    assert "nozzle N1 over limits" in printed
    told = next(row for row in printed.splitlines() if row.startswith("  Nozzle N1, My: "))
    assert re.search(r"added, nothing re-set \d+ %", told)
    assert told.endswith("of its limit (data sheet P-9)")
    assert printed.startswith("SCREENING CALCULATION")
    assert "A full analysis is mandatory." in printed
    assert "a machine, heater, turbine or other load-limited nozzle is within reach" in printed


def test_no_aim_is_taken_for_granted_where_weight_is_added(site):
    with pytest.raises(BadInput, match="no aim is given") as told:
        screened(site)
    assert "least change to nozzle" in str(told.value)
    with pytest.raises(BadInput, match="'best' is not known"):
        screened(site, "--aim", "best")
    assert "Aim: keep present settings" in site.type("line", "screen", "L-9")


def test_influence_of_one_kilonewton(site):
    printed = site.type("line", "influence", "L-9")
    blocks = {b.split("\n")[0]: b for b in re.split(r"\n(?=PS-)", printed)}
    for tag, force, moment in (("PS-C1", 0.934, 2.814), ("PS-C2", 0.649, 3.498)):
        told = dict(re.findall(r"(F[xyz]|M[xyz]) ([+-]\d+\.\d+)", blocks[tag]))
        assert float(told["Fz"]) == pytest.approx(force, rel=NEAR)
        assert abs(float(told["My"])) == pytest.approx(moment, rel=NEAR)
    moved = dict(re.findall(r"(PS-\w+) ([+-]\d+\.\d+)", blocks["PS-C2"].split("pointers mm:")[1]))
    assert float(moved["PS-C1"]) == pytest.approx(0.84, rel=0.06)
    assert float(moved["PS-C2"]) == pytest.approx(2.67, rel=NEAR)
    assert float(moved["PS-V"]) == pytest.approx(1.64, rel=NEAR)
    assert re.search(r"PS-V -0\.1[23]\d", blocks["PS-C2"].split("pointers mm:")[0])  # −0.131 kN


def test_what_if_agrees_with_the_influence_and_warns_when_something_lifts(site):
    printed = site.type("line", "what-if", "L-9", "PS-C2=+1.0kN")
    before, after = numbers(printed, "PS-V")
    assert after - before == pytest.approx(-0.131, abs=0.011)
    assert "DOES NOT HOLD" not in printed
    lifted = site.type("line", "what-if", "L-9", "PS-C1=+60kN", "PS-C2=+60 kN")
    assert "DOES NOT HOLD: " in lifted
    assert "PS-R" in lifted.splitlines()[1]
    with pytest.raises(NotFound, match="PS-77"):
        site.type("line", "what-if", "L-9", "PS-77=1kN")
    with pytest.raises(BadInput, match="is not understood"):
        site.type("line", "what-if", "L-9", "PS-C1")


def test_the_states_of_a_line_are_told(site):
    printed = site.type("line", "states", "L-9")
    for words in ("cold empty", "cold, operating", "before", "hydrotest, stops in"):
        assert f"\n{words}: weight" in printed
    assert "on its travel stop, engaged" in printed


def test_a_check_tells_length_and_weight(site):
    printed = site.type("line", "check", "L-9")
    assert "5 nodes, 4 pieces" in printed
    assert "length 20.0 m" in printed
    assert "weight operating 19.61 kN" in printed  # 100 kg/m × 20 m × g
    assert "missing: load on record of PS-C1" in printed


def test_a_faulty_route_is_told_with_file_sheet_and_row(site):
    sheet = [["Line number", "From node", "To node", "Piece"], ["L-9", "20", "21", "pipe"]]
    site.bring("more.xlsx", {"Line elements": sheet})
    printed = site.type("line", "check", "L-9")
    assert "more.xlsx Line elements row 2" in printed
    assert "[node-unknown]" in printed


def test_a_line_that_lacks_something_is_listed_and_named(terminal):
    site = terminal.site
    site.bring("line.xlsx", worked_line(rate_known=False))
    with pytest.raises(NotReady, match="PS-V: spring rate"):
        site.type("line", "screen", "L-9")
    printed = site.type("line", "screen-all")
    assert "L-9: cannot judge (missing: PS-V: spring rate)" in printed
    assert "L-1: cannot judge (missing: its route)" in printed
    assert "0 lines screened, 2 cannot be judged, 1 of them without a route." in printed


@pytest.mark.parametrize("register", ["sqlite"], indirect=True)
def test_a_plant_is_screened_to_the_same_bytes_by_any_number_of_processes(terminal, monkeypatch):
    monkeypatch.setattr("app.plant_lines.AT_ONCE", 1)
    site = terminal.site
    two = {name: [*rows, *_renamed(rows[1:])] for name, rows in worked_line().items()}
    site.bring("lines.xlsx", two)
    alone, beside = (
        site.type("line", "screen-all", "--processes", number, "--json") for number in "12"
    )
    assert alone == beside
    told = json.loads(alone)["answer"]
    assert [one["line"] for one in told["lines"]] == ["L-9", "L-10"]
    assert (told["screened"], told["not_judged"], told["written_meanwhile"]) == (2, 1, False)
    assert [one["worst_nozzle"] for one in told["lines"]] == ["N1", "N1"]
    assert "1 line screened, 0 cannot" in site.type("line", "screen-all", "--area", "M")
    with pytest.raises(NotFound, match="area 'K' is not in the register"):
        site.type("line", "screen-all", "--area", "K")
    with pytest.raises(BadInput, match=r"--processes: so many .* found 0; expected 1 to 64"):
        site.type("line", "screen-all", "--processes", "0")


def _renamed(rows):
    """Return rows of the worked line as those of another: L-10 with supports PX-..., units X-..."""
    other = {"L-9": "L-10", "P-9": "P-10", "N": "M"}
    return [[_renamed_cell(cell, other) for cell in row] for row in rows]


def _renamed_cell(cell, other):
    if not isinstance(cell, str):
        return cell
    return re.sub(r"^(PS|S)-", r"\1X-", other.get(cell, cell))


def test_a_stored_screening_can_be_assessed_by(site, register):
    printed = site.say(f"line store L-9 --change CH-1 --aim '{LEVEL}'", person="S1")
    assert "SCREENING-CH-1 revision 1 is stored: 4 supports, method 'screening'" in printed
    with register.reading() as session:
        stored = session.query(Calculation).filter_by(number="SCREENING-CH-1").one()
        assert (stored.method, stored.author) == ("screening", "Person S1")
        assert f"aim: {LEVEL}" in stored.basis
        assert session.query(RequiredLoad).filter_by(calculation_id=stored.id).count() == 4
    again = site.say("line store L-9 --change CH-1 --aim 'keep present settings'", person="S1")
    assert "revision 2" in again
    assert "no calculation on record" in site.type("line", "compare", "L-9")  # ours is no record


def test_only_a_stress_engineer_stores_and_only_lines_of_the_change(site):
    with pytest.raises(NotAllowed, match="only stress engineer may store a calculation"):
        site.say(f"line store L-9 --change CH-1 --aim '{LEVEL}'", person="PL")
    with pytest.raises((BadInput, NotReady)):
        site.say(f"line store L-1 --change CH-1 --aim '{LEVEL}'", person="S1")


def test_paper_and_drawings_are_written(site, tmp_path):
    printed = screened(site, "--aim", LEVEL, "--into", str(tmp_path / "out"))
    written = sorted(path.name for path in (tmp_path / "out").iterdir())
    assert written == [
        "L-9-CH-1-screening-isometric.svg",
        "L-9-CH-1-screening-straight.svg",
        "L-9-CH-1-screening.pdf",
    ]
    assert all(name in printed for name in written)
    assert (tmp_path / "out" / written[2]).read_bytes().startswith(b"%PDF")
