"""Binary workbooks put together record by record after [MS-XLSB]; no library writes them."""

from __future__ import annotations

import struct
import zipfile

_HEAD = '<?xml version="1.0" encoding="UTF-8"?>'
_SPACE = "http://schemas.openxmlformats.org"
_OFFICE = f"{_SPACE}/officeDocument/2006/relationships"


def _record(kind, body=b""):
    """Return a record: kinds from 128 on take two bytes."""
    number = bytes([kind]) if kind < 0x80 else bytes([kind & 0x7F | 0x80, kind >> 7])
    size, length = len(body), b""
    while size >= 0x80:
        length, size = length + bytes([size & 0x7F | 0x80]), size >> 7
    return number + length + bytes([size]) + body


def _text(words):
    return struct.pack("<I", len(words)) + words.encode("utf-16-le")


def _cell(column, value):
    where = struct.pack("<II", column, 0)
    if isinstance(value, str):
        return _record(6, where + _text(value))  # BrtCellSt
    return _record(5, where + struct.pack("<d", value))  # BrtCellReal


def _sheet(cells):
    last_row, last_column = max(at[0] for at in cells), max(at[1] for at in cells)
    size = struct.pack("<IIII", 0, last_row, 0, last_column)
    rows = sorted({row for row, _ in cells})
    body = b"".join(
        _record(0, struct.pack("<I", row) + bytes(13))
        + b"".join(_cell(c, value) for (r, c), value in sorted(cells.items()) if r == row)
        for row in rows
    )
    begin, end = _record(129) + _record(148, size) + _record(145), _record(146) + _record(130)
    return begin + body + end


def _related(*targets):
    items = "".join(
        f'<Relationship Id="rId{n}" Type="{_OFFICE}/{kind}" Target="{target}"/>'
        for n, (kind, target) in enumerate(targets, start=1)
    )
    return (
        f'{_HEAD}<Relationships xmlns="{_SPACE}/package/2006/relationships">{items}</Relationships>'
    )


def binary_workbook(path, rows, more=None, name="Supports"):
    """Write rows of text and numbers as one sheet.

    Parameters
    ----------
    more
        Further cells by (row, column) counted from 0.
    """
    cells = {(r, c): value for r, row in enumerate(rows) for c, value in enumerate(row)}
    listed = _record(156, struct.pack("<II", 0, 1) + _text("rId1") + _text(name))
    book = _record(131) + _record(143) + listed + _record(144) + _record(132)
    types = (
        f'{_HEAD}<Types xmlns="{_SPACE}/package/2006/content-types">'
        '<Default Extension="bin" ContentType="application/vnd.ms-excel.sheet.binary.main"/>'
        "</Types>"
    )
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("[Content_Types].xml", types)
        archive.writestr("_rels/.rels", _related(("officeDocument", "xl/workbook.bin")))
        archive.writestr("xl/workbook.bin", book)
        sheets = _related(("worksheet", "worksheets/sheet1.bin"))
        archive.writestr("xl/_rels/workbook.bin.rels", sheets)
        archive.writestr("xl/worksheets/sheet1.bin", _sheet({**cells, **(more or {})}))
