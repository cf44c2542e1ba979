"""Sixty sorts of dirt, second half: dates, types and whole sheets; common practice, no source."""

from __future__ import annotations

import io
from datetime import date
from typing import Any

from openpyxl.drawing.image import Image
from openpyxl.styles import PatternFill
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from PIL import Image as Picture

from tests.importers.dirt import (
    PLATES,
    READINGS,
    SUPPORTS,
    Book,
    Cells,
    Place,
    Taken,
    merged,
    put,
    read_rows,
)

TYPE = Place("Supports", "Support type", "kind")
DAY = Place("Readings", "Read on", "read_on", {"Unit position": "A", "Read by": "N. N."})
YELLOW = PatternFill("solid", fgColor="FFFFFF00")


def filtered(book: Any) -> None:
    book["Supports"].auto_filter.ref = "A1:B3"
    book["Supports"].auto_filter.add_filter_column(1, ["North"])


def saved_in_1904(book: Any) -> None:
    book.epoch = CALENDAR_MAC_1904


def photographed(book: Any) -> None:
    photo = io.BytesIO()
    Picture.new("RGB", (8, 8)).save(photo, "png")
    book["Supports"].add_image(Image(photo), "B2")


DAYS = {
    "1 day and month that change places": Cells(DAY, {"03/04/2009": "date-ambiguous"}),
    "2 a bare day number": Cells(DAY, {39876: "date-ambiguous"}),
    "2 a workbook that counts from 1904": Book(
        {"Readings": read_rows(20.5, day=date(2009, 3, 4))},
        ("NOTE days-from-1904",),
        saved_in_1904,
        records=1,
    ),
    "3 times that are no day": Cells(
        DAY, dict.fromkeys(("TA 2009", "spring 98", "before rev 4", "wk 23"), "date-not-exact")
    ),
    "4 the first days of calendars": Cells(
        DAY, dict.fromkeys(("1900-01-00", "1899-12-30", "01.01.1970"), "date-not-possible")
    ),
    "5 years of two digits": Cells(DAY, {"29": "date-not-exact", "12.05.29": "date-ambiguous"}),
    "6 two walks or a span": Cells(
        DAY, dict.fromkeys(("2011 / 2014", "12.-14.05.2012", "2009-2011"), "two-dates")
    ),
    "7 a day that there is not": Cells(DAY, {"31.04.2012": "date-not-possible"}),
    "8 a day that is today whenever it is opened": Book(
        {"Readings": read_rows(20.5)},
        ("STOP date-moves C2",),
        put("Readings", "C2", value="=TODAY()"),
        records=0,
    ),
    "9 months of another language": Cells(
        DAY,
        {"12. Mai 07": "date-ambiguous", "12. Mai 2007": "date-ambiguous", "Okt": "date-not-exact"},
    ),
    "10 the day on which the file was saved": Book(
        {"Readings": read_rows(20.5, 21.5, 22.5, day=date(2024, 5, 17))},
        ("LOOK date-is-file-date C2",),
        saved_on=date(2024, 5, 17),
    ),
    "10 hot and cold on one line on one day": Book(
        {
            "Supports": [["Support tag", "Line"], ["PS-1", "L-1"], ["PS-2", "L-1"]],
            "Readings": [
                [*READINGS, "Plant state"],
                ["PS-1", "A", "2020-05-17", "N. N.", "operating, steady"],
                ["PS-2", "A", "2020-05-17", "N. N.", "shut down, drained"],
            ],
        },
        ("LOOK plant-state-doubt E2",),
    ),
    "10 read before it was built": Book(
        {
            "Units": [
                ["Support tag", "Unit position", "Unit type", "Year built"],
                ["PS-1", "A", "variable hanger", 2021],
            ],
            "Readings": read_rows(20.5),
        },
        ("LOOK date-before-built C2",),
    ),
}

