"""A file handed back to whoever sent it: their own workbook, with a column of findings.

Nothing else of it is touched: the column is written into the XML of each sheet, so that formats,
formulas, drop-downs and pictures stay as they are. When the file comes back, the column is passed
over.
"""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from xml.sax.saxutils import escape

from importers.findings_column import FINDINGS, findings_column
from importers.package import Package
from importers.reading import ReadResult
from importers.sheet_xml import prefix_of
from importers.table import Raw, column_index, is_blank, letters
from importers.text_files import guarded, open_text
from importers.workbook import TEXTS, WORKBOOKS, open_workbook
from supports.errors import BadInput
from supports.findings import Finding

LONGEST = 32_000
"""Characters that a cell takes, with some to spare."""

_REFERENCE = re.compile(rb"\sr=[\"']([A-Z]{1,3})\d+[\"']")
_NUMBER = re.compile(rb"\sr=[\"'](\d+)[\"']")
_SPANS = re.compile(rb"\sspans=[\"'][^\"']*[\"']")
_DIMENSION = re.compile(rb"(<(?:[\w.-]+:)?dimension\b[^>]*\sref=[\"'])([A-Z]+\d+)(?::[A-Z]+(\d+))?")
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f]")
_ROW = re.compile(r"(?:row |[A-Z]{1,3})(\d+)")

Texts = Mapping[int, str]
"""What is to be said in each row, counted from 1."""


def write_findings_back(file: Path, result: ReadResult, into: Path) -> int:
    """Write a file once more with a column of findings; return how many it holds.

    Raises
    ------
    BadInput
        The file is of a kind that cannot be written back, or would be overwritten.
    """
    kind = file.suffix.lower()
    if file.is_dir() or kind not in (*WORKBOOKS, *TEXTS):
        raise BadInput(
            "findings can be written back into .xlsx, .xlsm and text files only",
            where=file.name,
            remedy="Save it as .xlsx and check that",
        )
    if into.exists() and into.samefile(file):
        raise BadInput("the file would be overwritten by its own copy", where=str(into))
    texts = _texts(result)
    if kind in TEXTS:
        data = _text_with(file, texts.get(file.stem, {}))
    else:
        data = _workbook_with(file, texts)
    into.parent.mkdir(parents=True, exist_ok=True)
    into.write_bytes(data)
    return sum(bool(f.place.sheet in texts) for f in result.findings)


def _texts(result: ReadResult) -> dict[str, dict[int, str]]:
    """Return what to write by sheet and row; what concerns no row stands at the headings."""
    rows: dict[str, dict[int, list[Finding]]] = defaultdict(lambda: defaultdict(list))
    tops = {count.sheet: count.heading_row for count in reversed(result.counts)}
    for finding in result.findings:
        sheet = finding.place.sheet
        if sheet in tops:
            where = _ROW.fullmatch(finding.place.cell)
            number = int(where[1]) if where else tops[sheet]
            rows[sheet][max(number, tops[sheet])].append(finding)
    texts = {
        sheet: {number: "; ".join(map(_said, found)) for number, found in lines.items()}
        for sheet, lines in rows.items()
    }
    for sheet, lines in texts.items():
        top = tops[sheet]
        lines[top] = f"{FINDINGS}: {lines[top]}" if top in lines else FINDINGS
    return texts


def _said(finding: Finding) -> str:
    place = replace(finding.place, file="", sheet="")
    words = str(replace(finding, place=place, found=""))
    return f"{finding.severity} {finding.code}: {words}"


def _text_with(file: Path, texts: Texts) -> bytes:
    opening, body, separator = open_text(file.name, file.read_bytes())
    rows = list(csv.reader(io.StringIO(body, newline=""), delimiter=separator, strict=True))
    at = findings_column(rows)
    width = max((len(row) for row in rows), default=0) if at is None else at
    out = io.StringIO(newline="")
    out.write(opening)
    writer = csv.writer(out, delimiter=separator)
    for number, row in enumerate(rows, start=1):
        cells = [*row, *[""] * (width + 1 - len(row))]
        cells[width] = guarded(texts.get(number, ""))
        writer.writerow(cells if texts else row)
    return out.getvalue().encode("utf-8-sig")


