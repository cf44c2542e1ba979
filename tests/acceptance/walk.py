"""The road of a change, typed person by person."""

from __future__ import annotations

from tests.acceptance.site import Site

CHANGE = "CH-1"


def assessed(site: Site, calculation: str = "C-1", revision: str = "B", line: str = "L-1") -> str:
    """Note a change on a line and assess it; return what the assessment prints."""
    noted = ("change", "new", "a valve", "--line", line, "--reason", "isolation")
    site.type(*noted, "--number", CHANGE, person="CO")
    words = ("--calculation", calculation, "--revision", revision, "--aim", "pipe at its level")
    return site.type("change", "assess", CHANGE, *words, person="S1")


def cleared(site: Site) -> str:
    """Check and approve an assessed change, write its work order; return the order's number."""
    site.say(f"change sign {CHANGE} check", person="S2")
    site.say(f"change sign {CHANGE} approve --reason 'as assessed'", person="RE")
    return site.say(f"work-order write {CHANGE}", person="PL").split()[0]


def verdicts(printed: str) -> dict[str, str]:
    """Return the words of the verdict by unit, from what an assessment prints."""
    rows = [line for line in printed.splitlines() if " -> " in line and not line.startswith(" ")]
    return {row.split()[0]: row.split(" -> ")[1].strip().split("  ", 1)[1] for row in rows}
