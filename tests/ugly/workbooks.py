"""Three workbooks of one invented plant, as twenty years of many hands leave them.

Written with openpyxl and XlsxWriter directly: nothing of the importers' own code has a part in it,
so that reading them back is no echo. Each habit in them is common practice, no source.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Any

import openpyxl
import xlsxwriter
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.comments import Comment
from openpyxl.styles import Font

LINE = "12-SH-7031"
TAGS = ("PS-2101", "PS-2102", "PS-2103", "PS-2104", "PS-2105", "PS-2106")


def design_office(path: Path) -> Path:
    """Write the design office's workbook: supports north, hardware and units below each other."""
    book = openpyxl.Workbook()
    _lines(book.active)
    _supports(book.create_sheet("Supports north"))
    _hardware(book.create_sheet("Hardware"))
    book.save(path)
    return path


def _lines(page: Any) -> None:
    page.title = "Lines"
    for row in (
        ["LINE LIST  -  boiler house", None, None, None, None],
        ["printed 04.03.2009, do not scale", None, None, None, None],
        [],
        ["Line", "Nominal size", "Pipe mass", "Insulation mass", "Operating"],
        ["no.", None, "kg/m", None, "temperature"],
        [None, None, None, "kg/m", "°C"],
        [LINE, 12, 79.7, 24, 538],
        ["2-CD-118", 2, 5.44, 2.1, 120],
        ["Total", None, 85.14, None, None],
    ):
        page.append(row)


def _supports(page: Any) -> None:
    """Headings three rows deep, a unit row, ditto marks, a hidden row, a comment, a struck tag."""
    heads = [
        ["SUPPORT LIST", None, None, None, None, None, None],
        ["Support", "Line", "Support", "Elevation of", None, "Rod length", "Note"],
        ["tag", "number", "type", "pipe centre", "support steel", "pin to pin", None],
        [None, None, None, "m", "m", "mm", None],
    ]
    rows = [
        ["PS-2101", LINE, "constant hanger", 12.5, 16.1, 2400, None],
        ["PS-2102", '"', "constant hanger", 12.5, 16.1, "7'-10 1/2\"", "rod as built"],
        ["PS-2103", LINE, "variable hanger", 12.25, 16.1, 2650, None],
        ["PS-2104", LINE, "rod", 12.25, 16.1, "2.450", None],
        ["PS-2105", LINE, "guide", "12,25", None, None, "decimal comma"],
        [None, None, None, None, None, None, "see sketch 14 for the platform"],
        ["PS-2106", LINE, "rest", 12.25, 11.9, None, None],
        ["PS-2l07", LINE, "rest", 12.25, 11.9, None, None],
        ["TOTAL", 7, None, None, None, None, None],
    ]
    for row in (*heads, *rows):
        page.append(row)
    for block in ("A1:G1", "D2:E2"):
        page.merge_cells(block)
    page["A7"].comment = Comment("old tag PS-88", "somebody")
    page.row_dimensions[10].hidden = True
    page["E5"].font = Font(strike=True)
    page["F5"] = CellRichText(TextBlock(InlineFont(strike=True), "2400"), " 2410")


def _hardware(page: Any) -> None:
    """Two tables on one sheet; a tag merged over its three pieces; units again in the middle."""
    for row in (
        ["Support tag", "Position in stack", "Piece", "Size", "Rated load", "Mass"],
        [None, None, None, None, "kN", "kg"],
        ["PS-2101", 1, "rod", "M24", 44, 8.5],
        [None, 2, "turnbuckle", "M24", 44, None],
        [None, 3, "clamp", "NPS 12", 60, 21],
        ["Support tag", "Position in stack", "Piece", "Size", "Rated load", "Mass"],
        ["PS-2103", 1, "rod", "M20", "31 kN", "6,2"],
        ["PS-2103", 2, "clamp", "NPS 12", "13500 lbf", 21],
        [],
        ["Support tag", "Unit position", "Unit type", "Serial number"],
        ["PS-2101", None, "constant hanger", "0042"],
        ["PS-2102", None, "constant hanger", "S/N 0043"],
        ["PS-2103", None, "variable hanger", "7-118"],
    ):
        page.append(row)
    page.merge_cells("A3:A5")


