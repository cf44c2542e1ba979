"""Below `app` nothing reads the clock, the environment or chance, and nothing prints.

The same input gives the same bytes; a document's date is an argument.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest

from tests.shape.sources import Source, python_files

BELOW_APP = ("supports", "importers", "reports")
MODULES = {"time", "random", "secrets", "uuid", "os", "sys", "getpass", "socket", "subprocess"}
NAMES = {"print", "input", "breakpoint"}
READS = {"now", "today", "utcnow", "environ", "getenv", "default_rng"}

EXCEPTIONS: dict[str, str] = {
    "importers/hushed.py": "closes the error channel to a compiled library that writes past Python",
}
"""Files that may, each with its reason."""


def impure(tree: ast.AST) -> Iterator[str]:
    """Give what a file should not use, with its line."""
    for node in ast.walk(tree):
        for name in used(node):
            yield f"line {node.lineno}: {name}"  # type: ignore[attr-defined]


def used(node: ast.AST) -> list[str]:
    match node:
        case ast.Import(names=names):
            return [one.name for one in names if one.name.split(".")[0] in MODULES]
        case ast.ImportFrom(module=str(module)):
            return [module] if module.split(".")[0] in MODULES else []
        case ast.Call(func=ast.Name(id=name)) if name in NAMES:
            return [name]
        case ast.Attribute(value=ast.Name(id="random") | ast.Attribute(attr="random"), attr=name):
            return [f"random.{name}"]
        case ast.Call(func=ast.Attribute(value=value, attr=name)) if name in READS:
            return [f"{ast.unparse(value)}.{name}"]
    return []


SOURCES = [source for package in BELOW_APP for source in python_files(package)]


@pytest.mark.parametrize("source", SOURCES, ids=[source.path for source in SOURCES])
def test_a_file_below_app_takes_everything_as_an_argument(source: Source):
    if source.path in EXCEPTIONS:
        assert list(impure(source.tree))
    else:
        assert list(impure(source.tree)) == []


@pytest.mark.parametrize(
    "text",
    [
        "import time",
        "import os.path",
        "from random import choice",
        "datetime.now()",
        "dt.date.today()",
        "print(1)",
        "numpy.random.normal()",
        "func.now()",
    ],
)
def test_each_of_these_would_be_seen(text):
    assert list(impure(ast.parse(text)))


def test_revisions_import_nothing_of_ours():
    """Tables change, revisions do not."""
    ours = ("supports", "importers", "reports", "app", "demo")
    for source in python_files("migrations/versions"):
        for node in ast.walk(source.tree):
            if isinstance(node, ast.ImportFrom):
                assert (node.module or "").split(".")[0] not in ours, source.path
            if isinstance(node, ast.Import):
                assert not [n for n in node.names if n.name.split(".")[0] in ours], source.path
