"""A workbook as an archive of XML parts; bombs of either kind stop here.

An archive that unpacks to too much is refused, and so is a document type, which XML bombs need.
"""

from __future__ import annotations

import io
import posixpath
import re
import zipfile
from collections.abc import Iterator, Mapping
from datetime import date
from functools import cached_property
from xml.etree import ElementTree as ET

from importers.byte_search import Searched
from importers.cell_marks import Styles, may_be_struck, read_styles
from importers.other_reach import binary_reach, open_document_reach
from importers.sheet_reach import Reach
from importers.sheet_xml import SheetFacts, read_facts
from importers.table import column_index
from supports.errors import FileUnusable
from supports.sentences import Sentence

MAX_UNPACKED = 1_000_000_000
"""Bytes of all parts of a workbook, unpacked."""
MAX_CELLS = 30_000_000
"""Rows times columns up to the farthest cell of a sheet."""
MAX_ROWS = 1_048_576
MAX_REPEATS = 5_000

_DECLARATION = b"<!"
_DOCTYPE = re.compile(rb"(?:DOCTYPE|ENTITY)", re.IGNORECASE)
_COUNTS = re.compile(rb"uniqueCount\s*=\s*[\"'](\d{1,4000})")
_HEAD = 2_000
"""Bytes in which shared texts say how many they are; a reader makes room for as many."""
_CONTENT = "content.xml"
"""The part of an open-document file that holds its sheets."""
_BINARY_SHEET = re.compile(r"xl/worksheets/[^/]+\.bin")
_CELL = re.compile(r"([A-Z]{1,3})(\d+)")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")

Remarks = Mapping[tuple[int, int], str]
"""Comments beside cells, by (row, column) counted from 0."""


