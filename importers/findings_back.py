"""A file handed back to whoever sent it: their own workbook, with a column of findings.

Nothing else of an .xlsx is touched: the column is written into the XML of each sheet, its colours
among the styles, so that formats, formulas, drop-downs and pictures stay as they are. When the file
comes back, the column is passed over.
"""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from xml.sax.saxutils import escape

from importers.column_widths import with_width
from importers.findings_anew import anew_with
from importers.findings_colours import Styles, with_colours
from importers.findings_column import findings_column
from importers.findings_said import LINE, WIDTH, Said, Texts, column_of, said_of, written_on
from importers.package import Package
from importers.reading import ReadResult
from importers.sheet_xml import prefix_of
from importers.table import column_index, letters
from importers.text_files import guarded, open_text
from importers.workbook import OTHER_WORKBOOKS, TEXTS, WORKBOOKS, open_workbook
from supports.errors import BadInput
from supports.sentences import Sentence

LONGEST = 32_000
"""Characters that a cell takes, with some to spare."""

_HEIGHT = re.compile(rb"\s(?:ht|customHeight)=[\"'][^\"']*[\"']")
_REFERENCE = re.compile(rb"\sr=[\"']([A-Z]{1,3})\d+[\"']")
_NUMBER = re.compile(rb"\sr=[\"'](\d+)[\"']")
_SPANS = re.compile(rb"\sspans=[\"'][^\"']*[\"']")
_DIMENSION = re.compile(rb"(<(?:[\w.-]+:)?dimension\b[^>]*\sref=[\"'])([A-Z]+\d+)(?::[A-Z]+(\d+))?")
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f]")
_ENDING = ".xlsx"


def write_findings_back(file: Path, result: ReadResult, into: Path) -> int:
    """Write a file once more with a column of findings; return how many it holds.

    A folder of text files comes back as a folder. What is no .xlsx, .xlsm or text comes back as
    .xlsx, the same values in the same cells.

    Raises
    ------
    BadInput
        The copy would take the place of the file, or has the wrong ending.
    """
    if into.exists() and into.samefile(file):
        raise BadInput("the file would be overwritten by its own copy", where=str(into))
    texts = said_of(result)
    into.parent.mkdir(parents=True, exist_ok=True)
    if file.is_dir():
        _folder_with(file, texts, into)
    elif file.suffix.lower() in TEXTS:
        into.write_bytes(_text_with(file, texts.get(file.stem, {})))
    elif _comes_back_anew(file):
        _need_ending(file, into)
        into.write_bytes(anew_with(open_workbook(file), texts))
    else:
        into.write_bytes(_workbook_with(file, texts))
    return sum(written_on(finding, result) in texts for finding in result.findings)


def copy_of(file: Path, into: Path) -> Path:
    """Return where the copy of a file goes: what comes back anew takes the ending of its form."""
    same = into.suffix.lower() == file.suffix.lower()
    return into.with_suffix(_ENDING) if same and _comes_back_anew(file) else into


def comes_back_as(file: Path) -> str:
    """Return in which other form a file is handed back, in words; '' where it is as it was."""
    if _comes_back_anew(file):
        return "anew as .xlsx with the same values in the same cells"
    if file.is_dir() or file.suffix.lower() in TEXTS:
        return "as text in UTF-8, cell by cell as it was"
    return ""


def _comes_back_anew(file: Path) -> bool:
    return file.is_file() and file.suffix.lower() in OTHER_WORKBOOKS


def _need_ending(file: Path, into: Path) -> None:
    if into.suffix.lower() != _ENDING:
        raise BadInput(
            Sentence(
                "findings for a file in {suffix} are written anew as {ending}",
                suffix=file.suffix,
                ending=_ENDING,
            ),
            where=into.name,
            remedy=Sentence("Give the copy a name ending in {ending}", ending=_ENDING),
        )


def _folder_with(folder: Path, texts: Mapping[str, Texts], into: Path) -> None:
    if into.is_file() or into.suffix.lower() in (*WORKBOOKS, *OTHER_WORKBOOKS, *TEXTS):
        raise BadInput("findings for a folder are written into a folder", where=str(into))
    into.mkdir(exist_ok=True)
    for item in sorted(folder.iterdir()):
        if item.suffix.lower() in TEXTS:
            (into / item.name).write_bytes(_text_with(item, texts.get(item.stem, {})))


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
        cells[width] = guarded(texts[number].text.replace("\n", " / ")) if number in texts else ""
        writer.writerow(cells if texts else row)
    return out.getvalue().encode("utf-8-sig")


def _workbook_with(file: Path, texts: Mapping[str, Texts]) -> bytes:
    data = file.read_bytes()
    package = Package(file.name, data)
    parts = package.sheet_parts()
    columns = {t.sheet: column_of(t.rows) for t in open_workbook(file).tables}
    edited = {parts[sheet]: (columns[sheet], said) for sheet, said in texts.items()}
    named = package.related_by_type(package.workbook).get("styles", "")
    coloured, styles = with_colours(package.read(named))
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        for info in old.infolist():
            content = old.read(info)
            if info.filename in edited:
                content = _sheet_with(content, *edited[info.filename], styles)
            elif info.filename == named and edited:
                content = coloured
            new.writestr(info, content, compress_type=info.compress_type)
    return out.getvalue()


def _sheet_with(data: bytes, column: int, texts: Texts, styles: Styles) -> bytes:
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
        attributes = _SPANS.sub(b"", match[1])
        if said := texts.get(count):
            cells.insert(_slot(cells, column), _cell(prefix, column, count, said, styles))
            attributes = _as_tall(attributes, said.height)
        inside = b"".join(cell for _, cell in cells)
        return b"<%srow%s>%s</%srow>" % (prefix, attributes, inside, prefix)

    wider = _DIMENSION.sub(lambda m: _widened(m, column), data)
    return with_width(row.sub(edited, wider), prefix, column, WIDTH)


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


def _as_tall(attributes: bytes, height: float) -> bytes:
    """Return the attributes of a row that is tall enough; a taller one stays as it is."""
    old = re.search(rb"\sht=[\"']([\d.]+)[\"']", attributes)
    if height <= (float(old[1]) if old else LINE):
        return attributes
    return _HEIGHT.sub(b"", attributes) + b' ht="%.0f" customHeight="1"' % height


def _slot(cells: Iterable[_Cell], column: int) -> int:
    return sum(at < column for at, _ in cells)


def _cell(prefix: bytes, column: int, row: int, said: Said, styles: Styles) -> _Cell:
    text = escape(_UNPRINTABLE.sub(" ", said.text)[:LONGEST]).encode()
    address = f"{letters(column)}{row}".encode()
    style = b' s="%d"' % styles[said.worst] if said.worst in styles else b""
    return column, (
        b'<%sc r="%s"%s t="inlineStr"><%sis><%st xml:space="preserve">%s</%st></%sis></%sc>'
        % (prefix, address, style, prefix, prefix, text, prefix, prefix, prefix)
    )


def _widened(match: re.Match[bytes], column: int) -> bytes:
    last = match[3] or re.sub(rb"[A-Z]", b"", match[2])
    return b"%s%s:%s%s" % (match[1], match[2], letters(column).encode(), last)
