"""Each use case can be imported first: no circle hides behind the order of imports."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = """
import importlib, sys
for name in sys.argv[1:]:
    for loaded in [m for m in sys.modules if m.startswith("supports.operations")]:
        del sys.modules[loaded]
    try:
        importlib.import_module(name)
    except ImportError as error:
        print(name, error)
"""


def modules():
    for path in sorted((ROOT / "supports" / "operations").rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        yield ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def test_every_use_case_can_be_imported_first():
    names = list(modules())
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, *names],
        check=False,
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert len(names) > 20
    assert (done.returncode, done.stdout) == (0, ""), done.stdout + done.stderr
