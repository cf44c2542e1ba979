"""What stands in the way of something, read from the code."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from typing import TypeGuard

from reports.languages.sentences import OF_COUNTS
from supports.rules.workflow.record import ChangeRecord, parts_of
from supports.rules.workflow.states import LEFT_TO_DO, WAITED_FOR
from supports.rules.workflow.steps import STEPS
from supports.sentences import has_words
from tests.shape.sources import ROOT

BLOCKING = re.compile(
    "_blockers$|^(proofs_wanting|void_reasons|_set_since|holds_wanting|contradictions|_undated"
    "|ownerless|_differences|setting_unknown|_missing|_mixed|_dates|_half_done)$"
)
"""Functions whose answers stand in the way of something."""
BLOCKED_IN = ("supports/operations", "supports/queries", "supports/snapshots")


def blocking_words() -> Iterator[str]:
    """Give what may stand in the way: patterns chosen by a state, and the words that fill them."""
    yield from (*LEFT_TO_DO.values(), WAITED_FOR, "a newer assessment")
    yield from parts_of(ChangeRecord("", "", "", "", None, "", "", "", None, {}, (), (), ()), "")
    yield from ("owner", "watch interval", "no reason given")
    yield from (step.act for step in STEPS)
    yield from OF_COUNTS
    for path in (path for folder in BLOCKED_IN for path in sorted((ROOT / folder).rglob("*.py"))):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef) and BLOCKING.search(node.name):
                yield from filter(has_words, _said_in(node))


def _is_sentence(node: ast.AST) -> TypeGuard[ast.Call]:
    return isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Sentence"


def _said_in(function: ast.FunctionDef) -> Iterator[str]:
    """Give what a function says in words that are no sentence with places."""
    inside = [node for part in function.body for node in ast.walk(part)]
    apart = {node.value for node in inside if isinstance(node, ast.Expr)}
    apart |= {one for node in inside if _is_sentence(node) for one in node.args}
    for node in inside:
        match node:
            case ast.JoinedStr():
                bare = "".join(str(o.value) for o in node.values if isinstance(o, ast.Constant))
                assert not has_words(bare), f"{function.name} says {bare!r} without its pattern"
            case ast.Constant(value=str(words)) if " " in words and node not in apart:
                yield words
