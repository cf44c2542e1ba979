"""Photos made fit to keep: upright, without time and camera, without place unless it is wanted."""

from __future__ import annotations

import hashlib
import io
import re
import struct
from dataclasses import dataclass

from PIL import Image, ImageOps, UnidentifiedImageError

from supports.errors import FileUnusable

SMALL = 480
"""Longest side of the small copy, in picture points."""
PLACE = 0x8825
"""Exif 2.32: the block of data on where a picture was taken."""
_QUALITY, _SMALL_QUALITY = 92, 80
_MOST_POINTS = 120_000_000
"""A picture with more points than any hand-held camera takes is refused."""


@dataclass(frozen=True, slots=True)
class KeptPhoto:
    """A photo to keep: its hash is that of the bytes kept."""

    content: bytes
    small: bytes
    content_hash: str
    width: int
    height: int
    has_place: bool
    """Whether the place where it was taken is kept in it."""


def kept_photo(name: str, data: bytes, *, with_place: bool = False) -> KeptPhoto:
    """Return the photo as it is kept; only the picture itself is taken over.

    Parameters
    ----------
    with_place
        Keep also where it was taken, if it says so; the small copy, which papers show, never does.

    Raises
    ------
    FileUnusable
        It is no picture.
    """
    try:
        with Image.open(io.BytesIO(data)) as opened:
            if opened.width * opened.height > _MOST_POINTS:
                raise FileUnusable("this picture is too large", where=name)
            place = _place_in(opened) if with_place else b""
            upright = ImageOps.exif_transpose(opened).convert("RGB")
    except (UnidentifiedImageError, OSError, Image.DecompressionBombError) as error:
        raise FileUnusable("this is not a picture", where=name) from error
    bare = Image.frombytes("RGB", upright.size, upright.tobytes())
    content = _jpeg(bare, _QUALITY, place)
    bare.thumbnail((SMALL, SMALL))
    return KeptPhoto(
        content=content,
        small=_jpeg(bare, _SMALL_QUALITY),
        content_hash=hashlib.sha256(content).hexdigest(),
        width=upright.width,
        height=upright.height,
        has_place=bool(place),
    )


def _place_in(picture: Image.Image) -> bytes:
    """Return the block of place data alone, as a file takes it; nothing where there is none.

    Raises
    ------
    FileUnusable
        There is one that cannot be read.
    """
    bare = Image.Exif()
    try:
        bare[PLACE] = picture.getexif().get_ifd(PLACE)
        return bare.tobytes() if bare[PLACE] else b""
    except (ValueError, TypeError, ArithmeticError, struct.error) as error:
        raise FileUnusable(
            "where this picture was taken cannot be read",
            remedy="Take it without its place, or mend it",
        ) from error


def _jpeg(picture: Image.Image, quality: int, exif: bytes = b"") -> bytes:
    held = io.BytesIO()
    picture.save(held, "JPEG", quality=quality, exif=exif)
    return held.getvalue()


def number_in(name: str) -> int | None:
    """Return the number that a camera gave to a file: the last run of digits in its name.

    >>> number_in("IMG_0123.JPG")
    123
    """
    runs = re.findall(r"\d+", name.rpartition(".")[0] or name)
    return int(runs[-1]) if runs else None


def numbers_written(text: str) -> list[int]:
    """Return the photo numbers written in a box, runs spelled out.

    >>> numbers_written("12, 14-16")
    [12, 14, 15, 16]
    """
    numbers: list[int] = []
    for first, last in re.findall(r"(\d+)(?:\s*[-–]\s*(\d+))?", text):
        end = int(last) if last else int(first)
        numbers += range(int(first), min(end, int(first) + 99) + 1)
    return numbers
