"""Pictures of invented units, drawn: plate, load scale, pointer, whole assembly."""

from __future__ import annotations

from pathlib import Path

from PIL import Image, ImageDraw

from supports.rules.walkdown.form import FormRow
from supports.rules.walkdown.words import PhotoSubject
from supports.units import Kind, shown

WIDE, HIGH = 1200, 900
_STEEL, _DARK, _PLATE, _PAINT = "#8d9296", "#3a3d40", "#d8d4c6", "#4f6b57"
_GPS, _MAKER = 0x8825, 0x010F
"""Exif: the block of place data, and the maker."""


def take_picture(path: Path, subject: PhotoSubject, row: FormRow) -> None:
    """Draw one picture of a unit and save it as a camera would, with place and maker in it."""
    picture = Image.new("RGB", (WIDE, HIGH), _STEEL)
    pen = ImageDraw.Draw(picture)
    _DRAWN[subject](pen, row)
    exif = Image.Exif()
    exif[_GPS] = {1: "N", 2: (0.0, 0.0, 0.0), 3: "E", 4: (0.0, 0.0, 0.0)}
    exif[_MAKER] = "invented"
    path.parent.mkdir(parents=True, exist_ok=True)
    picture.save(path, "JPEG", quality=85, exif=exif)


def _plate(pen: ImageDraw.ImageDraw, row: FormRow) -> None:
    pen.rounded_rectangle((120, 130, 1080, 770), 30, fill=_PLATE, outline=_DARK, width=8)
    for x, y in ((170, 180), (1030, 180), (170, 720), (1030, 720)):
        pen.ellipse((x - 16, y - 16, x + 16, y + 16), fill=_DARK)
    unit = row.load_unit or "kN"
    lines = (
        row.tag,
        f"serial {row.serial}",
        f"load {shown(row.plate.nameplate_load, unit, Kind.LOAD)}",
        f"travel {shown(row.plate.total_travel, row.pointer_unit or 'mm', Kind.LENGTH)}",
    )
    for place, words in enumerate(lines):
        size = 110 if place == 0 else 74
        pen.text((230, 190 + 135 * place), _plain(words), fill=_DARK, font_size=size)


def _scale(pen: ImageDraw.ImageDraw, row: FormRow) -> None:
    pen.rectangle((80, 330, 1120, 610), fill=_PLATE, outline=_DARK, width=6)
    for mark in range(21):
        x = 140 + 46 * mark
        pen.line((x, 380, x, 480 if mark % 5 == 0 else 430), fill=_DARK, width=6)
    pen.polygon(((600, 600), (560, 690), (640, 690)), fill="#9a2f24")
    words = shown(row.setting, row.load_unit or "kN", Kind.LOAD)
    pen.text((380, 500), _plain(words), fill=_DARK, font_size=90)


def _pointer(pen: ImageDraw.ImageDraw, row: FormRow) -> None:
    pen.rectangle((430, 60, 700, 840), fill=_PLATE, outline=_DARK, width=6)
    for mark in range(21):
        y = 90 + 36 * mark
        pen.line((440, y, 560 if mark % 5 == 0 else 500, y), fill=_DARK, width=6)
    total = row.plate.total_travel
    at = row.expected.pointer if row.expected else None
    share = at / total if at is not None and total else 0.5
    tip = 90.0 + 720.0 * (share if row.plate.zero_end != "bottom" else 1.0 - share)
    pen.polygon(((590.0, tip), (760.0, tip - 45.0), (760.0, tip + 45.0)), fill="#9a2f24")
    pen.text((60, 60), row.tag, fill="white", font_size=90)


def _assembly(pen: ImageDraw.ImageDraw, row: FormRow) -> None:
    pen.rectangle((0, 40, WIDE, 120), fill=_DARK)
    pen.rectangle((585, 120, 615, 700), fill="#5d6266")
    pen.rounded_rectangle((470, 210, 730, 500), 20, fill=_PAINT, outline=_DARK, width=6)
    pen.rectangle((0, 640, WIDE, 820), fill="#b9bdc0", outline=_DARK, width=6)
    pen.rectangle((560, 620, 640, 840), fill=_DARK)
    pen.text((40, 180), row.tag, fill="white", font_size=90)


def _plain(words: str) -> str:
    """Return words for a pen that knows no narrow spaces."""
    return words.replace("\u202f", " ").replace("\u00a0", " ")


_DRAWN = {
    PhotoSubject.PLATE: _plate,
    PhotoSubject.SCALE: _scale,
    PhotoSubject.POINTER: _pointer,
    PhotoSubject.ASSEMBLY: _assembly,
}
