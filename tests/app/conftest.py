"""A register filled with one hanger, and a way to type commands."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from contextlib import chdir, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

import pytest

from app.cli.main import main
from tests.acceptance.conftest import at_its_beginning
from tests.acceptance.sheets import one_constant
from tests.acceptance.site import Site
from tests.stages import at_stage

ROOT = Path(__file__).resolve().parents[2]


@dataclass
class Typed:
    """What a command left behind."""

    code: int
    out: str
    err: str


@dataclass
class Terminal:
    """Types commands, each with an environment and a screen of its own.

    Everyday checks run them inside the process of the tests, which spares their start; the thorough
    run starts a process for each, which nothing of this one helps.
    """

    site: Site
    alone: bool = False

    def __call__(self, *words: str, **settings: str) -> Typed:
        """Run a command; `settings` are put into its environment."""
        environment = self.environment(settings)
        return self._alone(words, environment) if self.alone else _inside(words, environment)

    @staticmethod
    def _alone(words: tuple[str, ...], environment: dict[str, str]) -> Typed:
        done = subprocess.run(
            [sys.executable, "-c", "from app.cli.main import main; main()", *words],
            cwd=ROOT, env=environment, capture_output=True, text=True, timeout=60,
            check=False,
        )  # fmt: skip
        return Typed(done.returncode, done.stdout, done.stderr)

    def environment(self, settings: dict[str, str]) -> dict[str, str]:
        """Return the environment of a command."""
        mine = {"SUPPORTS_REGISTER": self.site.url, "SUPPORTS_CLOCK": "2031-05-05T08:00:00"}
        kept = {k: v for k, v in os.environ.items() if not k.startswith("SUPPORTS_P")}
        return kept | mine | settings


def _inside(words: tuple[str, ...], environment: dict[str, str]) -> Typed:
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8") for _ in range(2))
    with (
        patch.object(sys, "argv", ["supports", *words]),
        patch.dict(os.environ, environment, clear=True),
        chdir(ROOT), redirect_stdout(out), redirect_stderr(err),
        pytest.raises(SystemExit) as ended,
    ):  # fmt: skip
        main()
    for screen in (out, err):
        screen.flush()
        screen.seek(0)
    return Typed(ended.value.code or 0, out.read(), err.read())


@pytest.fixture
def terminal(register, tmp_path, monkeypatch, request):
    """Give a terminal on a register with its people and one hanger."""
    site = at_its_beginning(register, tmp_path, monkeypatch)
    sheets = one_constant("PS-1024", 20.0, 22.1, rod=40.0)
    at_stage(register, "one hanger", lambda: site.bring("site.xlsx", sheets))
    return Terminal(site, alone=request.config.getoption("thorough"))
