"""A register that holds the invented plant, brought in from its own files."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from app.intake import read_against, store
from demo.plant.change import write_change
from demo.plant.plant import write_plant
from supports.database import Register, sqlite_url
from supports.model import Person
from tests.conftest import opened

NOW = datetime(2026, 3, 2, 8)  # noqa: DTZ001  the register keeps UTC without zone


@pytest.fixture(scope="package")
def plant_files(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Return the plant's files in the order of their import, the change's last."""
    folder = tmp_path_factory.mktemp("plant")
    return [*write_plant(folder), write_change(folder)]


@pytest.fixture(scope="package")
def plant_register(
    plant_files: list[Path], sqlite_migrated: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Register]:
    """Give a register with both areas as they are before the change."""
    path = tmp_path_factory.mktemp("filled") / "register.db"
    shutil.copy(sqlite_migrated, path)
    for register in opened(sqlite_url(path)):
        with register.writing("tests", "first filling", NOW, action="people") as writing:
            writing.session.add(Person(name="tests"))
        for file in plant_files[:-1]:
            store(
                register,
                *read_against(register, file, NOW.date()),
                acting="tests",
                reason="first filling",
                now=NOW,
                accept_the_good=False,
            )
        yield register
