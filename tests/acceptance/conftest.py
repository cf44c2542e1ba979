"""A small site on each database."""

from __future__ import annotations

from datetime import datetime

import pytest

from supports.operations.site import found_register
from tests.acceptance.site import Site

NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone


@pytest.fixture
def site(register, tmp_path, monkeypatch):
    """Give a register with its people, on SQLite, then on PostgreSQL."""
    found_register(register, plant="Test Works", form_key="k" * 32, acting="tests", now=NOW)
    url = register.url
    where = url.database if url.get_backend_name() == "sqlite" else None
    one = Site(tmp_path, where or url.render_as_string(hide_password=False), monkeypatch)
    one.people()
    return one
