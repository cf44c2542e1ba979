"""A register filled with one hanger, and a way to type commands as an own process."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from supports.operations.site import found_register
from tests.acceptance.conftest import NOW
from tests.acceptance.sheets import one_constant
from tests.acceptance.site import Site

ROOT = Path(__file__).resolve().parents[2]


@dataclass
class Typed:
    """What a command left behind."""

    code: int
    out: str
    err: str


@dataclass
class Terminal:
    """Types commands; nothing of this process helps them."""

    site: Site

    def __call__(self, *words: str, **settings: str) -> Typed:
        """Run a command; `settings` are put into its environment."""
        done = subprocess.run(
            [sys.executable, "-c", "from app.cli.main import main; main()", *words],
            cwd=ROOT, env=self.environment(settings), capture_output=True, text=True, timeout=60,
            check=False,
        )  # fmt: skip
        return Typed(done.returncode, done.stdout, done.stderr)

    def environment(self, settings: dict[str, str]) -> dict[str, str]:
        """Return the environment of a command."""
        mine = {"SUPPORTS_REGISTER": self.site.url, "SUPPORTS_CLOCK": "2031-05-05T08:00:00"}
        kept = {k: v for k, v in os.environ.items() if not k.startswith("SUPPORTS_P")}
        return kept | mine | settings


@pytest.fixture
def terminal(register, tmp_path, monkeypatch):
    """Give a terminal on a register with its people and one hanger."""
    found_register(register, plant="Test Works", form_key="k" * 32, acting="tests", now=NOW)
    url = register.url
    sqlite = url.get_backend_name() == "sqlite"
    where = url.database if sqlite else url.render_as_string(hide_password=False)
    site = Site(tmp_path, where, monkeypatch)
    site.people()
    site.bring("site.xlsx", one_constant("PS-1024", 20.0, 22.1, rod=40.0))
    return Terminal(site)
