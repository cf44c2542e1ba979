"""A small site on each database."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from supports.database import Register
from supports.operations.site import found_register
from tests.acceptance.site import Site
from tests.stages import at_stage

NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone


@pytest.fixture
def site(register, tmp_path, monkeypatch):
    """Give a register with its people, on SQLite, then on PostgreSQL."""
    return at_its_beginning(register, tmp_path, monkeypatch)


def at_its_beginning(register: Register, folder: Path, patch: pytest.MonkeyPatch) -> Site:
    """Found a register, enter its people; return the site."""
    url = register.url
    where = url.database if url.get_backend_name() == "sqlite" else None
    one = Site(folder, where or url.render_as_string(hide_password=False), patch)

    def founded() -> None:
        found_register(register, plant="Test Works", form_key="k" * 32, acting="tests", now=NOW)
        one.people()

    at_stage(register, "founded, with people", founded)
    return one
