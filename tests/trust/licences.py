"""What the program stands on, with the licence that each distribution states of itself.

Read off the metadata of what is installed; nothing is asked of any network. The closure starts at
the project's own dependencies; those of development are marked.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

HEAD = """# What the program stands on

Written from the metadata of the installed distributions; `python -m tests.trust.written` renews it,
and a test holds it against them without a network. None of the licences binds whoever passes the
program on; the Lesser General Public License of the PostgreSQL driver asks that the driver itself
can be exchanged, which holds for any installed package.

The versions are those of `constraints.txt`, with which everything was tested. Known weaknesses of a
version are found by asking a public list of them, which needs a network: do that when you renew the
versions. The fonts that papers are set in are shipped with their licences beside them, in
`reports/pdf/fonts`."""
ROOT = Path(__file__).resolve().parents[2]
NOT_TAKEN = re.compile(r"\bA?GPL|GNU (Affero )?General Public", re.IGNORECASE)
"""Licences that would bind whoever passes the program on; the Lesser one does not."""
_LESSER = re.compile(r"LGPL|Lesser General Public", re.IGNORECASE)
NOT_STATED = "not stated"
LONGEST = 60


@dataclass(frozen=True, slots=True)
class Used:
    """A distribution that is used, and whether the program itself needs it."""

    name: str
    version: str
    licence: str
    runs: bool


def wanted(group: str = "") -> list[Requirement]:
    """Return what the project asks for, to run or for a group of extras."""
    said = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    lines = said["optional-dependencies"].get(group, []) if group else said["dependencies"]
    return [Requirement(line) for line in lines]


def used() -> list[Used]:
    """Return every distribution that the project stands on, those to run first."""
    running = _closure(wanted())
    extras = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    groups = extras["optional-dependencies"]
    every = running | _closure([one for group in groups for one in wanted(group)])
    return [
        Used(name, found.version, licence_of(found), name in running)
        for name, found in sorted(every.items(), key=lambda pair: (pair[0] not in running, pair[0]))
    ]


def _closure(asked: list[Requirement]) -> dict[str, Distribution]:
    found: dict[str, Distribution] = {}
    waiting = list(asked)
    done: set[tuple[str, frozenset[str]]] = set()
    while waiting:
        one = waiting.pop()
        name = canonicalize_name(one.name)
        if (name, frozenset(one.extras)) in done or not _applies(one, set()):
            continue
        done.add((name, frozenset(one.extras)))
        try:
            found[name] = distribution(name)
        except PackageNotFoundError:
            continue  # an extra that is not installed here
        needs = (Requirement(line) for line in found[name].requires or ())
        waiting += [need for need in needs if _applies(need, one.extras)]
    return found


def _applies(one: Requirement, extras: set[str]) -> bool:
    if one.marker is None:
        return True
    return any(one.marker.evaluate({"extra": extra}) for extra in ("", *extras))


def licence_of(found: Distribution) -> str:
    """Return the licence as the distribution states it, in a few words."""
    return next((words for words in _stated(found) if words), NOT_STATED)


def _stated(found: Distribution) -> Iterator[str]:
    said = found.metadata
    yield said.get("License-Expression", "")
    kinds = [line.rpartition(" :: ")[2] for line in said.get_all("Classifier") or ()
             if line.startswith("License ::")]  # fmt: skip
    yield ", ".join(kind for kind in kinds if kind != "OSI Approved")
    first = (said.get("License") or "").strip().split("\n")[0]
    yield first if len(first) <= LONGEST else ""


def binding(licence: str) -> bool:
    """Return whether a licence would bind whoever passes the program on."""
    parts = re.split(r"\bOR\b", licence)
    return all(NOT_TAKEN.search(_LESSER.sub("", part)) for part in parts)


def licences_page() -> str:
    """Return the page as Markdown."""
    head = "| Distribution | Version | Licence it states |\n|---|---|---|"
    found = used()
    running = [_line(one) for one in found if one.runs]
    developing = [_line(one) for one in found if not one.runs]
    parts = (
        HEAD,
        f"## To run: {len(running)}",
        "\n".join((head, *running)),
        f"## To develop and to test: {len(developing)}",
        "\n".join((head, *developing)),
    )
    return "\n\n".join(parts) + "\n"


def _line(one: Used) -> str:
    return f"| {one.name} | {one.version} | {one.licence} |"
