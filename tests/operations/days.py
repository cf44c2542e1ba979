"""The clock of these tests: it stands still unless it is moved on."""

from __future__ import annotations

from datetime import datetime, timedelta

START = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone


def day(number: int, hour: int = 8) -> datetime:
    """Return a moment, counted in days from the start."""
    return START + timedelta(days=number, hours=hour - 8)
