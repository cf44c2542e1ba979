"""The files of the plant are the same bytes in every run, and the importer takes them."""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from demo.plant.change import write_change
from demo.plant.plant import write_plant
from importers.reading import read
from supports.findings import Severity


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    place = tmp_path_factory.mktemp("plant")
    write_plant(place)
    write_change(place)
    return place


def digests(folder: Path) -> dict[str, str]:
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_another_process_writes_the_same_bytes(folder, tmp_path):
    # A fresh process with another hash seed shows any reliance on the order of sets.
    code = (
        "import sys; from pathlib import Path; "
        "from demo.plant.plant import write_plant; from demo.plant.change import write_change; "
        "write_plant(Path(sys.argv[1])); write_change(Path(sys.argv[1]))"
    )
    environment = {**os.environ, "PYTHONHASHSEED": "77"}
    subprocess.run([sys.executable, "-c", code, str(tmp_path)], check=True, env=environment)
    assert digests(tmp_path) == digests(folder)


def test_the_files_are_those_announced(tmp_path):
    written = [path.relative_to(tmp_path).as_posix() for path in write_plant(tmp_path)]
    assert written == [
        "area-1.xlsx",
        "area-2.xlsx",
        "area-1-nozzles",
        "area-2-nozzles",
        "area-1-routes.xlsx",
        "area-2-routes.xlsx",
    ]
    assert write_change(tmp_path).name == "change-CH-2026-014.xlsx"


@pytest.mark.parametrize(
    "name",
    ["area-1.xlsx", "area-2.xlsx", "area-1-nozzles", "area-2-nozzles", "change-CH-2026-014.xlsx"],
)
def test_the_importer_takes_every_row(folder, name):
    result = read(folder / name)
    grave = [str(finding) for finding in result.findings if finding.severity is Severity.STOP]
    assert grave == []
    assert sum(count.held_back for count in result.counts) == 0


def test_values_come_back_in_si(folder):
    plates = {
        record.key: record.values
        for record in read(folder / "area-1.xlsx").records
        if record.subject == "nameplate"
    }
    one, customary = plates["PS-1024", "A"], plates["PS-1020", "A"]
    assert one["nameplate_load"] == pytest.approx(20_000.0)
    assert one["load_per_turn"] == pytest.approx(250.0)
    assert one["total_travel"] == pytest.approx(0.200)
    # 4,500 lbf = 20.017 kN: NIST SP 811 (2008), appendix B, 1 lbf = 4.448222 N.
    assert customary["nameplate_load"] == pytest.approx(4_500.0 * 4.448222, rel=1e-6)
    assert customary["load_per_turn"] == pytest.approx(55.0 * 4.448222, rel=1e-6)
    assert customary["scale_unit"] == "lbf"