TYPES = {
    "1 CH, CS, C": Cells(TYPE, dict.fromkeys(("CH", "CS", "C"), "type-ambiguous")),
    "2 SH, VH, VS, spg, spring": Cells(
        TYPE, dict.fromkeys(("SH", "VH", "VS", "spg", "spring"), "type-ambiguous")
    ),
    "3 hanger": Cells(TYPE, {"hanger": "type-ambiguous"}),
    "4 R, RH, rigid; rest and roller are plain": Cells(
        TYPE,
        {
            **dict.fromkeys(("R", "RH", "rigid"), "type-ambiguous"),
            "rest": Taken("rest"),
            "roller": Taken("roller"),
        },
    ),
    "5 a maker's code with the size in it": Cells(
        TYPE, dict.fromkeys(("VX-12/140", "C14-0450", "VX 12 140", "12 CV 30-4"), "type-is-a-code")
    ),
    "6 trapeze": Cells(TYPE, {"trapeze": "type-is-arrangement"}),
    "7 a constant unit with a rate": Book(
        {
            "Units": [
                ["Support tag", "Unit position", "Unit type"],
                ["PS-1", "A", "constant hanger"],
            ],
            "Nameplates": [[*PLATES, "Rate [N/mm]"], ["PS-1", "A", "kN", "mm", 80]],
        },
        ("LOOK type-and-data-disagree E2",),
    ),
    "8 same as another": Cells(TYPE, {"same as 1023": "ditto"}),
    "9 two types, or a doubt": Cells(
        TYPE,
        {
            "guide+rest": "several-types",
            "stop/guide": "several-types",
            "anchor?": "value-uncertain",
        },
    ),
    "10 temp., removed, an icon": Cells(
        TYPE, {"temp.": "type-ambiguous", "removed": "type-is-status", "●": "word-not-known"}
    ),
    "10 a colour alone": Book(
        {"Supports": [["Support tag", "Support type"], ["PS-1", "rest"], ["PS-2", "rest"]]},
        ("LOOK colours-not-read B3",),
        put("Supports", "B3", fill=YELLOW),
    ),
}

SHEETS = {
    "1 headings three rows deep and merged": Book(
        {
            "Nameplates": [
                [
                    "Support tag",
                    "Unit of load",
                    "Unit of travel",
                    "Adjusting",
                    None,
                    "Total travel",
                ],
                [None, None, None, "range", None, None],
                [None, None, None, "low", "high", None],
                ["PS-1", "kN", "mm", 18, 24, 200],
            ]
        },
        (),
        merged("Nameplates", "A1:A3", "B1:B3", "C1:C3", "D1:E1", "D2:E2", "F1:F3"),
        records=1,
    ),
    "2 hidden rows": Book(
        {"Supports": [SUPPORTS, ["PS-1", "North"], ["PS-2", "South"]]},
        ("LOOK hidden-rows",),
        lambda book: setattr(book["Supports"].row_dimensions[3], "hidden", True),
        records=2,
    ),
    "3 hidden columns": Book(
        {"Supports": [SUPPORTS, ["PS-1", "North"]]},
        ("LOOK hidden-columns",),
        lambda book: setattr(book["Supports"].column_dimensions["B"], "hidden", True),
        records=1,
    ),
    "4 a filter left on": Book(
        {"Supports": [SUPPORTS, ["PS-1", "North"], ["PS-2", "South"]]},
        ("LOOK filter-left-on",),
        filtered,
        records=2,
    ),
    "5 several tables on one sheet": Book(
        {
            "Supports": [
                SUPPORTS,
                ["PS-1", "North"],
                [],
                ["Support tag", "Unit position", "Unit type"],
                ["PS-1", "A", "constant hanger"],
            ]
        },
        (),
        records=2,
    ),
    "6 a sheet for each area, with other columns": Book(
        {
            "Supports north": [SUPPORTS, ["PS-1", "North"]],
            "Supports (south)": [["Tag", "Unit area", "Access"], ["PS-2", "South", "ladder"]],
        },
        ("NOTE sheet-name-longer", "NOTE sheet-name-longer"),
        records=2,
    ),
    "7 the only true value in a note": Book(
        {
            "Readings": [
                [*READINGS, "Scale load [kN]", "Note"],
                ["PS-1", "A", "2020-05-17", "N. N.", None, "scale bent, by load cell 18.5 kN"],
                ["PS-2", "A", "2020-05-17", "N. N.", 20.5, "18.5 kN in 2011"],
            ]
        },
        ("LOOK load-in-note F2",),
        records=2,
    ),
    "7 a remark beside the table": Book(
        {"Supports": [SUPPORTS, ["PS-1", "North"], [None, None, "all re-set to 18.5 in 2011"]]},
        ("LOOK loose-text row 3",),
        records=1,
    ),
    "8 a photo pasted over cells": Book(
        {"Supports": [SUPPORTS, ["PS-1", "North"]]},
        ("LOOK pictures-not-read",),
        photographed,
        records=1,
    ),
    "9 footnote stars": Book(
        {"Supports": [["Support tag *", "Area**"], ["PS-1", "North"], ["PS-2*", "North"]]},
        ("STOP footnote-mark A3",),
        records=1,
    ),
    "10 another order of columns in each copy": Book(
        {
            "Supports north": [["Area", "Support tag"], ["North", "PS-1"]],
            "Supports south": [["Support tag", "Area"], ["PS-2", "South"]],
        },
        ("NOTE sheet-name-longer", "NOTE sheet-name-longer"),
        records=2,
    ),
}
