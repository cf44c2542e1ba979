"""A furnished register and a change at its beginning, on SQLite, then on PostgreSQL."""

from __future__ import annotations

import pytest

from tests.operations.road import Road, road_on


@pytest.fixture
def road(register) -> Road:
    return road_on(register)
