"""Pictures as a camera on site makes them: numbered, with place and time in them."""

from __future__ import annotations

from pathlib import Path

from PIL import Image, ImageDraw

GPS, MAKER, TAKEN = 0x8825, 0x010F, 0x0132
"""Exif 2.32: the block of place data, the maker, the time."""
PLACE = "51.5074 north"
"""Words in the place data; they are to be found in no file that is kept or printed."""


def snap(folder: Path, number: int, shade: str = "grey") -> Path:
    """Take a picture with a number; return the file."""
    exif = Image.Exif()
    exif[GPS] = {1: "N", 2: (51.0, 30.0, 26.6), 29: PLACE}
    exif[MAKER] = "a camera"
    exif[TAKEN] = "2031:05:06 10:11:12"
    picture = Image.new("RGB", (1200, 900), shade)
    ImageDraw.Draw(picture).text((60, 60), f"photo {number}", fill="black", font_size=200)
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"IMG_{number:04d}.JPG"
    picture.save(path, "JPEG", exif=exif)
    return path
