"""Every public formula says its units, what it returns and where it is from."""

from __future__ import annotations

import ast
import inspect
import re
from functools import cache

import pytest

from tests.shape.sources import Function, python_files

QUANTITY = re.compile(r"\b(float|FloatOrArray|Vector)\b")
UNIT = re.compile(r"\[[^\]]+\]")
SECTIONS = re.compile(r"^(?P<name>[A-Z][a-z]+)\n-{3,}\n", re.MULTILINE)


@cache
def public_functions() -> dict[str, Function]:
    return {
        f"{source.path}:{node.name}": node
        for source in python_files("supports/calc")
        for node in source.tree.body
        if isinstance(node, Function) and not node.name.startswith("_") and not overload(node)
    }


def overload(function: Function) -> bool:
    return any(ast.unparse(mark).endswith("overload") for mark in function.decorator_list)


def formulas() -> dict[str, Function]:
    """Return the public functions that are handed a number."""
    return {name: node for name, node in public_functions().items() if quantities(node)}


def quantities(function: Function) -> list[str]:
    given = [*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs]
    return [one.arg for one in given if one.annotation and is_quantity(one.annotation)]


def is_quantity(annotation: ast.expr) -> bool:
    return bool(QUANTITY.search(ast.unparse(annotation)))


def section(function: Function, name: str) -> str:
    """Return the text of one section of a docstring, empty if it has none."""
    text = ast.get_docstring(function) or ""
    heads = list(SECTIONS.finditer(text))
    ends = [*[head.start() for head in heads[1:]], len(text)][: len(heads)]
    found = {h["name"]: text[h.end() : end] for h, end in zip(heads, ends, strict=True)}
    return found.get(name, "")


def parameters(function: Function) -> dict[str, str]:
    """Return what is said of each parameter; two on one line share what is said."""
    said: dict[str, str] = {}
    names: list[str] = []
    for line in section(function, "Parameters").splitlines():
        if line and not line.startswith(" "):
            names = [name.strip(" *") for name in line.split(":")[0].split(",")]
            said |= dict.fromkeys(names, "")
        else:
            said |= {name: f"{said[name]} {line.strip()}" for name in names}
    return said


FORMULAS = formulas()


def test_there_are_formulas_to_look_at():
    assert len(FORMULAS) > 50


@pytest.mark.parametrize("name", sorted(public_functions()))
def test_a_public_function_says_what_it_does(name):
    assert len(inspect.cleandoc(ast.get_docstring(public_functions()[name]) or "")) > 20


@pytest.mark.parametrize("name", sorted(FORMULAS))
def test_a_formula_names_the_unit_of_every_number(name):
    said = parameters(FORMULAS[name])
    silent = [one for one in quantities(FORMULAS[name]) if not UNIT.search(said.get(one, ""))]
    assert silent == []


@pytest.mark.parametrize("name", sorted(FORMULAS))
def test_a_formula_names_the_unit_of_what_it_returns(name):
    returns = FORMULAS[name].returns
    assert returns is not None
    if is_quantity(returns):
        assert UNIT.search(section(FORMULAS[name], "Returns"))


@pytest.mark.parametrize("name", sorted(FORMULAS))
def test_a_formula_names_its_source(name):
    assert "Source:" in (ast.get_docstring(FORMULAS[name]) or "")


def test_a_missing_unit_would_be_seen():
    text = """
def f(load: float, n: int, arm: float) -> float:
    '''Return the moment.

    Parameters
    ----------
    load
        Load [N].
    arm
        Arm, no unit.

    Returns
    -------
    float
        M [N·m].
    '''
"""
    function = ast.parse(text).body[0]
    assert isinstance(function, ast.FunctionDef)
    assert quantities(function) == ["load", "arm"]
    said = parameters(function)
    assert UNIT.search(said["load"])
    assert not UNIT.search(said["arm"])
    assert UNIT.search(section(function, "Returns"))
