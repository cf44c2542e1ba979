"""The flexible parts of a line as stacked arrays: one row a part, whatever its kind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from supports.calc.line.bends import (
    arc_centroid,
    arc_compliance,
    arc_sag,
    arcs_between,
    bend_flexibility,
)
from supports.calc.line.parts import (
    EMPTY,
    Bend,
    FlexiblePart,
    Masses,
    Pipe,
    Reducer,
    Section,
    Theory,
)
from supports.calc.line.straight import (
    Compliances,
    Straights,
    straight_sag,
    straight_stiffness,
)
from supports.calc.line.vectors import FloatArray, IntArray

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Pieces:
    """Flexible parts of one line, each held at its start and looked at from its end.

    Parameters
    ----------
    start, end
        Node numbers.
    reach
        From start to end [m].
    stiffness
        6 × 6 stiffness of the end [N/m], [N], [N·m/rad].
    sag
        Movement of the end under 1 N/m of its own weight [m per N/m], [rad per N/m].
    length, centroid
        Length along the axis [m], centre of gravity [m].
    expansion
        Mean coefficient of expansion [1/K].
    dry
        Mass of metal and cover [kg/m].
    contents
        Mass of contents [kg/m] by case; not a number where a part does not say.
    """

    start: IntArray
    end: IntArray
    reach: FloatArray
    stiffness: FloatArray
    sag: FloatArray
    length: FloatArray
    centroid: FloatArray
    expansion: FloatArray
    dry: FloatArray
    contents: Mapping[str, FloatArray]


def pieces_of(
    parts: Sequence[FlexiblePart], number: Mapping[str, int], xyz: FloatArray, theory: Theory
) -> Pieces:
    """Return the stacked arrays of the flexible parts of a line."""
    start = np.array([number[part.start] for part in parts], dtype=np.int64)
    end = np.array([number[part.end] for part in parts], dtype=np.int64)
    reach = xyz[end] - xyz[start]
    sections = [_mean_section(part) for part in parts]
    kinds, kind = _distinct(sections)
    per_metre = _compliances(kinds, kind, theory)
    bent = _bent(per_metre, parts)
    pipes = Straights.of(reach)
    dry, contents = _masses([part.masses for part in parts])
    out = Pieces(
        start,
        end,
        reach,
        straight_stiffness(pipes, bent),
        straight_sag(pipes, bent),
        pipes.length.copy(),
        xyz[start] + reach / 2.0,
        np.array([section.expansion for section in kinds])[kind],
        dry,
        contents,
    )
    which = [row for row, part in enumerate(parts) if isinstance(part, Bend)]
    if which:
        _put_bends(out, which, [p for p in parts if isinstance(p, Bend)], per_metre, xyz)
    return out


def _put_bends(
    out: Pieces, rows: list[int], bends: list[Bend], per_metre: Compliances, xyz: FloatArray
) -> None:
    """Write the arcs over the chords at their rows; `out` is still being built here."""
    corner = np.array([bend.corner for bend in bends])
    start, end = xyz[out.start[rows]], xyz[out.end[rows]]
    arcs = arcs_between(start, corner, end)
    factor = np.array([_factor(b, r) for b, r in zip(bends, arcs.radius, strict=True)])
    soft = Compliances(
        per_metre.stretch[rows],
        per_metre.shear[rows],
        per_metre.bend[rows] * factor,
        per_metre.twist[rows],
    )
    out.stiffness[rows] = np.linalg.inv(arc_compliance(arcs, soft))
    out.sag[rows] = arc_sag(arcs, soft)
    out.length[rows] = arcs.length
    out.centroid[rows] = arc_centroid(arcs, end)


def _distinct(objects: Sequence[_T]) -> tuple[list[_T], IntArray]:
    """Return the different objects and which of them each is: parts share most of theirs."""
    kinds = {id(one): one for one in objects}
    order = {key: place for place, key in enumerate(kinds)}
    return list(kinds.values()), np.array([order[id(one)] for one in objects], dtype=np.int64)


def _masses(masses: Sequence[Masses]) -> tuple[FloatArray, dict[str, FloatArray]]:
    """Return dry mass, and contents by case: zero when empty, not a number where not said."""
    kinds, kind = _distinct(masses)
    dry = np.array([one.metal + one.cover for one in kinds])[kind]
    cases = dict.fromkeys(case for one in kinds for case in one.contents)
    held = {case: np.array([one.contents.get(case, np.nan) for one in kinds]) for case in cases}
    filled = {case: per_kind[kind] for case, per_kind in held.items()}
    return dry, {EMPTY: np.zeros(len(kind)), **filled}


def _factor(bend: Bend, radius: float) -> float:
    if bend.flexibility is not None:
        return bend.flexibility
    return bend_flexibility(bend.wall, float(radius), bend.mean_radius)


def _mean_section(part: FlexiblePart) -> Section:
    if not isinstance(part, Reducer):
        return part.section
    large, small = part.large, part.small
    return Section(
        (large.area + small.area) / 2.0,
        (large.second_moment + small.second_moment) / 2.0,
        (large.modulus + small.modulus) / 2.0,
        (large.poisson + small.poisson) / 2.0,
        (large.expansion + small.expansion) / 2.0,
        (large.shear_share + small.shear_share) / 2.0,
    )


def _compliances(kinds: list[Section], kind: IntArray, theory: Theory) -> Compliances:
    figures = [(s.area, s.second_moment, s.modulus, s.shear_modulus, s.shear_share) for s in kinds]
    area, second, e, g, share = np.array(figures).reshape(-1, 5).T
    shear = 1.0 / (share * g * area) if theory is Theory.TIMOSHENKO else np.zeros(len(area))
    each = (1.0 / (e * area), shear, 1.0 / (e * second), 1.0 / (2.0 * g * second))
    return Compliances(*(one[kind] for one in each))


def _bent(per_metre: Compliances, parts: Sequence[FlexiblePart]) -> Compliances:
    """Return compliances of straight pieces; a chord of a bend 'as given' bends more easily."""
    factor = np.array([part.flexibility if isinstance(part, Pipe) else 1.0 for part in parts])
    return Compliances(per_metre.stretch, per_metre.shear, per_metre.bend * factor, per_metre.twist)