class Package:
    """A workbook as a zip archive of XML parts.

    Raises
    ------
    FileUnusable
        Not a workbook, damaged, or larger than any plant's sheets could be.
    """

    def __init__(self, name: str, data: bytes) -> None:
        self._name = name
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(data))
        except (zipfile.BadZipFile, NotImplementedError, ValueError, OSError) as fault:
            raise self._unusable("the workbook is damaged") from fault
        self._parts = {info.filename: info for info in self._zip.infolist()}
        self._refuse_bombs()

    def _unusable(self, what: str, remedy: str = "") -> FileUnusable:
        advice = remedy or "Open it in a spreadsheet program, save it anew as .xlsx and try again"
        return FileUnusable(what, where=self._name, remedy=advice)

    def _refuse_bombs(self) -> None:
        unpacked = sum(info.file_size for info in self._parts.values())
        if unpacked > MAX_UNPACKED:
            raise self._unusable(
                Sentence(
                    "the workbook unpacks to {unpacked} bytes; {most} are the limit",
                    unpacked=f"{unpacked:,}",
                    most=f"{MAX_UNPACKED:,}",
                ),
                "Split it, or save the sheets as CSV",
            )

    def read(self, part: str) -> bytes:
        """Return the bytes of one part, checked against its checksum; a missing part is empty."""
        if part not in self._parts:
            return b""
        try:
            data = self._zip.read(part)
        except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, OSError) as fault:
            raise self._unusable(
                Sentence("part '{part}' of the workbook is damaged", part=part)
            ) from fault
        except Exception as fault:  # zlib.error and its kin have no common parent
            raise self._unusable(
                Sentence("part '{part}' of the workbook cannot be unpacked", part=part)
            ) from fault
        if part.endswith((".xml", ".rels")) and _declares_a_type(data):
            raise self._unusable(
                Sentence("part '{part}' declares a document type, which none needs", part=part)
            )
        return data

    def tree(self, part: str) -> ET.Element | None:
        """Return the parsed part, names without their namespace; None where it is missing."""
        data = self.read(part)
        if not data:
            return None
        try:
            root = ET.fromstring(data)  # noqa: S314  a document type was refused above
        except (ET.ParseError, LookupError, ValueError) as fault:
            raise self._unusable(
                Sentence("part '{part}' of the workbook is not well-formed", part=part)
            ) from fault
        for element in root.iter():
            element.tag = element.tag.rpartition("}")[2]
        return root

    def related(self, part: str, ending: str = "") -> dict[str, str]:
        """Return the parts that a part points at, by relation id, of one type of relation."""
        folder, name = posixpath.split(part)
        root = self.tree(posixpath.join(folder, "_rels", f"{name}.rels"))
        base = posixpath.join("/", folder)
        return {
            item.get("Id", ""): posixpath.normpath(posixpath.join(base, item.get("Target", "")))[1:]
            for item in (root if root is not None else ())
            if item.get("Type", "").endswith(ending) and item.get("TargetMode") != "External"
        }

    def related_by_type(self, part: str) -> dict[str, str]:
        """Return the parts that a part points at, by the last word of the type of relation."""
        folder, name = posixpath.split(part)
        root = self.tree(posixpath.join(folder, "_rels", f"{name}.rels"))
        targets = self.related(part)
        return {
            item.get("Type", "").rpartition("/")[2]: targets[item.get("Id", "")]
            for item in (root if root is not None else ())
            if item.get("Id", "") in targets
        }

    @cached_property
    def workbook(self) -> str:
        """The name of the part that lists the sheets."""
        found = list(self.related("", "/officeDocument").values())
        if not found:
            raise self._unusable("the file is an archive, but not a workbook")
        return found[0]

    @cached_property
    def outline(self) -> ET.Element:
        """The list of the sheets, parsed."""
        root = self.tree(self.workbook)
        if root is None:
            raise self._unusable("the workbook lists no sheets")
        return root

    @property
    def starts_in_1904(self) -> bool:
        """Whether day numbers count from 1904."""
        return any(
            item.get("date1904") in {"1", "true"} for item in self.outline.iter("workbookPr")
        )

    def sheet_parts(self) -> dict[str, str]:
        """Return the part of each sheet, by the sheet's name."""
        parts = self.related(self.workbook)
        return {
            item.get("name", ""): parts[identity]
            for item in self.outline.iter("sheet")
            for key, identity in item.items()
            if key.rpartition("}")[2] == "id" and identity in parts
        }

    @cached_property
    def is_of_xml_sheets(self) -> bool:
        """Whether it is a workbook whose sheets are XML, whatever the name of the file says."""
        return any(part.endswith(".xml") for part in self.related("", "/officeDocument").values())

    def refuse_far_cells(self) -> None:
        """Refuse a binary or open-document sheet with stray cells, or repeated without measure."""
        for part in self._parts:
            if _BINARY_SHEET.fullmatch(part):
                self._refuse_far(part, binary_reach(self.read(part)))
        for reach, repeated in open_document_reach(self.read(_CONTENT)):
            if repeated > MAX_REPEATS:
                raise self._unusable(
                    Sentence(
                        "a filled cell or row is repeated {count} times", count=f"{repeated:,}"
                    )
                )
            self._refuse_far(_CONTENT, reach)

    def facts(self) -> Iterator[tuple[str, SheetFacts, Remarks]]:
        """Read the XML of each sheet once: its name, what it tells, the comments beside cells."""
        styles = self._styles()
        for name, part in self.sheet_parts().items():
            facts = read_facts(self.read(part), styles)
            self._refuse_far(name, Reach(facts.rows, facts.columns))
            yield name, facts, dict(self._remarks(part))

    def _styles(self) -> Styles:
        parts = self.related_by_type(self.workbook)
        strings = parts.get("sharedStrings", "")
        texts = self.read(strings)
        if any(int(count) > MAX_CELLS for count in _COUNTS.findall(texts[:_HEAD])):
            raise self._unusable(Sentence("part '{part}' of the workbook is damaged", part=strings))
        struck = may_be_struck(texts)
        shared = self.tree(strings) if struck else None
        return read_styles(self.tree(parts.get("styles", "")), shared)

    def _remarks(self, part: str) -> Iterator[tuple[tuple[int, int], str]]:
        for comments in self.related(part, "/comments").values():
            root = self.tree(comments)
            for item in root.iter("comment") if root is not None else ():
                if where := _CELL.fullmatch(item.get("ref", "")):
                    text = "".join(piece.text or "" for piece in item.iter("t")).strip()
                    yield (int(where[2]) - 1, column_index(where[1])), text

    def pictures(self, sheet: str) -> int:
        """Return how many pictures lie over the cells of a sheet."""
        drawings = self.related(self.sheet_parts().get(sheet, ""), "/drawing").values()
        return sum(len(self.related(drawing, "/image")) for drawing in drawings)

    @property
    def saved_on(self) -> date | None:
        """The day on which the workbook says it was last saved."""
        root = self.tree(next(iter(self.related("", "/core-properties").values()), ""))
        text = root.findtext("modified", "") if root is not None else ""
        return date.fromisoformat(text[:10]) if _DAY.match(text) else None

    def _refuse_far(self, sheet: str, far: Reach) -> None:
        if far.rows > MAX_ROWS or far.rows * far.columns > MAX_CELLS:
            reach = Sentence(
                "row {row} and column {column}", row=f"{far.rows:,}", column=f"{far.columns:,}"
            )
            raise self._unusable(
                Sentence(
                    "sheet '{sheet}' reaches to {reach}, which is too far", sheet=sheet, reach=reach
                ),
                "Delete the stray cells far below or to the right of the table",
            )


def _declares_a_type(xml: bytes) -> bool:
    """Return whether XML declares a document type or an entity."""
    declarations = Searched(xml).places(_DECLARATION)
    return any(_DOCTYPE.match(xml, at + len(_DECLARATION)) for at in declarations)
