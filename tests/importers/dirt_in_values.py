"""Sixty sorts of dirt, first half: tags, units and loads.

Common practice, no source: what people who take such sheets over tell of them. Each is tried by
``test_sixty_examples.py``; more ways of the same dirt stand in the files ``test_dirt_*``.
"""

from __future__ import annotations

from datetime import date

from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.comments import Comment
from openpyxl.styles import Font

from tests.importers.dirt import (
    PLATES,
    READINGS,
    SUPPORTS,
    Book,
    Cells,
    Place,
    Taken,
    merged,
    plate_rows,
    put,
    read_rows,
)

TAG = Place("Supports", "Support tag", "tag", {"Area": "North"})
_READ = {"Unit position": "A", "Read by": "N. N."}
LOAD = Place("Readings", "Scale load [kN]", "scale_load", {**_READ, "Read on": "2020-05-17"})
PLATE = {"Unit position": "A", "Unit of load": "kN", "Unit of travel": "in"}
RATE = Place("Nameplates", "Rate [N/mm]", "rate", PLATE)
TRAVEL = Place("Nameplates", "Total travel", "total_travel", PLATE)
LENGTH = Place("Hardware", "Length [mm]", "length", {"Position in stack": 1, "Piece": "rod"})

LOADS = ["Calculation", "Revision", "Tag", "Line", "Case", "Case kind"]
CARRYING = "Load, carrying positive [kN]"


STRUCK = CellRichText(TextBlock(InlineFont(strike=True), "18.5"), " 20.2")
_KN_OVER_THREE = (
    "STOP unit-not-stated H3",
    "STOP unit-not-stated I3",
    "NOTE unit-from-above E3",
    "NOTE unit-from-above F3",
    "NOTE unit-from-above G3",
)
TAGS = {
    "1 two units in one cell": Cells(TAG, {"PS-1024 A/B": "two-units-in-tag"}),
    "2 dashes, spaces and case that differ": Book(
        {"Supports": [["Support tag"], *[[t] for t in ("PS–1024A", "PS 1024 A", "ps1024a\u00a0")]]},
        (
            "NOTE tag-cleaned A2",
            "NOTE tag-cleaned A4",
            "LOOK tags-alike A3",
            "LOOK tags-alike A4",
        ),
        records=3,
    ),
    "3 letters for digits": Cells(
        TAG, {t: Taken(t, "LOOK tag-lookalike") for t in ("PS-1O24", "PS-I025", "PS-l026")}
    ),
    "4 a leading zero lost, a tag become a power of ten": Cells(
        TAG,
        {457: "number-in-tag-cell", "1.00E+24": "tag-changed-by-program", "0457": Taken("0457")},
    ),
    "5 a tag become a day": Cells(
        TAG, {date(2026, 3, 12): "number-in-tag-cell", "12-Mar": "tag-changed-by-program"}
    ),
    "6 the tag in the first row of a merged block": Book(
        {
            "Hardware": [["Support tag", "Position in stack", "Piece"], ["PS-1024", 1, "rod"]]
            + [[None, n, "clamp"] for n in range(2, 7)]
            + [[None, 7, "clamp"]]
        },
        ("NOTE merged-name A2", "STOP key-missing row 8"),
        merged("Hardware", "A2:A7"),
        records=6,
    ),
    "7 ditto": Cells(TAG, dict.fromkeys(("ditto", '"', "as above", "–”–", '–"–'), "ditto")),
    "8 the old tag beside it": Cells(TAG, {"PS-1024 (old PS-88)": "former-tag-in-cell"}),
    "8 the old tag in a comment": Book(
        {"Supports": [SUPPORTS, ["PS-1024", "North"]]},
        ("LOOK former-tag-in-comment A2",),
        put("Supports", "A2", comment=Comment("old tag PS-88", "x")),
        records=1,
    ),
    "9 one tag in two areas": Book(
        {"Supports": [SUPPORTS, ["PS-1", "North"], ["PS-1", "South"]]},
        ("STOP same-key-twice row 3", "STOP same-key-twice row 2"),
        records=0,
    ),
    "9 one tag on two sheets, the area in their names alone": Book(
        {
            f"Supports {area}": [["Support tag", "Access"], ["PS-1", "ladder"]]
            for area in ("N", "S")
        },
        (
            *("NOTE sheet-name-longer", "NOTE sheet-name-longer"),
            *("LOOK area-in-title", "LOOK area-in-title", "STOP same-key-twice row 2"),
        ),
        records=0,
    ),
    "10 a span of tags": Cells(
        TAG, dict.fromkeys(("PS-1024 thru 1029", "PS-1024…29"), "tag-range")
    ),
    "10 no tag at all": Cells(TAG, dict.fromkeys(("NEW", "TBA", "by others"), "tag-placeholder")),
}

