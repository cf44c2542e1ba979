"""Which kind of support suits a place: by how far the pipe moves there, and whether it rises."""

from __future__ import annotations

import random

from demo.plant.services import Service
from supports.vocabulary import SupportKind

CARRIERS = frozenset(
    {
        SupportKind.CONSTANT_HANGER, SupportKind.CONSTANT_REST, SupportKind.VARIABLE_HANGER,
        SupportKind.VARIABLE_REST, SupportKind.RIGID_ROD, SupportKind.REST, SupportKind.ROLLER,
        SupportKind.ANCHOR, SupportKind.DUMMY_LEG,
    }
)  # fmt: skip
"""Kinds that carry weight where the pipe runs level."""

MUCH, SOME = 0.022, 0.0095
"""Movements up or down [m] from which a constant and from which a variable support hangs there."""

_RIGID = (
    SupportKind.REST, SupportKind.RIGID_ROD, SupportKind.GUIDE, SupportKind.LINE_STOP,
    SupportKind.ROLLER, SupportKind.DUMMY_LEG, SupportKind.ANCHOR,
)  # fmt: skip
_RIGID_SHARES = (48, 28, 8, 3, 8, 4, 1)


def chosen_kind(service: Service, up: float, rng: random.Random, *, vertical: bool) -> SupportKind:
    """Return a kind for a place with a movement up [m]."""
    roll = rng.random()
    if vertical and roll < 0.55:
        return SupportKind.GUIDE
    if service.code == "MS" and roll > 0.94:
        return SupportKind.SHOCK_ARRESTOR
    if abs(up) >= MUCH:
        return SupportKind.CONSTANT_REST if 0.6 < roll < 0.65 else SupportKind.CONSTANT_HANGER
    if abs(up) >= SOME:
        return SupportKind.VARIABLE_REST if 0.6 < roll < 0.7 else SupportKind.VARIABLE_HANGER
    rigid = rng.choices(_RIGID, _RIGID_SHARES)[0]
    return SupportKind.GUIDE if vertical else rigid