def _workbook_with(file: Path, texts: Mapping[str, Texts]) -> bytes:
    data = file.read_bytes()
    parts = Package(file.name, data).sheet_parts()
    columns = {t.sheet: _column(t.rows) for t in open_workbook(file).tables}
    edited = {parts[sheet]: (columns[sheet], said) for sheet, said in texts.items()}
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        for info in old.infolist():
            content = old.read(info)
            if info.filename in edited:
                content = _sheet_with(content, *edited[info.filename])
            new.writestr(info, content, compress_type=info.compress_type)
    return out.getvalue()


def _column(rows: Sequence[Sequence[Raw]]) -> int:
    """Return the column of the findings: the old one, else the first that is free."""
    old = findings_column(rows)
    if old is not None:
        return old
    used = (i for row in rows for i, raw in enumerate(row) if not is_blank(raw))
    return max(used, default=-1) + 1


def _sheet_with(data: bytes, column: int, texts: Texts) -> bytes:
    prefix = prefix_of(data)
    row = re.compile(
        rb"<" + prefix + rb"row\b([^>]*?)(?:/>|>(.*?)</" + prefix + rb"row>)", re.DOTALL
    )
    count = 0

    def edited(match: re.Match[bytes]) -> bytes:
        nonlocal count
        stated = _NUMBER.search(match[1])
        count = int(stated[1]) if stated else count + 1
        cells = _cells(match[2] or b"", prefix, column)
        if text := texts.get(count, ""):
            cells.insert(_slot(cells, column), _cell(prefix, column, count, text))
        attributes = _SPANS.sub(b"", match[1])
        inside = b"".join(cell for _, cell in cells)
        return b"<%srow%s>%s</%srow>" % (prefix, attributes, inside, prefix)

    wider = _DIMENSION.sub(lambda m: _widened(m, column), data)
    return _with_width(row.sub(edited, wider), prefix, column)


_Cell = tuple[int, bytes]


def _cells(inside: bytes, prefix: bytes, column: int) -> list[_Cell]:
    """Return the cells of a row with their columns, without an older one of the findings."""
    pattern = rb"<" + prefix + rb"c\b[^>]*?(?:/>|>.*?</" + prefix + rb"c>)"
    found: list[_Cell] = []
    last = -1
    for match in re.finditer(pattern, inside, re.DOTALL):
        where = _REFERENCE.search(match[0][: match[0].find(b">")])
        last = column_index(where[1].decode()) if where else last + 1
        if last != column:
            found.append((last, match[0]))
    return found


def _slot(cells: Iterable[_Cell], column: int) -> int:
    return sum(at < column for at, _ in cells)


def _cell(prefix: bytes, column: int, row: int, text: str) -> _Cell:
    said = escape(_UNPRINTABLE.sub(" ", text)[:LONGEST]).encode()
    address = f"{letters(column)}{row}".encode()
    return column, (
        b'<%sc r="%s" t="inlineStr"><%sis><%st xml:space="preserve">%s</%st></%sis></%sc>'
        % (prefix, address, prefix, prefix, said, prefix, prefix, prefix)
    )


def _widened(match: re.Match[bytes], column: int) -> bytes:
    last = match[3] or re.sub(rb"[A-Z]", b"", match[2])
    return b"%s%s:%s%s" % (match[1], match[2], letters(column).encode(), last)


def _with_width(data: bytes, prefix: bytes, column: int) -> bytes:
    """Make the column of the findings wide, unless the sheet says how wide it is."""
    wide = b'<%scol min="%d" max="%d" width="70" customWidth="1"/>' % (
        prefix, column + 1, column + 1,
    )  # fmt: skip
    closing = b"</" + prefix + b"cols>"
    if closing in data:
        head = data[: data.find(closing)]
        reach = [int(n) for n in re.findall(rb"\smax=[\"'](\d+)[\"']", head)]
        return data if max(reach, default=0) > column else data.replace(closing, wide + closing, 1)
    opening = b"<" + prefix + b"sheetData"
    return data.replace(opening, b"<%scols>%s</%scols>" % (prefix, wide, prefix) + opening, 1)
