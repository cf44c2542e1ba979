"""Every published check there is, in the order of the manual."""

from __future__ import annotations

from supports.verification import beams, hanger_balance, materials, pipes, rods, springs
from supports.verification import units_of_measure as units
from supports.verification.check import Checked, PublishedCheck

CHECKS: tuple[PublishedCheck, ...] = tuple(
    check
    for subject in (units, pipes, materials, rods, springs, beams, hanger_balance)
    for check in subject.checks()
)


def check_all() -> tuple[Checked, ...]:
    """Work out every value anew and hold it against the published one."""
    return tuple(check.run() for check in CHECKS)
