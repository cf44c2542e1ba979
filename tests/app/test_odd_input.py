"""Odd words on commands, forms and tablets' sendings that come back altered: a sample of each.

`bench.odd_input` tries more of both.
"""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from tests.app.conftest import ROOT

SOME = {"odd_words": 60, "odd_forms": 25, "odd_walks": 32}


@pytest.mark.parametrize("what", SOME)
def test_odd_input_is_answered_or_refused_in_a_sentence(what, tmp_path):
    done = subprocess.run(
        [sys.executable, "-m", f"tests.{what}", "7", f"{SOME[what]}", str(tmp_path)], cwd=ROOT,
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["faults"] == []
    assert told["tried"] == SOME[what]
    assert len(told["right"]) > 1
