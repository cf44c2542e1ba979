"""Which tests wait for ``--thorough``, and why.

Everyday checks leave out what repeats on the second database, through the command line, the desk or
a whole story, what the tests beneath hold on both already; and what tries much at random, of which
the benches try more. ``python3 tests/everything.py --thorough`` leaves nothing out.
"""

from __future__ import annotations

import re

WAITING = {
    r"tests/app/.*\[postgresql": "commands; operations and queries run on both databases",
    r"tests/web/.*\[postgresql": "the desk; operations and queries run on both databases",
    r"tests/acceptance/(?!test_main_job_plant|test_rules_from_sheets).*\[postgresql": (
        "stories; the main job and the rules from sheets run on both databases"
    ),
    r"tests/properties/test_workflow_machine\.py::test_nor_does_it_on_postgresql": "random, long",
    r"tests/migrations/.*test_a_register_of_any_revision.*-00(0[2-9]|1[0-2])\]": (
        "the first and the newest revisions are upgraded every day"
    ),
    r"tests/app/test_broken_off\.py::test_a_deed_killed_or": "random; python -m bench.faults",
    r"tests/app/test_odd_input\.py": "random; python -m bench.odd_input",
    r"tests/app/test_imports_stopped_by_hand\.py::test_the_interrupt.*-12\]": "a second moment",
    r"tests/app/test_two_writers\.py::test_who_was_told_repeats": "random, long",
    r"tests/web/test_accessible\.py::test_every_screen.*\[(dark|tablet)\]": "a second look",
}
"""Patterns of test names, each with the reason why it may wait."""

_WAITING = re.compile("|".join(f"(?:{pattern})" for pattern in WAITING))


def waits(name: str) -> bool:
    """Return whether a test waits for the thorough run."""
    return _WAITING.match(name) is not None
