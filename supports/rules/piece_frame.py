"""The frame of hardware pieces: what each carries, and what it may."""

from __future__ import annotations

import numpy as np

from supports.rules.facts import Facts
from supports.rules.frame import FloatColumn, Frame, IntColumn, Subject, TextColumn, texts
from supports.rules.grouping import at, count_by, largest_by, sum_by
from supports.rules.piece_rules import CLAMPS
from supports.rules.stack_columns import kinds_in, masses_below, stack_order
from supports.rules.unit_loads import Carriers, Stacks
from supports.units import STANDARD_GRAVITY


def piece_frame(facts: Facts, units: Frame, carriers: Carriers, stacks: Stacks) -> Frame:
    """Return the frame of pieces, in the order of the facts.

    Parameters
    ----------
    units
        The frame of units; a piece carries what its unit must carry.
    """
    pieces, point = facts.pieces, facts.pieces["point"]
    below = _weight_below(facts, stacks)
    largest, before = units["largest"], units["setting_operating"]
    owner = np.where(stacks.carrier < 0, 0, stacks.carrier)
    riser = (units["riser_pair"][owner] if units.size else np.zeros(len(owner))) == 1.0
    alone = _at_piece(facts, carriers, stacks, largest, below)
    rated, temperature = pieces["rated_load"], pieces["rating_temperature"]
    pipe = _pipe_temperature(facts)
    columns = {
        "piece": _named(pieces["kind"], pieces["size"]),
        "piece_kind": pieces["kind"],
        "piece_load": alone,
        "piece_load?": _why(units, owner, stacks),
        "unit_load": _owners(largest, stacks),
        "hanging_weight": _owners(stacks.hanging_known, stacks),
        "weight_below": below,
        "piece_load_before": _at_piece(facts, carriers, stacks, before, below),
        "piece_load_all": _at_piece(facts, carriers, stacks, 2.0 * largest, below),
        "riser_pair": (riser & (stacks.carrier >= 0)).astype(float),
        "rated_load": rated,
        "rating_at_pipe_temperature": np.where(temperature >= pipe, rated, np.nan),
        "derating": pieces["derating"],
        "scale_unit": _of_owner(units.text("scale_unit"), stacks),
        "line": _of_owner(units.text("line"), stacks),
        "criticality": facts.points["criticality"][point],
        "area": facts.points["area"][point],
        "tag": facts.points["tag"][point],
    }
    return Frame(Subject.PIECE, _keys(facts), _names(facts), columns, facts.today)


def _weight_below(facts: Facts, stacks: Stacks) -> FloatColumn:
    """Return the weight of the pieces below each [N]; not known where a mass is not."""
    order = stack_order(facts, stacks)
    masses = facts.pieces["mass"][order]
    blind = masses_below(stacks.carrier[order], np.isnan(masses).astype(float))
    sums = masses_below(stacks.carrier[order], np.nan_to_num(masses))
    below = np.empty(len(order))
    below[order] = np.where(blind > 0.0, np.nan, sums * STANDARD_GRAVITY)
    return below


def _at_piece(
    facts: Facts, carriers: Carriers, stacks: Stacks, loads: FloatColumn, below: FloatColumn
) -> FloatColumn:
    """Return the load at each piece [N]: that of its unit, or of both where it carries both."""
    pipe = loads - stacks.hanging_known
    beam = np.nan_to_num(facts.points["beam_mass"]) * STANDARD_GRAVITY
    both = sum_by(carriers.point, pipe, len(facts.points["id"])) - beam
    owner = np.where(stacks.carrier < 0, 0, stacks.carrier)
    own = pipe[owner] + below if len(pipe) else below
    return np.where(stacks.carrier >= 0, own, _held(facts, both))


def _owners(values: FloatColumn, stacks: Stacks) -> FloatColumn:
    """Return a unit's value by piece; not known for pieces that carry both units."""
    return at(values, stacks.carrier)


def _held(facts: Facts, both: FloatColumn) -> FloatColumn:
    """Return the load of pieces that carry both units [N].

    A clamp holds one line; where the trapeze carries several, the register does not say which.
    """
    point = facts.pieces["point"]
    lines = count_by(facts.attachments["point"], len(facts.points["id"]))[point]
    one_line = kinds_in(facts.pieces["kind"], CLAMPS) & (lines > 1.0)
    return np.where(one_line, np.nan, both[point])


def _pipe_temperature(facts: Facts) -> FloatColumn:
    attachments, points = facts.attachments, len(facts.points["id"])
    held = facts.lines.get("operating_temperature")
    if held is None:
        return np.full(len(facts.pieces["point"]), np.nan)
    hottest = largest_by(attachments["point"], held[attachments["line"]], points)
    return hottest[facts.pieces["point"]]


def _named(kinds: TextColumn, sizes: TextColumn) -> TextColumn:
    return texts(f"{k} {s}".strip() for k, s in zip(kinds, sizes, strict=True))


def _of_owner(words: TextColumn, stacks: Stacks) -> TextColumn:
    if len(words) == 0:
        return texts([""] * len(stacks.carrier))
    return np.where(stacks.carrier >= 0, words[stacks.carrier], "")


def _why(units: Frame, owner: IntColumn, stacks: Stacks) -> TextColumn:
    said = _of_owner(units.text("largest?"), stacks)
    known = units.known("largest")[owner] if units.size else np.zeros(len(owner), dtype=bool)
    clamped = (stacks.carrier < 0) & known
    blank = texts(np.where(clamped, "which of the lines the piece holds", "mass of a piece below"))
    return np.where((said == "") & known, blank, said)


def _keys(facts: Facts) -> IntColumn:
    keys: IntColumn = facts.pieces.get("id", np.arange(1, len(facts.pieces["point"]) + 1))
    return keys


def _names(facts: Facts) -> TextColumn:
    pieces = facts.pieces
    tags = facts.points["tag"][pieces["point"]]
    rows = zip(tags, pieces["branch"], pieces["position"].tolist(), strict=True)
    return texts(f"{tag} branch {branch} piece {place}" for tag, branch, place in rows)
