r"""Run every check of this project: style, types, import directions, and the tests.

Needs nothing but Python 3.11 or newer: ``python3 tests/everything.py``, on Windows
``py tests\\everything.py``. Further words go to pytest. The exit code is that of the first check
that failed; pytest runs last, so that its count of tests ends the output.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from demo.own_python import own_python, program, run, say

CODE = ("supports", "importers", "reports", "app", "migrations", "demo", "docs", "tests", "bench")


def checks(python: str, words: list[str]) -> dict[str, list[str]]:
    """Return each check with its command, in the order they run."""
    return {
        "bytecode": [python, "-W", "error", "-m", "compileall", "-q", *CODE],
        "style": [str(program("ruff")), "check", "--quiet", "."],
        "layout": [str(program("ruff")), "format", "--check", "--quiet", "."],
        "types": [python, "-m", "mypy", "--no-error-summary"],
        "import directions": [str(program("lint-imports")), "--no-logo"],
        "tests": [python, "-m", "pytest", "-n", "auto", "--dist", "loadfile", *words],
    }


def main(words: list[str]) -> int:
    """Run all checks, though some fail; return the first exit code that is not 0."""
    python = str(own_python("dev"))
    os.environ["PYTHONUTF8"] = "1"
    first_failure = 0
    failed: list[str] = []
    for name, command in checks(python, words).items():
        say(f"-- {name}")
        if failed and name == "tests":
            say(f"   failed before the tests: {', '.join(failed)}")
        began = time.monotonic()
        code = run(command)
        if name != "tests":
            say(f"   {'failed' if code else 'clean'}, {time.monotonic() - began:.0f} s")
        if code:
            failed.append(name)
        first_failure = first_failure or code
    return first_failure


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
