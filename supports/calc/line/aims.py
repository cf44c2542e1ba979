"""What a re-set is to bring about."""

from __future__ import annotations

from enum import StrEnum


class Aim(StrEnum):
    """What the engineer wants of the re-set."""

    LEVEL = "pipe back to its level"
    NOZZLE_FREE = "nozzle free of force and moment"
    LEAST_NOZZLE_CHANGE = "least change to nozzle"
    KEEP = "keep present settings"
