"""Photos found by the numbers on the form, kept without place, printed on the next card.

Exif tags by the standard of the Camera & Imaging Products Association, Exif 2.32 (from memory).
"""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from app.settings import open_register
from supports.errors import BadInput, FileUnusable
from supports.model import AuditBatch, WalkPhoto
from tests.acceptance.site import Site
from tests.acceptance.walk_photos import PLACE, snap
from tests.acceptance.walkdown_plant import fill, key, key_rest, planned, reviewed_and_judged
from tests.reports.reading import pages, squeezed


@pytest.fixture
def walked(site):
    """Give a site whose walker wrote photo numbers at two rows, and brought the camera back."""
    fill(site)
    number = planned(site)
    key(site, number, "C-1", "--pointer", "178", "--load", "20", "--photos", "11-14")
    key(site, number, "C-2", "--pointer", "179", "--load", "20", "--photos", "21, 22")
    key_rest(site, number, {"C-1", "C-2"})
    for one in (11, 12, 13, 14, 21, 99):
        snap(site.folder / "camera", one)
    return site, number


def sorted_in(site: Site, number: str, store: Path) -> str:
    camera = str(site.folder / "camera")
    return site.type("walkdown", "photos", number, camera, "--store", str(store), person="IN")


def kept(site: Site) -> list[tuple[str, str]]:
    with open_register(site.url).reading() as session:
        rows = session.query(WalkPhoto).order_by(WalkPhoto.id)
        return [(one.number, one.subject) for one in rows]


def images(data: bytes) -> int:
    """Count the pictures drawn in a paper."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        streams = [one for one in pdf.objects if isinstance(one, pikepdf.Stream)]
        return sum(one.get("/Subtype") == "/Image" for one in streams)


def cards(site: Site, store: Path) -> tuple[bytes, list[str]]:
    """Issue the next walk's form; return its paper and the text of its cards."""
    into = ("--into", str(site.folder), "--store", str(store))
    site.type("walkdown", "package", "WD-A", *into, person="IN")
    data = (site.folder / "WD-A-walkdown-rev1.pdf").read_bytes()
    return data, [squeezed(page) for page in pages(data) if "Photos, in this order" in page]


def card_of(serial: str, among: list[str]) -> str:
    return next(page for page in among if squeezed(serial) in page)


def test_photos_go_by_number_to_their_rows_and_stand_on_the_next_card(walked, tmp_path):
    site, number = walked
    store = tmp_path / "store"
    said = sorted_in(site, number, store)
    assert "IMG_0099.JPG: no row names this number; not taken" in said
    assert "5 photos belong to rows, 5 of them new." in said
    assert "photo 22 is named on the form, but no picture bears that number" in said
    assert kept(site) == [
        ("11", "plate"), ("12", "scale"), ("13", "pointer"), ("14", "assembly"), ("21", "plate"),
    ]  # fmt: skip
    files = sorted(store.rglob("*.jpg"))
    assert "5 photos belong to rows, 0 of them new." in sorted_in(site, number, store)
    assert sorted(store.rglob("*.jpg")) == files
    assert len(files) == 2 * len(kept(site))

    assert PLACE.encode() in (site.folder / "camera" / "IMG_0011.JPG").read_bytes()
    for path in files:
        assert PLACE.encode() not in path.read_bytes()
        with Image.open(path) as opened:
            assert dict(opened.getexif()) == {}

    reviewed_and_judged(site, number)
    words = ("--on", "2031-10-07", "--line", "L-7", "--number", "WD-A")
    site.type("walkdown", "plan", "autumn", *words, person="IN")
    paper, told = cards(site, store)
    for photo in (11, 12, 13, 14):
        assert squeezed(f"last: no. {photo}, 06 May 2031") in card_of("SN-C-1", told)
    assert "nophotoyet" in card_of("SN-C-2", told)
    assert "last:" not in card_of("SN-C-3", told)
    assert images(paper) == len(kept(site))
    assert PLACE.encode() not in paper

    paper, told = cards(site, tmp_path / "elsewhere")
    assert images(paper) == 0
    words = "no. 11, 06 May 2031: not in the folder of photos"
    assert squeezed(words) in card_of("SN-C-1", told)


def test_places_are_kept_where_somebody_says_why_and_the_record_names_them(walked, tmp_path):
    site, number = walked
    camera, why = str(site.folder / "camera"), "to find the units again"
    words = ("--store", str(tmp_path / "store"), "--keep-place", why)
    said = site.type("walkdown", "photos", number, camera, *words, person="IN")
    assert "The place where it was taken is kept in 5 of them." in said
    files = sorted((tmp_path / "store").rglob("*.jpg"))
    assert [PLACE.encode() in one.read_bytes() for one in files].count(True) == 5
    assert not any(PLACE.encode() in one.read_bytes() for one in files if "small" in one.name)
    with open_register(site.url).reading() as session:
        batch = session.query(AuditBatch).order_by(AuditBatch.id.desc()).first()
        told = (batch.actor, batch.action, batch.reason)
    assert told == ("Person IN", "attach photos, their places kept", why)


def test_a_file_that_is_no_picture_stops_the_whole_camera(walked, tmp_path):
    site, number = walked
    (site.folder / "camera" / "IMG_0012.JPG").write_bytes(b"not a picture")
    with pytest.raises(FileUnusable, match=r"IMG_0012\.JPG"):
        sorted_in(site, number, tmp_path / "store")
    assert kept(site) == []
    with pytest.raises(BadInput, match="not a folder of pictures"):
        site.type("walkdown", "photos", number, "nowhere", "--store", str(tmp_path), person="IN")
