"""Which tests wait for ``--thorough``, and why.

Everyday checks leave out what repeats on the second database, through the command line, the desk or
a whole story, what the tests beneath hold on both already; and what tries much at random, of which
the benches try more. ``python3 tests/everything.py --thorough`` leaves nothing out.
"""

from __future__ import annotations

import re

WAITING = {
    r"tests/app/.*\[postgresql": "commands; queries and the road of a change run on both databases",
    r"tests/web/.*\[postgresql": "the desk; queries and the road of a change run on both databases",
    r"tests/acceptance/(?!test_main_job_plant|test_rules_from_sheets).*\[postgresql": (
        "stories; the main job and the rules from sheets run on both databases"
    ),
    r"tests/operations/test_(work|plans|props|rounds_of_plans|variable_spring|turnarounds)\.py.*"
    r"\[postgresql": "the road of a change and copying run on both databases",
    r"tests/demo/test_closing\.py.*\[postgresql": "a story; see above",
    r"tests/operations/test_copying\.py.*\[postgresql": (
        "a copy of one comes back into the other every day"
    ),
    r"tests/queries/test_line_standings\.py::test_any_change.*\[postgresql": "one query, few rows",
    r"tests/properties/test_workflow_machine\.py::test_nor_does_it_on_postgresql": "random, long",
    r"tests/properties/test_workflow_machine\.py::test_no_pressure.*\[9\]": "four every day",
    r"tests/importers/test_mutated_files\.py": "random; python -m bench.fuzz_sheets",
    r"tests/web/test_machine_described\.py": "random; python -m bench.machine_interface",
    r"tests/migrations/.*test_a_register_of_any_revision.*-00(0[2-9]|1[0-2])\]": (
        "the first and the newest revisions are upgraded every day"
    ),
    r"tests/app/test_broken_off\.py::test_a_deed_killed_or": "random; python -m bench.faults",
    r"tests/app/test_odd_input\.py": "random; python -m bench.odd_input",
    r"tests/app/test_imports_stopped_by_hand\.py::test_the_interrupt.*-12\]": "a second moment",
    r"tests/app/test_two_writers\.py::test_who_was_told_repeats": "random, long",
    r"tests/web/test_accessible\.py::(test_every_screen|test_nothing_is_cut_off)": (
        "long; the screens of the seven people are looked at every day"
    ),
    r"tests/web/test_tablet_in_a_browser\.py::test_(signing_out|turns_are_told)": (
        "long; what the tablet keeps and sends is tried without a browser too"
    ),
}
"""Patterns of test names, each with the reason why it may wait."""

_WAITING = re.compile("|".join(f"(?:{pattern})" for pattern in WAITING))


def waits(name: str) -> bool:
    """Return whether a test waits for the thorough run."""
    return _WAITING.match(name) is not None
