"""Odd words on commands, forms and tablets' sendings that come back altered, by the hundred.

Run ``python -m bench.odd_input``, or ``python -m bench.odd_input 2000 1000 4000`` for other counts
of commands, of forms, and of what walkdowns and tablets send; 0 leaves one out. See
`tests.odd_words`, `tests.odd_forms` and `tests.odd_walks`; mutated spreadsheets have a bench of
their own, `bench.fuzz_sheets`. Budget: no traceback, no hang, no exit code
beside the table.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from typing import Any

COMMANDS, FORMS, WALKS = 400, 200, 400
AT_MOST_FAULTS = 0


def tried(what: str, count: int) -> dict[str, Any]:
    """Try seeds of one sort in a process of their own."""
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", f"tests.{what}", "0", f"{count}", folder]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
    told: dict[str, Any] = json.loads(done.stdout)
    return told


def main(commands: int, forms: int, walks: int) -> None:
    """Print what was met and hold it to the budget."""
    faults: list[str] = []
    for what, count in (("odd_words", commands), ("odd_forms", forms), ("odd_walks", walks)):
        if not count:
            continue
        told = tried(what, count)
        print(f"{what}: {told['tried']} tried: {told['right']}, {len(told['faults'])} faults")
        faults += told["faults"]
    for fault in faults:
        print(f"   {fault}")
    assert len(faults) <= AT_MOST_FAULTS


if __name__ == "__main__":
    asked = [int(word) for word in sys.argv[1:]]
    main(*(asked + [COMMANDS, FORMS, WALKS][len(asked) :]))
