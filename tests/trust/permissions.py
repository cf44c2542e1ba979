"""Who may do what, read off the code: the table of steps, the proofs, and every check of roles.

Every call of ``require_roles`` in `supports.operations` gives a row: its words, and the roles that
its second argument stands for, looked up in the module or in the function where it is set.
"""

from __future__ import annotations

import ast
import importlib
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import supports.operations
from supports.rules.acceptances import MAY_ACCEPT
from supports.rules.workflow.proofs import PROOFS
from supports.rules.workflow.steps import STEPS
from supports.vocabulary import Role
from tests.trust.route_table import routes_sections

Row = tuple[str, frozenset[Role]]

HEAD = """# Who may do what

This page is written from the code; `python -m tests.trust.written` renews it, and a test holds it
against the code. A deputy holds the role of the person named, from a day to a day. Whoever holds
none of the roles is refused, and the refusal is kept."""
TAIL = """A hold point of a work order is released by the roles that the order names there. What is
named nowhere on this page asks for a person who is known to the register.

## Another pair of eyes

Roles are not all. Preparing, checking and approving an assessment take three people; whoever wrote
a work order does not check it; who read or turned a unit neither accepts it nor closes its change;
whoever made a plan does not choose it; a second reader is another person. These hold whatever roles
somebody has.

Whoever can write to the database past the program needs no role at all. What then finds it is told
in [the threat model](threat-model.md).
"""


def checks() -> list[Row]:
    """Return every check of roles in the use cases: what for, and the roles that pass it."""
    folder = Path(supports.operations.__file__).parent
    found: dict[str, frozenset[Role]] = {}
    for path in sorted(folder.rglob("*.py")):
        parts = path.relative_to(folder).with_suffix("").parts
        name = ".".join((supports.operations.__name__, *parts))
        module = importlib.import_module(name.removesuffix(".__init__"))
        for words, roles in _checks_of(ast.parse(path.read_text("utf-8")), vars(module)):
            found[words] = found.get(words, frozenset()) | roles
    return sorted(found.items())


def _checks_of(tree: ast.AST, known: dict[str, Any]) -> Iterator[Row]:
    for function in ast.walk(tree):
        if not isinstance(function, ast.FunctionDef):
            continue
        here = _set_here(function, known)
        for call in ast.walk(function):
            if isinstance(call, ast.Call) and getattr(call.func, "id", "") == "require_roles":
                words = _words(call.args[0], known)
                yield words, _roles(call.args[1], {**known, **here})


def _set_here(function: ast.FunctionDef, known: dict[str, Any]) -> dict[str, Any]:
    """Return the sets of roles that a function gives a name."""
    found: dict[str, Any] = {}
    for line in ast.walk(function):
        if isinstance(line, ast.Assign) and isinstance(line.value, ast.Set):
            found |= {name.id: _roles(line.value, known) for name in line.targets
                      if isinstance(name, ast.Name)}  # fmt: skip
    return found


def _words(node: ast.expr, known: dict[str, Any]) -> str:
    if isinstance(node, ast.JoinedStr):
        parts = (str(p.value) if isinstance(p, ast.Constant) else "…" for p in node.values)
        return "".join(parts)
    if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Sentence":
        return re.sub(r"\{\w+\}", "…", _words(node.args[0], known))
    value: Any = eval(ast.unparse(node), dict(known))  # noqa: S307  our own source
    return str(value)


def _roles(node: ast.expr, known: dict[str, Any]) -> frozenset[Role]:
    """Return the roles an expression stands for; none where a record of the register says them."""
    try:
        value = eval(ast.unparse(node), dict(known))  # noqa: S307  our own source
        return frozenset(one for one in value if isinstance(one, Role))
    except (NameError, AttributeError, TypeError):
        return frozenset()


def permissions_page() -> str:
    """Return the page as Markdown."""
    steps = [(step.act, step.roles) for step in STEPS if step.roles]
    proofs = [(str(item.proof), frozenset(item.roles)) for item in PROOFS]
    accepted = [
        (f"a finding that says {one.name.lower()}", frozenset(roles))
        for one, roles in MAY_ACCEPT.items()
    ]
    parts = (
        HEAD,
        *_section("Steps of a change", "Act", steps),
        *_section("Proofs before a change is closed", "Proof", proofs),
        *_section("Findings of the rules accepted in writing", "Accepts", accepted),
        *_section("Other checks of roles", "Act", [one for one in checks() if one[1]]),
        *routes_sections(),
        TAIL,
    )
    return "\n\n".join(parts)


def _section(title: str, what: str, rows: list[Row]) -> tuple[str, str]:
    head = f"| {what} | {' | '.join(Role)} |\n|---|{':-:|' * len(Role)}"
    lines = [
        f"| {words} | {' | '.join('●' if role in roles else ' ' for role in Role)} |"
        for words, roles in rows
    ]
    return f"## {title}", "\n".join((head, *lines))
