"""What errors say, read from the code: every text at every place where one is made.

Only a module that the desk imports, however indirectly, can show its errors to a visitor.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from supports import errors
from supports.sentences import has_words, without_commands
from tests.shape.sources import ROOT, Function, python_files

PACKAGES = ("supports", "app", "importers", "reports")


def _is_error(kind: object) -> bool:
    return isinstance(kind, type) and issubclass(kind, errors.SupportsError)


DESK = ("app/web/", "app/making/")
KINDS = {
    *(kind.__name__ for kind in vars(errors).values() if _is_error(kind)),
    "NoTokenError", "TooManyTriesError",
}  # fmt: skip
HELPERS = {
    "_unusable", "_not_believed", "_damaged", "_no_register", "require_other_person",
    "require_roles", "require_states", "require_standing", "_require_basis", "Fault", "Finding",
    "Candidate", "Question", "ditto_fault", "or_nearest", "_with_reason",
    "_stop", "_piece", "_not_possible", "_ambiguous", "_ask", "_look", "_note", "_not_a_name",
}  # fmt: skip
"""What makes an error, or a finding, of the texts that it is handed."""
MAKES = re.compile(rf"\b({'|'.join(sorted(KINDS | HELPERS))})\(")
IMPORTS = re.compile(
    r"^ *(?:from|import) ([\w.]+)(?: import (?:\(([\w\s,]*)\)|([\w ,]*)))?", re.MULTILINE
)
WORD = re.compile(r"\w+")
PUTS_TOGETHER = {"Sentence", "joined", "either", "cannot_judge", "tuple", "sorted"}
NAMED = {"N", "kN", "m", "mm", "K", "line", ".xlsx"}
"""Units of measure, which every language writes alike, the line of a text file, an ending."""
TYPED_ONLY = {
    "supports/operations/copying.py": "registers are copied on the command line",
    "app/web/machine/": "programs are answered in English",
    "supports/calc/reset_plan/": "a plan is made of a problem that the program has put together",
    "app/settings.py": "settings are read where a program is started",
}
"""What no visitor of the desk is shown, although the desk imports it, with the reason."""


@dataclass(frozen=True)
class Raised:
    """One text of an error: where it is made, and its words or its pattern."""

    place: str
    text: str
    is_pattern: bool = True
    """Whether it keeps its pattern, or has none to keep."""


@cache
def raised() -> tuple[Raised, ...]:
    """Return every text that an error shown at the desk may say."""
    shown = modules_of_the_desk()
    return tuple(
        one
        for package in PACKAGES
        for source in python_files(package)
        if source.path in shown and not any(map(source.path.startswith, TYPED_ONLY))
        if MAKES.search(source.text)
        for one in _texts_of(source.path, source.tree)
    )


def messages_of_errors() -> Iterator[str]:
    """Give the messages that a language must have, as the desk says them."""
    said = (without_commands(one.text) for one in raised() if one.is_pattern)
    yield from filter(has_words, said)


@cache
def modules_of_the_desk() -> frozenset[str]:
    """Return the files of ours that the desk imports, however indirectly."""
    texts = {one.path: one.text for package in PACKAGES for one in python_files(package)}
    waiting = [path for path in texts if path.startswith(DESK)]
    found: set[str] = set()
    while waiting:
        path = waiting.pop()
        if path in found:
            continue
        found.add(path)
        waiting += [one for name in _imported(texts[path]) if (one := _file_of(name)) in texts]
    return frozenset(found)


def _imported(text: str) -> Iterator[str]:
    for module, over_lines, in_one in IMPORTS.findall(text):
        yield module
        yield from (f"{module}.{name}" for name in WORD.findall(over_lines or in_one))


def _file_of(name: str) -> str:
    path = Path(*name.split("."))
    package = path / "__init__.py"
    return (package if (ROOT / package).is_file() else path.with_suffix(".py")).as_posix()


def _texts_of(path: str, tree: ast.Module) -> Iterator[Raised]:
    outside = _named(tree.body, {})
    inside: dict[Function, dict[str, list[ast.expr]]] = {}
    for function, call in _calls(tree):
        if function and function not in inside:
            inside[function] = _named(list(ast.walk(function)), outside)
        named = outside | (inside[function] if function else {})
        for said in (*call.args, *(one.value for one in call.keywords if one.arg)):
            yield from _texts(f"{path}:{call.lineno}", said, named)


def _calls(tree: ast.Module) -> Iterator[tuple[Function | None, ast.Call]]:
    """Give every call that makes an error, with the function that it stands in."""
    waiting: list[tuple[ast.AST, Function | None]] = [(tree, None)]
    while waiting:
        node, function = waiting.pop()
        if isinstance(node, ast.Call) and _name_of(node) in KINDS | HELPERS:
            yield function, node
        within = node if isinstance(node, Function) else function
        waiting += [(child, within) for child in ast.iter_child_nodes(node)]


def _name_of(call: ast.Call) -> str:
    named = call.func
    return named.id if isinstance(named, ast.Name) else getattr(named, "attr", "")


def _column(tables: Sequence[ast.expr], at: int) -> Iterator[ast.expr]:
    """Give what stands at one place in each row of a table."""
    for table in tables:
        for row in table.elts if isinstance(table, ast.Tuple) else ():
            if isinstance(row, ast.Tuple) and at < len(row.elts):
                yield row.elts[at]


def _named(
    body: list[ast.AST] | list[ast.stmt], outside: Mapping[str, Sequence[ast.expr]]
) -> dict[str, list[ast.expr]]:
    """Return what is given a name, by it."""
    found: dict[str, list[ast.expr]] = {}
    for node in body:
        match node:
            case ast.Assign(targets=[ast.Name(id=name)], value=said):
                found.setdefault(name, []).append(said)
            case ast.AugAssign(target=ast.Name(id=name), value=said):
                found.setdefault(name, []).append(said)
            case ast.For(target=ast.Tuple(elts=names), iter=ast.Name(id=table)):
                for at, one in enumerate(names):
                    if isinstance(one, ast.Name):
                        cells = [*_column(outside.get(table, ()), at)]
                        found.setdefault(one.id, []).extend(cells)
            case ast.Assign(targets=[ast.Tuple(elts=names)], value=ast.Tuple(elts=values)):
                for one, said in zip(names, values, strict=False):
                    if isinstance(one, ast.Name):
                        found.setdefault(one.id, []).append(said)
    return found


def _texts(place: str, said: ast.expr, named: dict[str, list[ast.expr]]) -> Iterator[Raised]:
    """Give the texts that an expression may come to; a name is followed to what it was given."""
    match said:
        case ast.Constant(value=str(words)) if _is_said(words):
            yield Raised(place, words)
        case ast.JoinedStr(values=parts):
            words = "".join(str(one.value) for one in parts if isinstance(one, ast.Constant))
            if _is_said(words):
                yield Raised(place, words, is_pattern=False)
        case ast.BinOp(left=left, right=right):
            for one in (*_texts(place, left, named), *_texts(place, right, named)):
                yield Raised(place, one.text, is_pattern=False)
        case ast.Name(id=name):
            others = {other: given for other, given in named.items() if other != name}
            for part in named.get(name, ()):
                yield from _texts(place, part, others)
        case _:
            for part in _parts(said):
                yield from _texts(place, part, named)


def _parts(said: ast.expr) -> list[ast.expr]:
    """Return what an expression puts together, or chooses among."""
    match said:
        case ast.IfExp(body=one, orelse=other):
            return [one, other]
        case ast.BoolOp(values=parts) | ast.Tuple(elts=parts) | ast.List(elts=parts):
            return parts
        case ast.ListComp(elt=one) | ast.GeneratorExp(elt=one):
            return [one]
        case ast.Call(args=parts, keywords=others) if _name_of(said) in PUTS_TOGETHER:
            return [*parts, *(each.value for each in others)]
    return []


def _is_said(words: str) -> bool:
    """Return whether words are said to somebody, and not the code of a finding or a sign."""
    is_code = "-" in words and " " not in words and words.islower()
    return has_words(words) and not is_code and words.strip() not in NAMED
