"""What a user writes in the sheets is what the rules judge; what waits for an answer is said so.

Figures are worked by hand beside each; clearance, bearing and fall are common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.acceptance.sheets import LOADS as HEADS
from tests.acceptance.sheets import one_constant

LOAD_HEADS = [*HEADS, "Movement east [mm]", "Movement north [mm]"]

PLACE = {
    # 60 mm west, 40 mm of movement west: 20 mm left of the 25 mm asked for; 90 mm east is no matter
    "Gap to steel west, shut down [mm]": 60, "Gap to steel east, shut down [mm]": 90,
    "Fall of line, designed [%]": 1.0, "Fall of line, found [%]": -0.2,
    # 20.0 on the nameplate, 20.5 on the drawing: 2.4 % apart
    "Nameplate load on drawing [kN]": 20.5,
}  # fmt: skip
LOADS = {
    "Movement east [mm]": -40, "Movement north [mm]": 0,
    # 20.0 on the nameplate, 21.0 in the calculation: 4.8 % apart
    "Nameplate load calculated with [kN]": 21.0,
}  # fmt: skip
SHOE = {
    # 60 mm of movement on 80 mm of bearing less 25 mm: 55 mm
    "Bearing length of shoe [mm]": 80,
}


def with_columns(sheets, name, columns):
    """Add columns to the one row of a sheet."""
    heads, *rows = sheets[name]
    sheets[name] = [[*heads, *columns], *([*row, *columns.values()] for row in rows)]


def shown(site, rule: str) -> str:
    return site.say(f"rules show --rule {rule}").replace("\u00a0", " ")


@pytest.fixture
def plant(site):
    """Give a hanger with everything that the new columns ask, and a rest."""
    sheets = one_constant("PS-1", 20.0, 22.1, rod=40.0)
    with_columns(sheets, "Supports", PLACE)
    with_columns(sheets, "Calculation loads", LOADS)
    with_columns(sheets, "Hardware", {"Thread in sight hole": "no"})
    with_columns(sheets, "Nameplates", {"Highest body temperature [°C]": 60})
    reading = ["Support tag", "Unit position", "Read on", "Plant state", "Read by",
               "Temperature of unit body [°C]"]  # fmt: skip
    sheets["Readings"] = [reading, ["PS-1", "A", "2031-05-02", "operating, steady", "IN", 75]]
    site.bring("site.xlsx", sheets)
    rest = {
        "Supports": [["Support tag", "Line number", "Order along line", "Support type",
                      *SHOE], ["PS-2", "L-1", 2, "rest", *SHOE.values()]],
        "Calculation loads": [
            LOAD_HEADS,
            ["C-1", "B", "PS-2", "L-1", "operating", "operating", 5.0, "yes", 0, 60, 0],
        ],
    }  # fmt: skip
    site.bring("rest.xlsx", rest)
    site.say("rules run", person="S1")
    return site


SAID = {
    "gap-too-small": "gap west 60 mm, movement that way 40 mm: 20 mm left",
    "shoe-off-beam": "moves 60 mm; the shoe allows 55 mm",
    "slope-reversed": "fall -0.2 %, designed 1.0 %",
    "plate-and-drawing-differ": "2.4 % apart",
    "plate-and-calculation-differ": "4.8 % apart",
    "turnbuckle-short": "thread in the sight hole: no",
    "temperature-of-unit-high": "body at 75",
}


def test_the_columns_of_the_sheets_are_judged(plant):
    said = {rule: shown(plant, rule) for rule in SAID}
    assert {rule: said[rule] for rule, words in SAID.items() if words not in said[rule]} == {}


def test_a_node_that_leads_to_no_support_is_found_on_its_line(plant):
    row = ["C-1", "B", None, "L-1", "operating", "operating", 7.0, "yes", 0, 0, 0, "N240"]
    heads = [*LOAD_HEADS, "Calculation node"]
    plant.type(
        "sheets",
        "import",
        str(plant.write("nodes.xlsx", {"Calculation loads": [heads, row]})),
        "--accept-the-good",
        person="KK",
    )
    assert "leads to no support: 1 (nodes.xlsx" in shown(plant, "node-without-tag")


def test_a_value_that_waits_is_never_passed(plant):
    row = ["C-1", "B", "PS-2", "L-1", "sustained", "sustained", "5000?", "yes", 0, 0, 0]
    path = plant.write("loads.xlsx", {"Calculation loads": [LOAD_HEADS, row]})
    plant.type("sheets", "import", str(path), "--accept-the-good", person="KK")
    said = plant.say("rules show --unjudged --rule pull-needed-downwards")
    assert "cannot judge (waiting: '5000?' in loads.xlsx Calculation loads G2)" in said


def test_what_waits_holds_up_the_rules_of_pieces_and_lines(plant):
    load = ["C-1", "B", "PS-2", "L-1", "operating", "operating", "5000?", "yes", 0, 0, 0]
    rating = [["Support tag", "Position in stack", "Piece", "Rated load [kN]"],
              ["PS-1", 1, "rod", "40?"]]  # fmt: skip
    line = [["Line number", "Pipe mass [kg/m]"], ["L-1", "80?"]]
    sheets = {"Calculation loads": [LOAD_HEADS, load], "Hardware": rating, "Lines": line}
    path = plant.write("doubts.xlsx", sheets)
    plant.type("sheets", "import", str(path), "--accept-the-good", person="KK")
    piece = plant.say("rules show --unjudged --rule rod-over-rating")
    assert "waiting: '40?' in doubts.xlsx Hardware D2" in piece
    line_said = plant.say("rules show --unjudged --rule sum-does-not-close")
    for words in ("'5000?' in doubts.xlsx Calculation loads G2", "'80?' in doubts.xlsx Lines B2"):
        assert words in line_said.partition("waiting: ")[2]