UNITS = {
    "1 one load in lbf, kN and kgf under 'kN'": Book(
        {"Nameplates": plate_rows(20.0, 20.0, 20.0), "Readings": read_rows(4500, 20.1, 2041)},
        ("STOP unit-size-suspicious E2", "STOP unit-size-suspicious E4"),
    ),
    "2 kg for kgf, and a t of three kinds": Cells(
        LOAD, dict.fromkeys(("2041 kg", "2 t", "2 ton"), "unit-ambiguous")
    ),
    "3 daN and kgf, 2 % apart": Book(
        {"Nameplates": plate_rows(20.0), "Readings": read_rows(2041)},
        ("STOP unit-size-suspicious E2",),
        says="looks like daN or kgf (cannot be told apart by size), not kN",
    ),
    "4 #, lbs, LB, k and kips": Cells(
        LOAD.under("Scale load"),
        {
            **dict.fromkeys(("4500 #", "4500 lbs", "4500 LB", "4.5 k"), "unit-ambiguous"),
            "4.5 kips": 20_017.0,
        },
    ),
    "5 inches in five ways, and millimetres among them": Cells(
        TRAVEL,
        {
            '3 1/2"': 0.0889,
            "3.5": 0.0889,
            "3-1/2": 0.0889,
            89: Taken(2.2606, "LOOK unit-size-suspicious"),
            "1'-6\"": 0.4572,
        },
    ),
    "6 a rate in kg/cm among others": Cells(
        RATE,
        {
            80: 8e4,
            "450 lbf/in": Taken(78_807.08, "LOOK unit-differs-from-heading"),
            "80 kg/cm": "unit-ambiguous",
        },
    ),
    "7 a unit merged two rows above, over three of five columns": Book(
        {
            "Readings": [
                [None] * 4 + ["kN"],
                [],
                [
                    *READINGS,
                    "Scale load",
                    "Load cell raising",
                    "Load cell lowering",
                    "Pointer",
                    "Exposed thread",
                ],
                ["PS-1", "A", "2020-05-17", "N. N.", 20, 21, 19, 50, 100],
            ]
        },
        _KN_OVER_THREE,
        merged("Readings", "E1:G1"),
    ),
    "8 a temperature without its degrees": Book(
        {"Lines": [["Line number", "Design temperature"], ["L-1", 400], ["L-2", 538]]},
        ("STOP unit-not-stated B1",),
        says="538 °C is 1000 °F, which speaks for °C",
    ),
    "9 a comma that may be a point": Cells(
        LENGTH, dict.fromkeys(("1,250", "12.500,00"), "number-ambiguous")
    ),
    "10 divisions of the scale as millimetres": Book(
        {
            "Nameplates": [
                [*PLATES, "Total travel"],
                *[[f"PS-{n}", "A", "kN", "mm", 200] for n in (1, 2, 3)],
            ],
            "Readings": [
                [*READINGS, "Pointer [mm]"],
                *[[f"PS-{n}", "A", "2020-05-17", "N. N.", n + 3] for n in (1, 2, 3)],
            ],
        },
        ("LOOK scale-divisions E2",),
    ),
    "10 the row of units again after a page": Book(
        {
            "Hardware": [
                ["Support tag", "Position in stack", "Piece", "Rated load"],
                [None, None, None, "kN"],
                ["PS-1", 1, "rod", 20],
                [None, None, None, "kN"],
                ["PS-2", 1, "rod", 21],
                [None, None, None, "lbf"],
                ["PS-3", 1, "rod", 4500],
            ]
        },
        ("NOTE units-repeated row 4", "STOP units-change row 6"),
    ),
}

LOADS_OFF = {
    "1 sign and factor differ": Book(
        {"Nameplates": plate_rows(22.0, 22.0, 22.0), "Readings": read_rows(-22100, 22.1, 22100)},
        ("STOP negative-not-possible E2", "STOP unit-size-suspicious E4"),
    ),
    "2 two loads in one cell": Cells(LOAD, {"18.5/20.2": "two-values"}),
    "3 a count times a load": Cells(
        LOAD, dict.fromkeys(("20 (2x10)", "2 x 20"), "several-numbers")
    ),
    "4 marks of doubt": Cells(
        LOAD,
        {
            **dict.fromkeys(("~20", "20?", ">20", "20 TBC"), "value-uncertain"),
            "20 +/-": "tolerance-in-cell",
        },
    ),
    "5 numbers for 'not known'": Cells(LOAD, dict.fromkeys((0, 999, 9999), "zero-or-nines")),
    "6 plate loads copied as readings": Book(
        {"Nameplates": plate_rows(20.5, 21.5, 22.5), "Readings": read_rows(20.5, 21.5, 22.5)},
        ("LOOK readings-equal-plates E2",),
    ),
    "7 hardware weight in half the rows": Book(
        {
            "Calculation loads": [
                [*LOADS, CARRYING, "Load includes hardware"],
                ["C-1", "0", "PS-1", "L-1", "hot", "operating", 20.5, "yes"],
                ["C-1", "0", "PS-2", "L-1", "hot", "operating", 21.5, "no"],
            ]
        },
        ("LOOK hardware-weight-mixed H3",),
    ),
    "8 the load with test water as operating load": Book(
        {
            "Calculation loads": [
                [*LOADS, CARRYING],
                ["C-1", "0", "PS-1", "L-1", "hot", "operating", 30.5],
                ["C-1", "0", "PS-1", "L-1", "water", "test", 30.5],
            ]
        },
        ("LOOK test-load-as-operating G2",),
    ),
    "9 an old value struck through beside the new one": Book(
        {"Readings": read_rows(20.5, 21.5)},
        ("STOP struck-through E2",),
        put("Readings", "E2", value=STRUCK),
    ),
    "9 a red value": Book(
        {"Readings": read_rows(20.5, 21.5)},
        ("LOOK colours-not-read E2",),
        put("Readings", "E2", font=Font(color="FFFF0000")),
    ),
    "10 a broken formula": Cells(LOAD, dict.fromkeys(("#REF!", "#N/A"), "error-cell")),
    "10 whole kN throughout": Book(
        {"Readings": read_rows(20, 21, 22, 23, 24)}, ("LOOK loads-rounded E2",)
    ),
    "10 a total": Book(
        {"Readings": [*read_rows(20.5, 21.5), ["Total", None, None, None, 42]]},
        ("NOTE totals-row row 4",),
        records=2,
    ),
}
