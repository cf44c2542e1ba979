"""A line turned into arrays, once: transfers, unit loads, support rows, places in the band."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from supports.calc.line.bodies import Bodies, bodies_of
from supports.calc.line.line import Line
from supports.calc.line.parts import FlexiblePart, RigidPart
from supports.calc.line.pieces import Pieces, pieces_of
from supports.calc.line.restraints import Component, components_of
from supports.calc.line.straight import DOWN
from supports.calc.line.vectors import FloatArray, IntArray, crossed, transfers


@dataclass(frozen=True, slots=True)
class Frame:
    """A line as arrays; unknown number 6 b + i is component i of body b.

    Parameters
    ----------
    number
        Node name to node number.
    xyz
        Node coordinates [m].
    strain_at_end
        Each piece: movement of its end seen from its start, per unknown of both bodies, 6 × 12.
    unknowns
        Each piece: its twelve unknowns.
    weight_load, growth_load
        Each piece: load on its unknowns from 1 N/m of weight and from a thermal strain of 1.
    start_weight
        Each piece: force and moment of 1 N/m of weight about its start's body.
    rows, row_unknowns, row_point
        Each support component: movement along it per unknown of its body, and where it acts [m].
    laws
        Each support component: preload, rate, compliance, low and high as fitted.
    """

    line: Line
    flexible: tuple[FlexiblePart, ...]
    rigid: tuple[RigidPart, ...]
    number: dict[str, int]
    xyz: FloatArray
    bodies: Bodies
    pieces: Pieces
    components: tuple[Component, ...]
    strain_at_end: FloatArray
    unknowns: IntArray
    weight_load: FloatArray
    growth_load: FloatArray
    start_weight: FloatArray
    rows: FloatArray
    row_unknowns: IntArray
    row_point: FloatArray
    laws: FloatArray

    @property
    def size(self) -> int:
        """Number of unknowns."""
        return 6 * self.bodies.count


def frame_of(line: Line) -> Frame:
    """Turn a line without faults into arrays."""
    number = {node.name: place for place, node in enumerate(line.nodes)}
    xyz = np.array([(node.x, node.y, node.z) for node in line.nodes])
    flexible, rigid = line.flexible, line.rigid
    pieces = pieces_of(flexible, number, xyz, line.theory)
    pairs = [(number[part.start], number[part.end]) for part in rigid]
    bodies = bodies_of(xyz, pairs, (pieces.start, pieces.end))
    components = tuple(c for support in line.supports for c in components_of(support))
    strain, unknowns = _strains(pieces, bodies, xyz)
    pushed = np.swapaxes(strain, 1, 2) @ pieces.stiffness
    start_weight = _start_weight(pieces, bodies)
    rows, row_unknowns, points = _support_rows(components, number, xyz, bodies)
    return Frame(
        line,
        flexible,
        rigid,
        number,
        xyz,
        bodies,
        pieces,
        components,
        strain,
        unknowns,
        _weight_load(pieces, pushed, start_weight),
        np.einsum("nab,nb->na", pushed[:, :, :3], pieces.reach),
        start_weight,
        rows,
        row_unknowns,
        points,
        law_figures(components),
    )


def law_figures(components: Sequence[Component]) -> FloatArray:
    """Return preload, rate, compliance, low, high of each component, 5 × components."""
    figures = [(c.preload, c.rate, c.compliance, c.low, c.high) for c in components]
    return np.array(figures, dtype=np.float64).reshape(-1, 5).T


def wrench(force: FloatArray, arm: FloatArray) -> FloatArray:
    """Return force and moment about a body's origin of forces [N] at `arm` [m] from it."""
    return np.concatenate([force, crossed(arm, force)], axis=-1)


def _strains(pieces: Pieces, bodies: Bodies, xyz: FloatArray) -> tuple[FloatArray, IntArray]:
    start, end = bodies.of_node[pieces.start], bodies.of_node[pieces.end]
    point = xyz[pieces.end]
    strain = np.empty((len(start), 6, 12))
    strain[:, :, :6] = -transfers(point - bodies.origin[start])
    strain[:, :, 6:] = transfers(point - bodies.origin[end])
    six = np.arange(6)
    unknowns = np.concatenate([6 * start[:, None] + six, 6 * end[:, None] + six], axis=1)
    return strain, unknowns


def _start_weight(pieces: Pieces, bodies: Bodies) -> FloatArray:
    arm = pieces.centroid - bodies.origin[bodies.of_node[pieces.start]]
    return wrench(pieces.length[:, None] * DOWN, arm)


def _weight_load(pieces: Pieces, pushed: FloatArray, start_weight: FloatArray) -> FloatArray:
    out: FloatArray = np.einsum("nab,nb->na", pushed, pieces.sag)
    out[:, :6] += start_weight
    return out


def _support_rows(
    components: tuple[Component, ...], number: dict[str, int], xyz: FloatArray, bodies: Bodies
) -> tuple[FloatArray, IntArray, FloatArray]:
    node = np.array([number[c.node] for c in components], dtype=np.int64)
    direction = np.array([c.direction for c in components]).reshape(-1, 3)
    point = xyz[node] + np.array([c.offset for c in components]).reshape(-1, 3)
    body = bodies.of_node[node]
    rows = wrench(direction, point - bodies.origin[body])
    turning = np.array([c.turning for c in components], dtype=bool)
    rows[turning, :3], rows[turning, 3:] = 0.0, direction[turning]
    return rows, 6 * body[:, None] + np.arange(6), point
