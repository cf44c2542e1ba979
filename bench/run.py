"""Run every bench in this folder, one after the other; fail if one is over its budget.

``python -m bench.run``; with names, only those: ``python -m bench.run register_writes``.
"""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent


def benches() -> list[str]:
    """Return the names of all benches."""
    return sorted(p.stem for p in HERE.glob("*.py") if p.stem not in {"run", "__init__"})


def main(names: list[str]) -> int:
    """Run the benches named, or all; return how many failed."""
    failed = []
    for name in names or benches():
        print(f"-- {name}", flush=True)
        begin = time.perf_counter()
        if subprocess.call([sys.executable, "-m", f"bench.{name}"], cwd=HERE.parent):
            failed.append(name)
        print(f"   {time.perf_counter() - begin:.0f} s", flush=True)
    print(f"over budget: {', '.join(failed)}" if failed else "all within their budgets")
    return len(failed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
