"""The project's own files, as the shape tests look at them."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = (
    "supports",
    "importers",
    "reports",
    "app",
    "migrations",
    "demo",
    "bench",
    "docs",
    "tests",
)
MADE = {".venv", ".git", "__pycache__", "build", "dist", "demo-plant"}
"""Folders that programs make; nobody commits them."""

Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Source:
    """A Python file: its path inside the project, its text and its tree."""

    path: str
    text: str

    @property
    def tree(self) -> ast.Module:
        """Return the syntax tree."""
        return ast.parse(self.text)

    @property
    def lines(self) -> int:
        """Return the number of lines, blank ones and comments included."""
        return len(self.text.splitlines())

    def functions(self) -> Iterator[Function]:
        """Give every function and method, nested ones too."""
        for node in ast.walk(self.tree):
            if isinstance(node, Function):
                yield node

    def body_lines(self, function: Function) -> int:
        """Return the lines of a body that are neither docstring nor blank."""
        body = function.body[1:] if ast.get_docstring(function) else function.body
        if not body or body[-1].end_lineno is None:
            return 0
        inside = self.text.splitlines()[body[0].lineno - 1 : body[-1].end_lineno]
        return sum(bool(line.strip()) for line in inside)


@cache
def python_files(package: str) -> tuple[Source, ...]:
    """Return the Python files of a package."""
    paths = sorted((ROOT / package).rglob("*.py"))
    return tuple(
        Source(path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8"))
        for path in paths
        if not MADE & set(path.parts)
    )


@cache
def kept_files() -> tuple[str, ...]:
    """Return all files that are, or are about to be, under version control."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
    try:
        listed = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    except (OSError, subprocess.CalledProcessError):
        return _walked()
    return tuple(name for name in listed.stdout.splitlines() if (ROOT / name).is_file())


def _walked() -> tuple[str, ...]:
    """Return the files of a copy that came without its history."""
    inside = (path.relative_to(ROOT) for path in ROOT.rglob("*") if path.is_file())
    return tuple(
        path.as_posix()
        for path in inside
        if not MADE & set(path.parts)
        and not any(part.endswith(("_cache", ".egg-info", ".db")) for part in path.parts)
        and path.parts[0] != ".hypothesis"
    )
