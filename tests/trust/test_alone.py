"""Two runs of the tests never clear each other's temporary folder."""

from __future__ import annotations

import pytest

from tests.alone import held_alone


def test_a_folder_is_held_by_one_until_it_is_let_go(tmp_path):
    first = held_alone(tmp_path / "temporary")
    with pytest.raises((BlockingIOError, PermissionError)):
        held_alone(tmp_path / "temporary")
    held_alone(tmp_path / "other").close()
    first.close()
    held_alone(tmp_path / "temporary").close()
