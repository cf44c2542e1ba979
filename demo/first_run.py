r"""First run: install into ``.venv``, build the invented plant, go through one change of it.

Needs nothing but Python 3.11 or newer: ``python3 demo/first_run.py``, on Windows
``py demo\\first_run.py``.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from demo.own_python import own_python, program, run


def main(words: list[str]) -> int:
    """Install what is missing and run the demo; return its exit code."""
    own_python()
    return run([str(program("supports-demo")), *words])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
