"""Mutated spreadsheets by the thousand: nothing but findings or sentences may come of them.

Run ``python -m bench.fuzz_sheets``, or ``python -m bench.fuzz_sheets 20000 5000`` for a count and
the seed to begin with. Cells of the wrong kind, broken headings, damaged XML, archives cut short,
huge numbers, control characters, formulas, files of another kind. Each is read, compared and stored
in a process of its own (see `tests.fuzzing`). Budget: no traceback, no hang, no stray word.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from typing import Any

TIMES = 1_000
AT_ONCE = 250
AT_MOST_FAULTS = 0


def tried(first: int, count: int) -> dict[str, Any]:
    """Try some seeds in a process of their own."""
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "tests.fuzzing", str(first), str(count), folder]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
    told: dict[str, Any] = json.loads(done.stdout)
    return told


def main(times: int, first: int) -> None:
    """Print what was met and hold it to the budget."""
    firsts = range(first, first + times, AT_ONCE)
    counts = [min(AT_ONCE, first + times - one) for one in firsts]
    with ThreadPoolExecutor(2) as pool:
        told = list(pool.map(tried, firsts, counts))
    faults = [fault for one in told for fault in one["faults"]]
    right: dict[str, int] = {}
    for one in told:
        for end, count in one["right"].items():
            right[end] = right.get(end, 0) + count
    print(f"{sum(one['tried'] for one in told)} mutated files tried: {right}, {len(faults)} faults")
    for fault in faults:
        print(f"   {fault}")
    assert len(faults) <= AT_MOST_FAULTS


if __name__ == "__main__":
    asked = [int(word) for word in sys.argv[1:]]
    main(*(asked + [TIMES, 0][len(asked) :]))
