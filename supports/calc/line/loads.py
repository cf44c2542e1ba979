"""Weight and heat of a line in its states, as loads on the unknowns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from supports.calc.line.frame import Frame, wrench
from supports.calc.line.parts import LumpedMass, RigidPart
from supports.calc.line.states import State
from supports.calc.line.straight import DOWN
from supports.calc.line.vectors import FloatArray
from supports.errors import BadInput
from supports.sentences import Sentence, joined
from supports.units import STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class Loads:
    """What acts on a line, one column or row a state.

    Parameters
    ----------
    on_unknowns
        Loads [N], [N·m], unknowns × states.
    weight, strain
        Weight per metre [N/m] and thermal strain [1] of each piece, states × pieces.
    body_strain
        Thermal strain [1] of each body, states × bodies; zero but for rigid parts.
    on_bodies
        Weight of lumped masses and rigid parts [N], [N·m], unknowns × states.
    total
        Whole weight [N] of each state.
    """

    on_unknowns: FloatArray
    on_bodies: FloatArray
    weight: FloatArray
    strain: FloatArray
    body_strain: FloatArray
    total: FloatArray


def loads_of(frame: Frame, states: Sequence[State]) -> Loads:
    """Return the loads of a line in its states.

    Raises
    ------
    BadInput
        A part does not say what it holds in a contents case.
    """
    dry, contents = frame.pieces.dry, [_contents(frame, state.contents) for state in states]
    weight = STANDARD_GRAVITY * (dry + np.array(contents))
    strain = np.array([_strains(frame, state) for state in states])
    body_strain = _body_strains(frame, states)
    each = weight[:, :, None] * frame.weight_load + strain[:, :, None] * frame.growth_load
    on_unknowns = _gathered(frame, each)
    if body_strain.any():
        on_unknowns -= _gathered(frame, _rigid_growth(frame, body_strain))
    fitted = point_masses(frame)
    masses = [(*fitted, *state.extra_masses) for state in states]
    on_bodies = np.array([_hung(frame, hanging) for hanging in masses]).T
    total = weight @ frame.pieces.length
    total += [STANDARD_GRAVITY * sum(lump.mass for lump in hanging) for hanging in masses]
    return Loads(on_unknowns + on_bodies, on_bodies, weight, strain, body_strain, total)


def point_masses(frame: Frame) -> tuple[LumpedMass, ...]:
    """Return lumped masses and those of rigid parts, the latter as seen from their starts."""
    return (*frame.line.masses, *(_as_lump(frame, part) for part in frame.rigid))


def _as_lump(frame: Frame, part: RigidPart) -> LumpedMass:
    half = (frame.xyz[frame.number[part.end]] - frame.xyz[frame.number[part.start]]) / 2.0
    x, y, z = half + np.array(part.offset)
    return LumpedMass(part.name, part.start, part.mass, (float(x), float(y), float(z)))


def _contents(frame: Frame, case: str) -> FloatArray:
    held = frame.pieces.contents.get(case)
    if held is not None and not np.isnan(held).any():
        return held
    silent = [part.name for part in frame.flexible if case not in part.masses.contents]
    raise BadInput(
        Sentence("the mass of the contents '{case}' is not known", case=case),
        where=Sentence("line {line}", line=frame.line.name),
        found=Sentence("no figure for part {names}", names=joined(silent, ", ")),
        expected="a mass per metre of every part for this case",
        remedy="Give the contents of the part, 0 if it is empty in this case",
    )


def _warmth(frame: Frame, state: State, name: str) -> float:
    base = frame.line.installed_at
    line = base if state.temperature is None else state.temperature
    return state.part_temperatures.get(name, line) - base


def _strains(frame: Frame, state: State) -> FloatArray:
    if state.temperature is None and not state.part_temperatures:
        return np.zeros(len(frame.pieces.length))
    if not state.part_temperatures:
        return frame.pieces.expansion * _warmth(frame, state, "")
    rise = np.array([_warmth(frame, state, part.name) for part in frame.flexible])
    out: FloatArray = frame.pieces.expansion * rise
    return out


def _body_strains(frame: Frame, states: Sequence[State]) -> FloatArray:
    """Thermal strain of each body: the mean over the rigid parts in it."""
    out = np.zeros((len(states), frame.bodies.count))
    if not frame.rigid:
        return out
    start = [frame.number[part.start] for part in frame.rigid]
    body = frame.bodies.of_node[start]
    count = np.bincount(body, minlength=frame.bodies.count)
    for row, state in enumerate(states):
        growth = [p.expansion * _warmth(frame, state, p.name) for p in frame.rigid]
        out[row] = np.bincount(body, growth, frame.bodies.count) / np.maximum(count, 1)
    return out


def end_growth(frame: Frame, body_strain: FloatArray) -> FloatArray:
    """Return how rigid bodies' growth moves each piece's end seen from its start, [m]."""
    growth = node_growth(frame, body_strain)
    return growth[:, frame.pieces.end] - growth[:, frame.pieces.start]


def node_growth(frame: Frame, body_strain: FloatArray) -> FloatArray:
    """Return how the growth of its own body moves each node, states × nodes × 3 [m]."""
    body = frame.bodies.of_node
    out: FloatArray = body_strain[:, body, None] * (frame.xyz - frame.bodies.origin[body])
    return out


def row_growth(frame: Frame, body_strain: FloatArray) -> FloatArray:
    """Return how bodies' growth moves the support components along themselves, [m]."""
    body = frame.row_unknowns[:, 0] // 6
    arm = frame.row_point - frame.bodies.origin[body]
    reach = np.einsum("mi,mi->m", frame.rows[:, :3], arm)
    out: FloatArray = body_strain[:, body] * reach
    return out


def _rigid_growth(frame: Frame, body_strain: FloatArray) -> FloatArray:
    moved = end_growth(frame, body_strain)
    pushed = np.swapaxes(frame.strain_at_end, 1, 2) @ frame.pieces.stiffness[:, :, :3]
    out: FloatArray = np.einsum("nab,snb->sna", pushed, moved)
    return out


def _gathered(frame: Frame, each: FloatArray) -> FloatArray:
    flat = frame.unknowns.ravel()
    out = np.empty((frame.size, len(each)), order="F")
    for column, one in enumerate(each):
        out[:, column] = np.bincount(flat, one.ravel(), minlength=frame.size)
    return out


def _hung(frame: Frame, masses: Sequence[LumpedMass]) -> FloatArray:
    out = np.zeros(frame.size)
    for lump in masses:
        node = frame.number[lump.node]
        body = int(frame.bodies.of_node[node])
        arm = frame.xyz[node] + np.array(lump.offset) - frame.bodies.origin[body]
        out[6 * body : 6 * body + 6] += wrench(STANDARD_GRAVITY * lump.mass * DOWN, arm)
    return out
