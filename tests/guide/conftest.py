"""The invented plant as its first run and its walkdown leave it, made once and copied."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from app.settings import CLOCK, PERSON, REGISTER
from demo.drive import drive
from demo.drive_walkdown import walk_the_line

TODAY = "2026-10-20T08:00:00"


@pytest.fixture(scope="session")
def driven(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the folder of the plant; its register holds a change, a plan, an order and a walk."""
    folder = tmp_path_factory.mktemp("plant")
    with surroundings():
        drive(folder)
        walk_the_line(folder)
    return folder


@contextmanager
def surroundings(**values: str) -> Iterator[None]:
    """Set what the program finds in its environment, and put all back afterwards."""
    before = dict(os.environ)
    os.environ |= {CLOCK: TODAY, **values}
    try:
        yield
    finally:
        os.environ.clear()
        os.environ.update(before)


@pytest.fixture
def at_the_plant(driven: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Stand in a folder beside a copy of the plant's register, which the environment names."""
    shutil.copy(driven / "register.db", tmp_path / "register.db")
    monkeypatch.setenv(REGISTER, str(tmp_path / "register.db"))
    monkeypatch.setenv(CLOCK, TODAY)
    monkeypatch.delenv(PERSON, raising=False)
    monkeypatch.chdir(tmp_path)
    return tmp_path
