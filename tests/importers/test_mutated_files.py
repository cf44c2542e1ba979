"""A small seeded share of the files of ``bench.fuzz_sheets``: findings or sentences only."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TRIED = 60


def test_mutated_files_give_findings_or_sentences(tmp_path):
    command = [sys.executable, "-m", "tests.fuzzing", "0", str(TRIED), str(tmp_path)]
    done = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=True, timeout=300
    )  # fmt: skip
    told = json.loads(done.stdout)
    assert told["faults"] == []
    assert told["tried"] == sum(told["right"].values()) == TRIED
    assert min(told["right"].values()) >= TRIED // 20
    assert len(told["right"]) == 2
