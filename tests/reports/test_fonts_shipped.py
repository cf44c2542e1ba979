"""Papers use the fonts that ship with them, or are not made at all."""

from __future__ import annotations

import io
import json
import shutil
from itertools import pairwise
from pathlib import Path

import pikepdf
import pytest

from reports.pdf.fonts_shipped import FOLDER, fonts, proved
from reports.pdf.resetting_pack import resetting_pack_pdf
from supports.errors import FileUnusable
from tests.reports import examples


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    return Path(shutil.copytree(FOLDER, tmp_path / "fonts"))


def test_all_files_stand_in_the_manifest() -> None:
    shipped = {file.name for file in FOLDER.iterdir() if file.suffix in {".otf", ".ttf"}}
    assert shipped == set(proved(FOLDER)["files"])
    assert (FOLDER / "Inter-LICENCE.txt").is_file()
    assert (FOLDER / "DejaVu-LICENCE.txt").is_file()


def test_no_other_font_is_seen() -> None:
    assert set(fonts().families()) == {"Inter", "DejaVu Sans"}


def test_missing_font_is_refused(copied: Path) -> None:
    (copied / "Inter-Bold.otf").unlink()
    with pytest.raises(FileUnusable, match=r"Inter-Bold\.otf: a font .* missing or changed"):
        proved(copied)


def test_changed_font_is_refused(copied: Path) -> None:
    file = copied / "DejaVuSansCondensed.ttf"
    file.write_bytes(file.read_bytes() + b"\0")
    with pytest.raises(FileUnusable, match="DejaVuSansCondensed"):
        proved(copied)


def test_fonts_are_embedded_in_the_paper() -> None:
    with pikepdf.open(io.BytesIO(resetting_pack_pdf(examples.pack()))) as pdf:
        descriptors = [one for one in pdf.objects if is_descriptor(one)]
        assert descriptors
        files = ("/FontFile", "/FontFile2", "/FontFile3")
        assert all(any(name in one for name in files) for one in descriptors)


def is_descriptor(one: pikepdf.Object) -> bool:
    return isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/FontDescriptor"


def test_covered_ranges_rise_and_do_not_touch() -> None:
    ranges = json.loads((FOLDER / "manifest.json").read_text("utf-8"))["covered"]
    flat = [end for pair in ranges for end in pair]
    assert flat == sorted(flat)
    assert all(a[1] + 1 < b[0] for a, b in pairwise(ranges))
