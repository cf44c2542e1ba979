"""Photos are kept bare: no place, no camera, upright, the same bytes for the same picture."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from importers.walkdown_photos import SMALL, kept_photo, number_in, numbers_written
from supports.errors import FileUnusable

GPS, ORIENTATION, MAKER = 0x8825, 0x0112, 0x010F
"""Exif 2.32 tags: the block of place data, the way up, the maker."""


def picture(width: int = 1200, height: int = 800) -> bytes:
    exif = Image.Exif()
    exif[GPS] = {1: "N", 2: (51.0, 30.0, 0.0)}
    exif[ORIENTATION] = 6
    exif[MAKER] = "a camera"
    held = io.BytesIO()
    Image.new("RGB", (width, height), "grey").save(held, "JPEG", exif=exif)
    return held.getvalue()


def test_place_and_camera_are_left_out():
    assert dict(Image.open(io.BytesIO(picture())).getexif())
    kept = kept_photo("a.jpg", picture())
    for data in (kept.content, kept.small):
        opened = Image.open(io.BytesIO(data))
        assert dict(opened.getexif()) == {}
        assert b"a camera" not in data


def test_the_place_alone_is_kept_where_it_is_wanted_and_never_in_the_small_copy():
    kept = kept_photo("a.jpg", picture(), with_place=True)
    told = Image.open(io.BytesIO(kept.content)).getexif()
    assert list(told) == [GPS]
    assert told.get_ifd(GPS) == {1: "N", 2: (51.0, 30.0, 0.0)}
    assert dict(Image.open(io.BytesIO(kept.small)).getexif()) == {}
    bare = kept_photo("b.jpg", kept.small, with_place=True)
    assert (kept.has_place, bare.has_place, kept_photo("a.jpg", picture()).has_place) == (
        True, False, False,
    )  # fmt: skip


def test_it_stands_upright_and_has_a_small_copy():
    # Exif orientation 6: turned a quarter; width and height change places.
    kept = kept_photo("a.jpg", picture())
    assert (kept.width, kept.height) == (800, 1200)
    assert Image.open(io.BytesIO(kept.content)).size == (800, 1200)
    assert max(Image.open(io.BytesIO(kept.small)).size) == SMALL


def test_the_same_picture_has_the_same_hash_and_another_has_not():
    one, other = kept_photo("a.jpg", picture()), kept_photo("b.jpg", picture())
    assert one.content_hash == other.content_hash
    assert kept_photo("c.jpg", picture(640, 480)).content_hash != one.content_hash


def test_what_is_no_picture_is_refused_by_name():
    with pytest.raises(FileUnusable, match=r"notes\.jpg"):
        kept_photo("notes.jpg", b"not a picture")


def test_numbers_on_files_and_on_forms():
    assert [number_in(name) for name in ("IMG_0123.JPG", "day2-7.jpg", "plate.png")] == [
        123, 7, None,
    ]  # fmt: skip
    assert numbers_written("12, 14-16; 20") == [12, 14, 15, 16, 20]
    assert numbers_written("none") == []
