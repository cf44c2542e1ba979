"""No unit that is taken goes without its check against pint (`supports.verification`)."""

from __future__ import annotations

from supports import units
from supports.verification.unit_factors import BY_PINT


def test_no_unit_is_left_out() -> None:
    taken = {(kind, symbol) for kind, table in units._ALLOWED.items() for symbol in table}
    assert {(kind, symbol) for kind, symbol, _ in BY_PINT} == taken
