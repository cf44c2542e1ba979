"""The hardware of every unit: what is not rated, which threads, how much take-up is left."""

from __future__ import annotations

from typing import Any

import numpy as np

from supports.rules.facts import Facts
from supports.rules.frame import (
    BoolColumn,
    FloatColumn,
    IntColumn,
    TextColumn,
    answers_of,
    texts,
)
from supports.rules.grouping import codes_of, count_by, least_by
from supports.rules.unit_loads import Carriers, Stacks
from supports.vocabulary import PieceKind

Columns = dict[str, Any]
"""Columns by name, numbers and words."""

THREADED = (
    PieceKind.ROD,
    PieceKind.NUT,
    PieceKind.TURNBUCKLE,
    PieceKind.COUPLING,
    PieceKind.CLEVIS,
)
TAKES_UP = (PieceKind.TURNBUCKLE, PieceKind.ROD)


def kinds_in(pieces: TextColumn, kinds: tuple[PieceKind, ...]) -> BoolColumn:
    """Return where a piece is of one of some kinds."""
    found = np.zeros(len(pieces), dtype=bool)
    for kind in kinds:
        found |= np.asarray(pieces == kind, dtype=bool)
    return found


def unrated_pieces(facts: Facts, stacks: Stacks) -> BoolColumn:
    """Return where a piece has no rating, or a mass below it is not known: it cannot be rated."""
    pieces = facts.pieces
    blind = np.isnan(pieces["mass"]).astype(float)
    order = stack_order(facts, stacks)
    below = np.empty(len(order))
    below[order] = masses_below(stacks.carrier[order], blind[order])
    missing: BoolColumn = np.isnan(pieces["rated_load"]) | (below > 0.0)
    return missing & (stacks.carrier >= 0)


def stack_order(facts: Facts, stacks: Stacks) -> IntColumn:
    """Return the pieces of each carrier together, from the steel down."""
    return np.lexsort((facts.pieces["position"], stacks.carrier))


def masses_below(carrier: IntColumn, masses: FloatColumn) -> FloatColumn:
    """Return for each piece the sum over the pieces below it; carriers stand together."""
    if len(carrier) == 0:
        return masses
    through = np.cumsum(masses)
    last = np.searchsorted(carrier, carrier, side="right") - 1
    below: FloatColumn = through[last] - through
    return below


def stack_columns(facts: Facts, carriers: Carriers, stacks: Stacks) -> Columns:
    """Return what the stack of every carrier says."""
    held = np.flatnonzero(stacks.carrier >= 0)
    carrier = stacks.carrier[held]
    unrated = np.flatnonzero(unrated_pieces(facts, stacks))
    count = count_by(carrier, carriers.size)
    return {
        "pieces": np.where(count > 0.0, count, np.nan),
        "pieces_unrated": count_by(stacks.carrier[unrated], carriers.size),
        "pieces_unrated_names": _names(facts, stacks, unrated, carriers.size),
        "take_up_left": _take_up_left(facts, carriers, stacks),
        "thread_in_sight": _thread_in_sight(facts, carriers, stacks),
        **_threads(facts, carriers, stacks),
    }


def _names(facts: Facts, stacks: Stacks, rows: IntColumn, size: int) -> TextColumn:
    pieces = facts.pieces
    found: dict[int, list[str]] = {}
    for row in rows.tolist():
        name = f"{pieces['kind'][row]} {pieces['size'][row]}".strip()
        found.setdefault(int(stacks.carrier[row]), []).append(f"rating or mass of {name}")
    names = texts([""] * size)
    for carrier, said in found.items():
        names[carrier] = "; ".join(said)
    return names


def _take_up_left(facts: Facts, carriers: Carriers, stacks: Stacks) -> FloatColumn:
    rows = kinds_in(facts.pieces["kind"], TAKES_UP) & (stacks.carrier >= 0)
    left = facts.pieces["adjustment_left"][rows]
    return least_by(stacks.carrier[rows], left, carriers.size)


def _thread_in_sight(facts: Facts, carriers: Carriers, stacks: Stacks) -> FloatColumn:
    """Return whether every thread looked at shows in its sight hole."""
    words = facts.pieces.get("thread_in_sight", texts([""] * len(stacks.carrier)))
    held = stacks.carrier >= 0
    return least_by(stacks.carrier[held], answers_of(words)[held], carriers.size)


def _threads(facts: Facts, carriers: Carriers, stacks: Stacks) -> Columns:
    pieces = facts.pieces
    rows = np.flatnonzero(kinds_in(pieces["kind"], THREADED) & (stacks.carrier >= 0))
    sizes, known = codes_of(pieces["size"][rows].tolist())
    carrier = stacks.carrier[rows]
    pairs = np.unique(carrier * max(len(known), 1) + sizes)
    owner = pairs // max(len(known), 1)
    different = count_by(owner, carriers.size)
    blank = count_by(carrier[pieces["size"][rows] == ""], carriers.size) > 0.0
    names = texts([""] * carriers.size)
    for carrier_row, pair in zip(owner.tolist(), pairs.tolist(), strict=True):
        if different[carrier_row] > 1.0:
            said = str(known[pair % len(known)]) or "not known"
            names[carrier_row] = f"{names[carrier_row]}, {said}".lstrip(", ")
    return {
        "threaded_pieces": count_by(carrier, carriers.size),
        "thread_sizes": np.where(blank, np.nan, different),
        "thread_names": names,
    }
