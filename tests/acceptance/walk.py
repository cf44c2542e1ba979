"""The road of a change, typed person by person."""

from __future__ import annotations

from tests.acceptance.site import Site

CHANGE = "CH-1"
RECORD = (
    "--technical-basis 'as calculated' --safety-and-health 'stored energy' "
    "--operating-procedures none --time-period permanent --authorization 'responsible engineer'"
)
"""The five items that a change record holds."""


def assessed(site: Site, calculation: str = "C-1", revision: str = "B", line: str = "L-1") -> str:
    """Note a change on a line and assess it; return what the assessment prints."""
    noted = ("change", "new", "a valve", "--line", line, "--reason", "isolation")
    site.type(*noted, "--number", CHANGE, person="CO")
    site.say(f"change sift {CHANGE} --depth screening --stretch 'the whole line'", person="CO")
    site.say(f"change describe {CHANGE} {RECORD}", person="CO")
    words = ("--calculation", calculation, "--revision", revision, "--aim", "pipe at its level")
    return site.type("change", "assess", CHANGE, *words, person="S1")


def approved(site: Site) -> str:
    """Assess, check and approve a change; return what the assessment prints."""
    printed = assessed(site)
    _signed(site)
    return printed


def _signed(site: Site) -> None:
    site.say(f"change sign {CHANGE} check", person="S2")
    site.say(f"change sign {CHANGE} approve --reason 'as assessed'", person="RE")


def cleared(site: Site) -> str:
    """Check and approve an assessed change, write its work order; return the order's number."""
    _signed(site)
    order = site.say(f"work-order write {CHANGE}", person="PL").split()[0]
    site.say(f"work-order check {order}", person="S1")
    site.say(f"work-order give-out {order} --to crew", person="PL")
    return order


PROOFS = {
    "built as designed": "IN",
    "procedures in place": "OP",
    "people told and trained": "CO",
    "travel stops counted by operations": "OP",
    "travel stops counted by maintenance": "FO",
    "walk while shut down": "IN",
    "walk in operation": "IN",
    "drawings marked up": "CO",
    "calculation stamped as built": "S1",
    "spares updated": "CO",
}
"""What is proved before a change is closed, and by whom."""


def proved(site: Site, order: str) -> None:
    """Prove everything that stands between accepted units and a closed change."""
    for proof, person in PROOFS.items():
        site.type("change", "prove", CHANGE, proof, "--note", "seen", person=person)
    site.say(f"work-order copy {order} 1", person="PL")


def verdicts(printed: str) -> dict[str, str]:
    """Return the words of the verdict by unit, from what an assessment prints."""
    rows = [line for line in printed.splitlines() if " -> " in line and not line.startswith(" ")]
    return {row.split()[0]: row.split(" -> ")[1].strip().split("  ", 1)[1] for row in rows}
