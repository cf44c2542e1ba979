"""What the screening calculation found in one state of a line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from supports.calc.line.contact import Settled
from supports.calc.line.frame import Frame
from supports.calc.line.parts import Theory
from supports.calc.line.restraints import Six
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


@dataclass(frozen=True, slots=True)
class LineResult:
    """One state of a line, by the screening calculation.

    Parameters
    ----------
    supports
        Every support but anchors and nozzles.
    nozzles
        Force [N] and moment [N·m] that each anchor or nozzle gives to the pipe: Fx to Mz. What the
        pipe does to the equipment is the opposite.
    node_movements
        Movement [m] and rotation [rad] of each node, nodes × 6.
    end_forces
        Force [N] and moment [N·m] on the end of each flexible part, parts × 6.
    weight
        Weight of the line [N].
    closure
        (sum of vertical support and nozzle forces − weight) / weight [1]; None without weight.
    equilibrium
        Largest unbalanced force or moment anywhere, as a share of the largest one acting [1].
    """

    frame: Frame
    state: State
    theory: Theory
    supports: Mapping[str, SupportResult]
    nozzles: Mapping[str, Six]
    node_movements: FloatArray
    end_forces: FloatArray
    weight: float
    closure: float | None
    equilibrium: float
    settled: Settled

    def pointer(self, name: str, reference: LineResult) -> float:
        """Return how far the pointer of a spring moved since `reference`, up positive, [m]."""
        return self.supports[name].movement - reference.supports[name].movement

    def movement(self, node: str) -> Six:
        """Return movement [m] and rotation [rad] of a node."""
        x, y, z, rx, ry, rz = map(float, self.node_movements[self.frame.number[node]])
        return (x, y, z, rx, ry, rz)
