"""The tree drawn in `supports.errors` is the tree that the classes make."""

from __future__ import annotations

import inspect
import re

from supports import errors
from supports.errors import SupportsError

BRANCH = re.compile(r"^(?P<bars>[ |]*)(\|--|`--) (?P<name>\w+)(\s+exit code (?P<code>\d+))?")


def drawn() -> dict[str, tuple[str, int]]:
    """Return each class of the drawing with the one it hangs from and its exit code."""
    found: dict[str, tuple[str, int]] = {}
    above: list[tuple[str, int]] = [("SupportsError", 1)]
    for line in inspect.cleandoc(errors.__doc__ or "").splitlines():
        branch = BRANCH.match(line.removeprefix("    "))
        if branch:
            depth = len(branch["bars"]) // 4
            parent, inherited = above[depth]
            here = (branch["name"], int(branch["code"] or inherited))
            found[branch["name"]] = (parent, here[1])
            above[depth + 1 :] = [here]
    return found


def made() -> dict[str, tuple[str, int]]:
    return {
        name: (kind.__bases__[0].__name__, kind.exit_code)
        for name, kind in inspect.getmembers(errors, inspect.isclass)
        if issubclass(kind, SupportsError) and kind is not SupportsError
    }


def test_the_drawing_is_the_tree():
    assert drawn() == made()


def test_the_root_is_drawn_with_its_exit_code():
    assert re.search(r"SupportsError\s+exit code 1\b", errors.__doc__ or "")
    assert SupportsError.exit_code == 1


def test_each_branch_has_an_exit_code_of_its_own():
    codes = [code for parent, code in made().values() if parent == "SupportsError"]
    assert len(set(codes)) == len(codes)
    assert 1 not in codes
