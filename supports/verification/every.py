"""Every published check there is, in the order of the manual."""

from __future__ import annotations

from functools import cache

from supports.verification import (
    beams,
    hanger_balance,
    materials,
    pipes,
    rods,
    springs,
    unit_factors,
    units_of_measure,
)
from supports.verification.check import Checked, PublishedCheck

SUBJECTS = (
    units_of_measure, unit_factors, pipes, materials, rods, springs, beams, hanger_balance,
)  # fmt: skip


@cache
def all_checks() -> tuple[PublishedCheck, ...]:
    """Return every check; what they are held against is read once, when somebody asks."""
    return tuple(check for subject in SUBJECTS for check in subject.checks())


def check_all() -> tuple[Checked, ...]:
    """Work out every value anew and hold it against the published one."""
    return tuple(check.run() for check in all_checks())
