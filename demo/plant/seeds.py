"""One seed for the whole plant: every part draws from its own generator, so none moves another."""

from __future__ import annotations

import random

SEED = 20260314


def generator(*names: object) -> random.Random:
    """Return the generator that belongs to a name, the same in every run."""
    return random.Random(f"{SEED} {' '.join(map(str, names))}")