def stress_group(path: Path) -> Path:
    """Write the stress group's workbook: loads on supports by node, up along y, in lbf."""
    book = xlsxwriter.Workbook(path)
    page = book.add_worksheet("Restraint summary")
    bold = book.add_format({"bold": True, "align": "center"})
    page.write(0, 0, "CALC S-7031 REV C   RESTRAINT SUMMARY   LOADS ON SUPPORTS")
    page.merge_range(2, 2, 2, 4, "Force (lbf)", bold)
    page.write_row(3, 0, ["Support", "Condition", "FX", "FY", "FZ", "DY (in)"], bold)
    for number, row in enumerate(
        [
            ["PS-2101", "operating", 0, -4946, 12, 2.25],
            ["PS 2102", "operating", 3, -4721, 0, 1.5],
            ["PS-2103", "operating", -40, -2697, 0, 0.75],
            ["PS-2I04", "operating", 0, -1124, 0, 0],
            ["PS-2190", "operating", 0, -900, 0, 0],
        ],
        start=4,
    ):
        page.write_row(number, 0, row)
    calculations = book.add_worksheet("Calculations")
    calculations.write_row(0, 0, ["Calculation", "Revision", "Method", "Status", "Issued on"])
    calculations.write_row(1, 0, ["S-7031", "C", "full analysis", "issued", "2007-11-30"])
    book.close()
    return path


def inspection(path: Path) -> Path:
    """Write the inspection's workbook: days from 1904, loads in three units, hot and cold mixed."""
    book = xlsxwriter.Workbook(path, {"date_1904": True})
    day = book.add_format({"num_format": "dd/mm/yyyy"})
    page = book.add_worksheet("Readings")
    page.write(0, 0, "WALKDOWN  spring 2011   area: boiler house")
    heads = ["Support tag", "Read on", "Plant state", "Scale load", "Pointer", "Read by", "Remarks"]
    page.write_row(2, 0, heads)
    page.write_row(3, 0, [None, None, None, "kN", "mm"])
    found = datetime(2011, 4, 12)  # noqa: DTZ001  days in sheets have no zone
    again = datetime(2011, 10, 18)  # noqa: DTZ001  days in sheets have no zone
    hot, cold = "operating, steady", "shut down, cold full"
    for number, (tag, on, state, load, pointer, by, note) in enumerate(
        [
            ("PS-2101", found, hot, 22.0, 55, "N. N.", None),
            ("PS-2102", found, hot, "4721 lbf", 38, "ditto", None),
            ("PS-2103", found, cold, "1223 kgf", "~20", "N. N.", "pointer bent"),
            ("PS-21O1", again, hot, 0, 57, "N. N.", None),
        ],
        start=4,
    ):
        page.write_string(number, 0, tag)
        page.write_datetime(number, 1, on, day)
        page.write_row(number, 2, [state, load, pointer, by, note])
    page.write_row(8, 0, ["Total", None, None, 43.0])
    page.set_row(5, None, None, {"hidden": True})
    stores = book.add_worksheet("Nameplates")
    stores.write(0, 0, "STORES: spare and fitted units, plates as read")
    stores.write_row(
        1, 0,
        ["Support tag", "Unit of load", "Unit of travel", "Nameplate load", "Range low",
         "Range high", "Total travel", "Load per turn"],
    )  # fmt: skip
    stores.write_row(2, 0, ["PS-2101", "kN", "mm", 22.0, 18.7, 25.3, 150, 0.27])
    stores.write_row(3, 0, ["PS-2102", "lbf", "in", 4721, 4013, 5429, 6, 60.7])
    stores.write_row(4, 0, ["PS-2103", "t", "mm", 1.2, 1.0, 1.4, 100, 0.02])
    book.close()
    return path
