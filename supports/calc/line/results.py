"""What the screening calculation found: all states of a line, and the view of one of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

import numpy as np

from supports.calc.line.band import Factored, backward
from supports.calc.line.contact import FREE, LOW, TOGETHER, Settled
from supports.calc.line.frame import Frame
from supports.calc.line.loads import Loads
from supports.calc.line.parts import Theory
from supports.calc.line.recovery import end_forces, node_movements, unbalance
from supports.calc.line.restraints import (
    Anchor,
    Component,
    Constant,
    Guide,
    Rod,
    Six,
    Support,
    is_one_way,
    is_spring,
)
from supports.calc.line.states import State
from supports.calc.line.vectors import FloatArray

METHOD = "screening calculation"
"""What every paper must call these figures."""


class Standing(StrEnum):
    """What a support does in a state."""

    CARRIES = "carries"
    LIFTED = "lifted off"
    SLACK = "slack"
    LOCKED = "on its travel stop, engaged"
    BOTTOM = "on its bottom stop"
    TOP = "on its top stop"
    HOLDS = "holds"
    FREE = "free in its gap"


@dataclass(frozen=True, slots=True)
class SupportResult:
    """One support in one state.

    Parameters
    ----------
    load
        Force on the pipe along the support's direction [N]; up is positive.
    low, high
        Load [N] with the friction band of a constant; None where the band is not known.
    movement
        Movement of the pipe along the support's direction [m]; the pointer of a spring.
    """

    name: str
    load: float
    low: float | None
    high: float | None
    movement: float
    standing: Standing


@dataclass(frozen=True)  # no slots: what is asked of it is worked out once and kept
class Solved:
    """All states of a line, solved.

    Parameters
    ----------
    growth
        How bodies' own growth moves each component [m], states × components.
    half
        L⁻¹ loads, see `supports.calc.line.band`, unknowns × states.
    """

    system: Factored
    states: Sequence[State]
    loads: Loads
    settled: Settled
    growth: FloatArray
    half: FloatArray

    @property
    def frame(self) -> Frame:
        """The line as arrays."""
        return self.system.frame

    @cached_property
    def unknowns(self) -> FloatArray:
        """Movement [m] and rotation [rad] of the bodies, states × unknowns."""
        system = self.system
        half = self.half + system.half @ self.settled.trial.pull.T
        return backward(system.band, half).T

    @cached_property
    def node_movements(self) -> FloatArray:
        """Movement [m] and rotation [rad], states × nodes × 6."""
        return node_movements(self.frame, self.loads, self.unknowns)

    @cached_property
    def end_forces(self) -> FloatArray:
        """Force [N] and moment [N·m] on the end of each flexible part, states × parts × 6."""
        return end_forces(self.frame, self.loads, self.unknowns)

    @cached_property
    def unbalance(self) -> FloatArray:
        """Largest unbalanced force or moment of each state, as a share of the largest acting."""
        return unbalance(self.frame, self.loads, self.end_forces, self.settled)


@dataclass(frozen=True)  # no slots: what is asked of it is worked out once and kept
class LineResult:
    """One state of a line, by the screening calculation; `row` is its place in `solved`."""

    solved: Solved
    row: int

    @property
    def frame(self) -> Frame:
        """The line as arrays."""
        return self.solved.frame

    @property
    def state(self) -> State:
        """The state."""
        return self.solved.states[self.row]

    @property
    def theory(self) -> Theory:
        """Beam theory used."""
        return self.frame.line.theory

    @property
    def node_movements(self) -> FloatArray:
        """Movement [m] and rotation [rad] of each node, nodes × 6."""
        out: FloatArray = self.solved.node_movements[self.row]
        return out

    @property
    def end_forces(self) -> FloatArray:
        """Force [N] and moment [N·m] on the end of each flexible part, parts × 6."""
        out: FloatArray = self.solved.end_forces[self.row]
        return out

    @property
    def weight(self) -> float:
        """Weight of the line [N]."""
        return float(self.solved.loads.total[self.row])

    @property
    def closure(self) -> float | None:
        """(Vertical support and nozzle forces − weight) / weight [1]; None without weight."""
        force = self.solved.settled.trial.force[self.row]
        upward = float(force @ self.frame.rows[:, 2])
        return (upward - self.weight) / self.weight if self.weight else None

    @property
    def equilibrium(self) -> float:
        """Largest unbalanced force or moment, as a share of the largest one acting [1]."""
        return float(self.solved.unbalance[self.row])

    @property
    def complementarity(self) -> float:
        """Largest breach of the one-way conditions [1]: the proof that who touches is settled."""
        return float(self.solved.settled.residual[self.row])

    @property
    def settled_singly(self) -> bool:
        """Whether the one-way supports needed the slower way of single changes."""
        return bool(self.solved.settled.rounds[self.row] > TOGETHER)

    @cached_property
    def nozzles(self) -> Mapping[str, Six]:
        """Force [N] and moment [N·m] that each anchor or nozzle gives to the pipe: Fx to Mz.

        What the pipe does to the equipment is the opposite.
        """
        out = {anchor.name: np.zeros(6) for anchor in self.frame.line.anchors}
        force = self.solved.settled.trial.force[self.row]
        for component, value in zip(self.frame.components, force, strict=True):
            if component.support in out:
                out[component.support][component.axis] = value
        return {name: _six(values) for name, values in out.items()}

    @cached_property
    def supports(self) -> Mapping[str, SupportResult]:
        """Every support but anchors and nozzles, in the order of the line."""
        line = self.frame.line
        by_name = {s.name: s for s in line.supports if not isinstance(s, Anchor)}
        return {
            component.support: self._support(by_name[component.support], component, place)
            for place, component in enumerate(self.frame.components)
            if component.support in by_name
        }

    def pointer(self, name: str, reference: LineResult) -> float:
        """Return how far the pointer of a spring moved since `reference`, up positive, [m]."""
        return self.supports[name].movement - reference.supports[name].movement

    def movement(self, node: str) -> Six:
        """Return movement [m] and rotation [rad] of a node."""
        return _six(self.node_movements[self.frame.number[node]])

    def _support(self, support: Support, component: Component, place: int) -> SupportResult:
        settled, row = self.solved.settled, self.row
        load = float(settled.trial.force[row, place])
        locked = support.name in self.state.locked
        low, high = _band(support, load, self.state)
        return SupportResult(
            component.support,
            load,
            low,
            high,
            float(settled.trial.movement[row, place] + self.solved.growth[row, place]),
            _standing(support, int(settled.status[row, place]), locked=locked),
        )


def _six(values: FloatArray) -> Six:
    a, b, c, d, e, f = map(float, values)
    return (a, b, c, d, e, f)


def _band(support: Support, load: float, state: State) -> tuple[float | None, float | None]:
    """Return the load with the friction band of a constant that is free of its stop."""
    if not isinstance(support, Constant) or support.name in state.locked:
        return load, load
    if support.friction is None:
        return None, None
    half = support.friction * abs(state.settings.get(support.name, support.setting))
    return load - half, load + half


def _standing(support: Support, status: int, *, locked: bool) -> Standing:
    if locked:
        return Standing.LOCKED
    if is_spring(support):
        return {FREE: Standing.CARRIES, LOW: Standing.BOTTOM}.get(status, Standing.TOP)
    if is_one_way(support):
        loose = Standing.SLACK if isinstance(support, Rod) else Standing.LIFTED
        return loose if status == FREE else Standing.CARRIES
    gapped = isinstance(support, Guide) and status == FREE
    return Standing.FREE if gapped else Standing.HOLDS
